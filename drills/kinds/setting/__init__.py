"""Drills in which a colour is set, not chosen: the answer is a full measurement."""
