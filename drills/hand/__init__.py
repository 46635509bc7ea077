"""Learning one hand from small painted patches, and which patch to paint next."""
