"""The one design of all screens: ``sheet.tcss`` lays them out, ``measures`` has its numbers."""
