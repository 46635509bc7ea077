"""Specifications: pencils."""
