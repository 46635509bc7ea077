"""Sheets to fill by hand: printed, kept in mind, and read back from photos."""
