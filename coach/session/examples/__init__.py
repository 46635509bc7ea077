"""Solved questions before new ones: which is shown, and what is kept of it."""
