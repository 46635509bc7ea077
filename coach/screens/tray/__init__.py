"""Changing the pencils: one pencil's details, and which set is in use."""
