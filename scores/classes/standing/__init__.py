"""Where the students of a class stand, and how sure that is. Needs numpy: import where used."""
