"""Specifications: skill."""
