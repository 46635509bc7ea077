"""Sheets to fill by hand: their layout, their print, and reading them back."""
