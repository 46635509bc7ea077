"""Sheets filled by hand: where their boxes lie, and reading them back from a photo or a scan."""
