"""The wheel of hue families: a learner's, and a class's."""

from coach.screens.wheel.learner import WheelScreen

__all__ = ["WheelScreen"]
