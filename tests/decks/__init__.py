"""Specifications: decks."""
