"""Command lines at random, over every command, and what each may never do."""
