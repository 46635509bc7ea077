"""Specifications: commands."""
