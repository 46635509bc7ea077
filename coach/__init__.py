"""The coach at the table: the app, the commands and the session."""
