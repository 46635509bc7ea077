"""Every screen and state of the app, at several sizes, on one sheet to look through.

``python -m tests.contact_sheet OUT`` writes an SVG of each and OUT/index.html, which shows
them side by side. ``walk`` goes to them; the laws over all screens go by it too.
"""
