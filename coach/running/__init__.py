"""Keeping the app running: how it begins and ends, input where it was meant, faults of ours."""
