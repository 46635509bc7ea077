"""Pages, tables and JSON made of the record, for the screen, a file or a pipe."""
