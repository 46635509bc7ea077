"""The screens of a session: today, the question, the end."""
