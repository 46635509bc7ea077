"""What a class's tables say of its answers, counted when these change."""
