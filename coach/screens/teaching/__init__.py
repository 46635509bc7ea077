"""Screens between a student and a teacher."""
