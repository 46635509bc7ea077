"""Work that a deck assigns: its questions, where it stands, its lessons."""
