"""A deck's TOML as a teacher wrote it: on which line a value stands, and slips in words."""
