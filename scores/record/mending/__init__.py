"""Making a record whole again: from its journal, and from what of it can be read."""
