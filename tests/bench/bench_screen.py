"""What faults of screens do to the keys of the hue drills, uncorrected, corrected, unmeasured.

``python -m tests.bench.bench_screen`` prints the share of keys that a simulated screen turns:
as drawn for sRGB, as corrected for its true model, as corrected after a match by eye (each
channel off by a level, sd), and of what is asked where nothing is known of
the screen. By eye, what is asked is what such a match can't turn.
"""

from __future__ import annotations

import random
import sys

from drills.layering.palette import prepare
from drills.pencils.sets import demo_set, pocket_set
from drills.screen.unmeasured import plausible
from tests.screen.simulated import SCREENS, asked, matched_by_eye, turned

EACH = 40
EYE_OFF = 1.0
EYES = 40
MOST_TURNED = 0.03


def main() -> None:
    """Print the table; exit status 1 when a bar is missed."""
    missed = False
    for made in (demo_set(), pocket_set()):
        palette = prepare(made)
        print(made.name)
        for kind in ("grey-lean", "hue-and-lean"):
            labs, _ = asked(palette, kind, EACH)
            unknown, _ = asked(palette, kind, EACH, known=False)
            eye_asked = asked(palette, kind, EACH, known="by eye")
            worst = max(turned(kind, unknown, screen) for screen in plausible())
            print(f"  {kind}: {len(labs)} asked; {len(unknown)} where the screen is not known,")
            print(f"  {len(eye_asked[0])} where it was matched by eye;")
            print(f"  a common fault turns {worst:.1%}")
            missed |= worst > 0.0
            print(f"    {'':<28}{'drawn':>8}{'corrected':>11}{'by eye':>8}")
            for name, screen in SCREENS.items():
                rng = random.Random(1)
                rest, _ = eye_asked
                eyes = [matched_by_eye(screen, rng, EYE_OFF) for _ in range(EYES)]
                by_eye = sum(turned(kind, rest, screen, eye) for eye in eyes) / len(eyes)
                corrected = turned(kind, labs, screen, screen)
                missed |= max(corrected, by_eye) > MOST_TURNED
                drawn = turned(kind, labs, screen)
                print(f"    {name:<28}{drawn:>8.1%}{corrected:>11.1%}{by_eye:>8.1%}")
    if missed:
        sys.exit(1)


if __name__ == "__main__":
    main()
