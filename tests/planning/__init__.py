"""Specifications: planning."""
