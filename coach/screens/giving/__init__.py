"""A colour that comes in from outside: typed, said, or matched by eye."""
