"""What a screen makes of the levels it is sent, and which levels make a colour on it."""
