"""The append-only journal: its lines, its file, and holding the file."""
