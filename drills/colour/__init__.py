"""Colour: measured, compared, named on the wheel, and read in an artist's words."""
