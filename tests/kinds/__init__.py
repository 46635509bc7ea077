"""Specifications: kinds."""
