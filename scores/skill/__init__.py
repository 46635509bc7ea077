"""What is known of one skill: its threshold, its memory, and the step to ask next."""
