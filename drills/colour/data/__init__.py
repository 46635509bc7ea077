"""Published colour tables as shipped, how they are read, and how they are made."""
