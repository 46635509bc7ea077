"""Pictures from files: what is read of them, and what is refused."""
