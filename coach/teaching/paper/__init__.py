"""A deck on paper: numbered sheets, their answers, and what was written on them typed in."""
