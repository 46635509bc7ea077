"""``coach``, and ``python -m coach``: are our packages ours, and then the command.

``drills``, ``decks`` and ``scores`` are plain words. Where another distribution has put a
package of such a name over or before ours, nothing else can be relied on, so nothing else
is imported before this is known.
"""

from __future__ import annotations

import sys
from importlib import import_module

PART_OF = "coloured-pencil-coach"
PARTS = ("drills", "decks", "scores")


def not_ours() -> str:
    """Why the coach can't run, in one line; empty where all its packages are its own."""
    for name in PARTS:
        try:
            package = import_module(name)
        except Exception:
            return f"the package “{name}” can't be imported, or is another program's. {_REMEDY}"
        if getattr(package, "PART_OF", None) != PART_OF:
            where = (list(getattr(package, "__path__", [])) or ["an unknown place"])[0]
            return f"the package “{name}” at {where!a} is another program's. {_REMEDY}"
    return ""


_REMEDY = "Install the coach in an environment of its own: pipx install ."


def main() -> None:
    """Run the command, where our packages are ours; else one line and exit status 2."""
    wrong = not_ours()
    if wrong:
        print(f"coach: {wrong}", file=sys.stderr)
        sys.exit(2)
    from coach.running.entry import main as run

    run()


if __name__ == "__main__":
    main()
