"""Specifications: app."""
