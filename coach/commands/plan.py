"""``coach plan``: which pencils to lay, in what order and how hard, to come to a colour."""

from __future__ import annotations

import json
import os
import shutil
import sys
import textwrap
from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING

import click

from coach.output import checked, force_option, rules, write
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from drills.layering.paper import Paper
    from drills.pencils.pencil import Lab, PencilSet
    from drills.planning.plan import Plan
    from drills.planning.ways import Way

_NO_PENCILS = "You have no pencils in use yet, so these are invented ones: coach pencils use FILE."
_SWATCH_COLUMNS = 8
_MOST_WORDS = 6
_MOST_TARGETS = 40
_WAYS: dict[str, Way] = {
    "complement": "by the complement",
    "greys": "by greys and earths",
    "fewest": "with the fewest pencils",
    "nearest": "nearest",
}


@click.command("plan")
@click.argument("colour", nargs=-1, required=True)
@click.option("--pencils", metavar="FILE", help="Plan with the pencils of this file.")
@click.option("--layers", default=5, metavar="N", help="At most N moves (1 to 8; 5).")
@click.option("--most", default=4, metavar="N", help="At most N different pencils (4).")
@click.option("--without", multiple=True, metavar="NAME", help="Leave a pencil out.")
@click.option("--with", "insist", multiple=True, metavar="NAME", help="Use this pencil.")
@click.option("--only-lightfast", is_flag=True, help="Only pencils of ASTM class I or II.")
@click.option("--no-blender", is_flag=True, help="Do without the colourless blender.")
@click.option("--no-burnish", is_flag=True, help="Leave the tooth open.")
@click.option(
    "--paper",
    type=click.Choice(["smooth", "drawing", "rough"]),
    default="drawing",
    help="The tooth of the paper.",
)
@click.option("--way", type=click.Choice(list(_WAYS)), help="Go this way to the colour.")
@click.option("--from-photo", is_flag=True, help="COLOUR was read from a photo.")
@click.option("--light", is_flag=True, help="Arrive a little light, to mend it from there.")
@click.option("--why", is_flag=True, help="Say why each move is made, and all figures.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@click.option("--html", metavar="FILE", help="Write a page to print and draw beside.")
@click.option("--svg", metavar="FILE", help="Write the same page as one picture.")
@click.option(
    "--size",
    type=click.Choice(["a4", "letter"]),
    help="The sheet to print on (your country's).",
)
@force_option
@rules
def command(
    colour: tuple[str, ...],
    pencils: str | None,
    layers: int,
    most: int,
    without: tuple[str, ...],
    insist: tuple[str, ...],
    only_lightfast: bool,
    no_blender: bool,
    no_burnish: bool,
    paper: str,
    way: str | None,
    from_photo: bool,
    light: bool,
    why: bool,
    as_json: bool,
    html: str | None,
    svg: str | None,
    size: str | None,
    force: bool,
) -> None:
    """Plan how to make COLOUR with the pencils you own.

    COLOUR is '#c06030', 'rgb(192 96 48)', 'lab(50 20 -30)' or Munsell notation
    such as '5R 4/10'. Put it in quotes, for the shell gives # and brackets a
    meaning of its own. Several colours make several plans, on one page to print;
    --json gives one object a line. --without and --with may be given several
    times, and take a pencil's name or code.
    """
    from coach.learned import hand_in_use
    from drills.layering.palette import prepare
    from drills.planning.plan_limits import Limits, find_pencils
    from drills.planning.planner import plan

    targets = targets_of(colour)
    if html is not None and html == svg:
        raise click.UsageError("--html and --svg name the same file.")
    if html is not None:
        checked(html, "plan page", force)
    if svg is not None:
        checked(svg, "plan", force)
    pencil_set, notice = pencils_to_use(pencils)
    limits = Limits(
        max_layers=layers,
        max_pencils=most,
        without=find_pencils(pencil_set, without),
        insist=find_pencils(pencil_set, insist),
        lightfast_only=only_lightfast,
        blender=not no_blender,
        burnish=not no_burnish,
    )
    hand = hand_in_use(pencil_set)
    palette = prepare(pencil_set, paper_of(paper), hand)
    chosen = None if way is None else _WAYS[way]
    found = []
    for text, target in targets:
        doubt = photo_doubt(target) if from_photo else 0.0
        one = plan(palette, target, limits, way=chosen, to_be_mended=light, target_sd=doubt)
        found.append((text, one))
    written = []
    if html is not None or svg is not None:
        from coach.reports.printed import document
        from coach.reports.printed.drawing import SIZES, size_here
        from coach.reports.printed.plan_page import plan_pages, title

        sheet, name = SIZES[size] if size else size_here(os.environ), title(found)
        pages = plan_pages(found, palette, sheet, why)
        if html is not None:
            page = document.html(name, sheet, pages)
            written.append(write(html, [page], "plan page", force))
        if svg is not None:
            written.append(write(svg, [document.svg(name, sheet, pages)], "plan", force))
    if notice:
        click.echo(f"coach: {notice}", err=True)
    words = PlanWords(why)
    for at, (text, one) in enumerate(found):
        if as_json:
            from coach.reports.plan_json import as_json as json_values

            click.echo(json.dumps(json_values(palette, one)))
            continue
        if at:
            click.echo("")
        for line in words.lines(text, one, pencil_set.name):
            click.echo(line)
    if as_json:
        return
    if hand is not None:
        click.echo(f"Reckoned with what {hand.patches} patches of yours say of your hand.")
    for path in written:
        click.echo(f"\nThe page to print is {plain(str(path), 200)}.")


def photo_doubt(lab: Lab) -> float:
    """The doubt (ΔE00) in a colour read from a photo. Loads what reads photos."""
    from drills.pictures.spot import read_sd

    return read_sd(lab)


def targets_of(words: Sequence[str]) -> list[tuple[str, Lab]]:
    """The colours that an argument list holds, with their texts. Raises InputError.

    A colour of several words, such as a Munsell notation without its quotes, is as many words
    as can be read as one.
    """
    from drills.colour.parse import parse_colour

    found: list[tuple[str, Lab]] = []
    at = 0
    while at < len(words):
        for end in range(min(len(words), at + _MOST_WORDS), at, -1):
            text = " ".join(words[at:end])
            with suppress(InputError):
                found.append((text, parse_colour(text)))
                at = end
                break
        else:
            parse_colour(words[at])  # raises, and says what is wrong with it
    if len(found) > _MOST_TARGETS:
        raise InputError(
            "plan", f"{len(found)} colours are asked for", f"Give {_MOST_TARGETS} at most."
        )
    return found


def pencils_to_use(file: str | None) -> tuple[PencilSet, str]:
    """The set to plan with, and what to say about it."""
    from coach.home import pencils_in_use
    from drills.pencils.file import load_pencils
    from drills.pencils.sets import demo_set

    if file is not None:
        return load_pencils(file), ""
    owned = pencils_in_use()
    return (owned, "") if owned is not None else (demo_set(), _NO_PENCILS)


def paper_of(tooth: str) -> Paper:
    from drills.layering import paper

    return {
        "smooth": paper.smooth_paper,
        "drawing": paper.drawing_paper,
        "rough": paper.rough_paper,
    }[tooth]()


class PlanWords:
    """A plan for people, with swatches where the terminal shows them truly."""

    def __init__(self, why: bool) -> None:
        from coach.terminal import colour_depth

        self.why = why
        self.swatches = sys.stdout.isatty() and colour_depth().true_colour
        self.columns = min(shutil.get_terminal_size().columns, 100) if sys.stdout.isatty() else 0

    def lines(self, text: str, found: Plan, pencils: str) -> list[str]:
        from drills.colour.change import MUCH_FROM, PLAIN_FROM, SEEN_FROM
        from drills.colour.reading import read_colour
        from drills.colour.spaces import in_screen_gamut

        out = [*self.with_swatch(found.target, [plain(text), read_colour(found.target).sentence()])]
        if not bool(in_screen_gamut(found.target)):
            out += self.wrapped("It lies outside sRGB: no screen shows it truly.", 2)
        out += ["", f"With {plain(pencils)}:", ""]
        if not found.moves:
            out += ["Leave the paper bare."]
        for at, one in enumerate(found.moves):
            texts = [f"{at + 1}. {plain(one.words)}.", one.stop]
            if self.why:
                texts.insert(1, one.why)
            out += [*self.with_swatch(one.predicted_lab, texts), ""]
        if found.moves:
            out += self.wrapped(found.likely.words())
        if self.why:
            out += self.wrapped(_numbers(found))
        if found.missing is not None:
            out += self.wrapped(found.missing.words)
        for aside in found.rules_set_aside:
            out += self.wrapped(aside.words())
        for other in found.alternatives:
            steps = "; ".join(plain(words) for words in other.words)
            out += self.wrapped(f"Or, {other.way}: {steps}. {other.likely.words()}", 2)
        out.append("")
        for note in found.notes if self.why else found.first_notes:
            out += self.wrapped(note)
        if not self.why and found.moves:
            out += self.wrapped(
                f"A miss of {SEEN_FROM:.0f} can just be seen, {PLAIN_FROM:.0f} is plain, "
                f"{MUCH_FROM:.0f} is much. Why each move is made, and all figures: --why."
            )
        return out

    def with_swatch(self, lab: tuple[float, float, float], texts: list[str]) -> list[str]:
        """The first text, the others under it and set in; the swatch to their left."""
        lines = [texts[0]]
        for text in texts[1:]:
            lines += self.wrapped(text, 3)
        if not self.swatches:
            return lines
        from drills.colour.spaces import in_screen_gamut, screen_rgb

        block = " " * _SWATCH_COLUMNS
        if bool(in_screen_gamut(lab)):
            r, g, b = screen_rgb(lab).tolist()
            block = f"\x1b[48;2;{r};{g};{b}m{block}\x1b[0m"
        return [f"{block}  {line}" for line in lines]

    def wrapped(self, text: str, inset: int = 0) -> list[str]:
        pad = " " * inset
        if not self.columns:
            return [pad + text]
        room = max(24, self.columns - (_SWATCH_COLUMNS + 2 if self.swatches else 0))
        return textwrap.wrap(text, room, initial_indent=pad, subsequent_indent=pad)


def _numbers(found: Plan) -> str:
    from drills.planning.other_light import LAMP_WORDS

    said = f"Predicted: ΔE00 {found.delta_e00:.1f} from the target."
    if found.moves:
        said = (
            f"Were hand and model exact: ΔE00 {found.delta_e00:.1f} from the target."
            f" If pressure varies by 15 %, nine swatches in ten stay within "
            f"ΔE00 {found.spread_delta_e00:.1f} of that."
        )
    lamps = [f"{LAMP_WORDS[lamp]} {off:.1f}" for lamp, off in found.under.items() if lamp != "D50"]
    return f"{said} Under other light, ΔE00: {', '.join(lamps)}." if lamps else said
