"""Specifications: teaching."""
