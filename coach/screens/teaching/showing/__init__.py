"""A deck shown to a class: its questions over the whole screen, and hands counted."""
