"""What goes to a teacher and what comes from one: no screen, no terminal."""
