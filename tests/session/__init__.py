"""Specifications: session."""
