"""Specifications: record."""
