"""Widgets that draw: photos and copies of them, curves, the wheel, pairs then and now."""
