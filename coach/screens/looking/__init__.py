"""What the room for photos opens: the colours kept."""
