"""Specifications: colour."""
