"""Colours out of a picture: opening it, reading spots, its main colours, the light taken off."""
