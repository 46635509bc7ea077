"""A session of practice: its questions, the answers kept, and its end."""
