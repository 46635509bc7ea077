"""Specifications: progress."""
