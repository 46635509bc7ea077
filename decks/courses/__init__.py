"""Courses: decks in an order, what each needs first, and the levels they may be given at."""
