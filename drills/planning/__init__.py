"""Plans: which pencils to lay, in what order and how hard, to come to a colour.

``planner`` is the door: ``plan``, ``quick_plan`` and ``evaluate``.
"""
