"""``coach mend``: it came out wrong; what to do next, from the colour on the paper."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import click

from coach.output import rules

if TYPE_CHECKING:
    from drills.layering.moves import Move
    from drills.layering.palette import Palette
    from drills.pencils.pencil import Lab


@click.command("mend")
@click.argument("colour", nargs=-1, required=True)
@click.option(
    "--got",
    required=True,
    metavar="COLOUR",
    help="The colour on your paper: as a colour, or 'a bit too light and too green'.",
)
@click.option(
    "--after",
    metavar="MOVES",
    help="What lies there: how many moves of the plan, or 'Red lightly; Grey firmly; blend'.",
)
@click.option("--from-photo", is_flag=True, help="Both colours were read from photos.")
@click.option("--pencils", metavar="FILE", help="Mend with the pencils of this file.")
@click.option(
    "--paper",
    type=click.Choice(["smooth", "drawing", "rough"]),
    default="drawing",
    help="The tooth of the paper.",
)
@click.option("--why", is_flag=True, help="Say why each move is made.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@rules
def command(
    colour: tuple[str, ...],
    got: str,
    after: str | None,
    from_photo: bool,
    pencils: str | None,
    paper: str,
    why: bool,
    as_json: bool,
) -> None:
    """Say what to do when COLOUR was wanted and another came out.

    Both colours are written as for `coach plan`; what you got may be said in
    words beside what you wanted, with more doubt. Without --after, what lies on
    the paper is guessed from its colour, and less can be promised.
    """
    from coach.commands.plan import PlanWords, paper_of, pencils_to_use, photo_doubt
    from coach.learned import hand_in_use
    from coach.reports.plan_json import mending_json
    from drills.basics.errors import plain
    from drills.colour.parse import parse_colour
    from drills.colour.said import written_or_said
    from drills.layering.palette import prepare
    from drills.planning.mending.mend import mend

    target = parse_colour(" ".join(colour))
    said = written_or_said(got, target)
    now, got_sd = said.lab, said.sd
    pencil_set, notice = pencils_to_use(pencils)
    # The hand that the plan was made for: its moves are counted by --after.
    palette = prepare(pencil_set, paper_of(paper), hand_in_use(pencil_set))
    doubt, got_doubt = (photo_doubt(one) if from_photo else 0.0 for one in (target, now))
    laid = _laid(palette, target, after)
    found = mend(palette, target, now, laid, target_sd=doubt, got_sd=got_sd or got_doubt)
    if notice:
        click.echo(f"coach: {notice}", err=True)
    if as_json:
        click.echo(json.dumps(mending_json(palette, found)))
        return
    words = PlanWords(why)
    lines = words.with_swatch(target, [f"Wanted: {plain(' '.join(colour))}."])
    lines += [*words.with_swatch(now, [f"What you have: {plain(got)}, {found.off}."]), ""]
    for at, one in enumerate(found.moves, start=1):
        texts = [f"{at}. {plain(one.words)}.", *([one.why] if why else []), one.stop]
        lines += [*words.with_swatch(one.predicted_lab, texts), ""]
    lines += words.wrapped(found.words)
    if found.guessed:
        lines += words.wrapped("What lies there was guessed from its colour: --after says it.")
    click.echo("\n".join(lines))


def _laid(palette: Palette, target: Lab, after: str | None) -> tuple[Move, ...] | None:
    from drills.planning.mending.laid_moves import done_of, laid_moves
    from drills.planning.planner import plan

    if after is None:
        return None
    if after.strip().isdecimal():
        return done_of(plan(palette, target).recipe, int(after))
    return laid_moves(palette.set, after)
