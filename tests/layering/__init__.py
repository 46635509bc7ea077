"""Specifications: layering."""
