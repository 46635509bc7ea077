"""What a deck says before its questions: words, and small pictures."""
