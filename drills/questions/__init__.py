"""What every kind of drill is, and what several kinds share."""
