"""``python -m coach`` is the ``coach`` command."""

from coach.cli import main

main()
