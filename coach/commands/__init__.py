"""One module a command; the module ``name`` holds a click command named ``command``."""
