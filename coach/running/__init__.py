"""Keeping the app running: how it begins and ends, input where it was meant, faults of ours."""

NOT_TEXT = "\ufffd"
"""What the decoder gives for bytes that are no UTF-8."""
HUNG_UP = 129
"""The exit status of a program whose terminal was closed: 128 + SIGHUP."""
