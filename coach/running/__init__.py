"""Keeping the app running: input where it was meant, bytes that are no text, faults of ours."""
