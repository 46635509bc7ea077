"""``coach deck photo``: spots of a picture, or its main colours, made into a deck."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from coach.commands.look import Given, opened, places, read_places
from coach.output import checked, force_option, rules, write
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from coach.teaching.photo.colours import Found
    from coach.teaching.photo.reached import Owned
    from decks.deck import Deck
    from drills.pictures.picture import Picture
    from drills.pictures.spot import Correction

KINDS = ("hue-and-lean", "set-the-colour", "make-the-match")
"""Drills that can be asked about any colour: see it, set it, lay it."""
Named = tuple[Given, str]


def add_to(group: click.Group) -> None:
    """Join this command to ``coach deck``."""
    group.add_command(photo)


def _named_places(
    context: click.Context, option: click.Parameter, texts: tuple[str, ...]
) -> tuple[Named, ...]:
    found = []
    for text in texts or ():
        where, _, name = text.partition("=")
        (place,) = read_places(context, option, (where,))
        found.append((place, " ".join(name.split())))
    return tuple(found)


@click.command("photo")
@click.argument("picture")
@click.option("-o", "--out", required=True, help="The deck's file to write, ready to send.")
@click.option(
    "--at",
    callback=_named_places,
    multiple=True,
    metavar="X,Y=NAME",
    help="A colour to take, by its place; =NAME may be left out.",
)
@click.option("--main", type=int, metavar="N", help="The N main colours (1 to 24).")
@click.option("--radius", type=float, metavar="R", help="Pixels to sample about a place.")
@click.option(
    "--white", callback=read_places, multiple=True, metavar="X,Y", help="Bare white paper is here."
)
@click.option("--card", is_flag=True, help="The white points lie on a grey card of 18 %.")
@click.option("--title", help="The deck's title; the picture's name if left out.")
@click.option("--from", "author", default="Your teacher", help="Your name, as students see it.")
@click.option("--kinds", default=",".join(KINDS), show_default=True, help="Drills, by name.")
@click.option("--a-day", "items_a_day", type=int, default=10, show_default=True)
@click.option("--days", type=int, default=7, show_default=True)
@force_option
@rules
def photo(
    picture: str,
    out: str,
    at: tuple[Named, ...],
    main: int | None,
    radius: float | None,
    white: tuple[Given, ...],
    card: bool,
    title: str | None,
    author: str,
    kinds: str,
    items_a_day: int,
    days: int,
    force: bool,
) -> None:
    """Make a deck of colours in PICTURE, and see whose pencils can make them.

    Each --at is a place in pixels or as 50%,25%, and what its colour is called:
    --at 812,640=Brass. The picture goes into the deck, small, with the places
    ringed. Pencils that students sent are tried: who can't reach a colour is named.
    """
    from coach.home import pencils_in_use
    from coach.teaching.class_opened import class_book
    from coach.teaching.photo.colours import with_colours
    from coach.teaching.photo.reached import (
        Reaches,
        class_or_own,
        known_words,
        of_class,
        reached_words,
    )
    from decks.pack import pack
    from drills.colour.reading import read_colour
    from drills.pictures.light import light_of, usual_radius
    from scores.classes.person import people_of

    if not at and main is None:
        raise click.UsageError("say which colours: --at X,Y several times, or --main N.")
    checked(out, force=force)
    seen = opened(picture)
    wide = usual_radius(seen) if radius is None else radius
    light, told = light_of(seen, places(seen, white), card, None, wide)
    found = [*_spots(seen, at, wide, light), *_main(seen, main, light)]
    deck = _deck(title or _stem(seen.name), author, kinds, items_a_day, days)
    deck = with_colours(deck, seen, found)
    text = pack(deck)
    for note in (*seen.notes, told):
        if note:
            click.echo(f"coach: {note}", err=True)
    write(out, [text], force=force)
    click.echo(f"{plain(out, 200)} is ready to send: “{plain(deck.title)}”.")
    with class_book() as book:
        owned, students = of_class(book), len(people_of(book.db))
    click.echo(known_words(len(owned), students))
    tried = class_or_own(owned, None if owned else pencils_in_use())
    reaches = Reaches(tried)
    if not owned:
        click.echo(f"Tried with {tried[0].owner} instead:")
    for target in deck.targets:
        click.echo(f"  {plain(target.name)}: {read_colour(target.lab).sentence()}")
        click.echo(f"    {reached_words(plain(target.name), reaches.of(target.lab))}")


def _spots(
    picture: Picture, at: tuple[Named, ...], radius: float, light: Correction | None
) -> list[Found]:
    from coach.teaching.photo.colours import Found
    from drills.pictures.spot import DOUBT_WORDS, read_spot

    found = []
    for (x, y), (_, name) in zip(places(picture, tuple(one for one, _ in at)), at, strict=True):
        spot = read_spot(picture, x, y, radius, light)
        for doubt in spot.warnings:
            click.echo(f"coach: {plain(name) or f'{x:g},{y:g}'}: {DOUBT_WORDS[doubt]}", err=True)
        found.append(Found(spot.lab, name, ((x + 0.5) / picture.width, (y + 0.5) / picture.height)))
    return found


def _main(picture: Picture, count: int | None, light: Correction | None) -> list[Found]:
    from coach.teaching.photo.colours import Found
    from drills.pictures.main_colours import main_colours

    return [] if count is None else [Found(one.lab) for one in main_colours(picture, count, light)]


def _deck(title: str, author: str, kinds: str, items_a_day: int, days: int):  # type: ignore[no-untyped-def]
    """An empty deck with these words and numbers, each checked. Raises InputError."""
    from decks.deck import Deck
    from decks.fields import FaultError, keys_of

    said = {
        "title": title,
        "author": author,
        "kinds": [one.strip() for one in kinds.split(",") if one.strip()],
        "items_a_day": items_a_day,
        "days": days,
    }
    sound = {}
    for key, value in said.items():
        try:
            sound[key] = keys_of(Deck)[key].value.read(value)
        except FaultError as error:
            raise InputError(f"the deck's {key}", error.problem, error.remedy) from None
    return Deck(**sound | {"kinds": tuple(sound["kinds"])})


def _stem(name: str) -> str:
    """A picture's name without folder and ending, as a title."""
    last = name.replace("\\", "/").rpartition("/")[2]
    return " ".join((last.rpartition(".")[0] or last).split())[:80] or "A picture"


def out_of_reach_lines(deck: Deck) -> list[str]:
    """On each named colour that no pencils known here make: the deck's own, else one's own and
    those that students sent."""
    if not deck.targets:
        return []
    from coach.home import pencils_in_use
    from coach.teaching.class_opened import class_book
    from coach.teaching.photo.reached import Owned, class_or_own, of_class, out_of_reach
    from decks.deck_pencils import set_inside

    if deck.pencils:
        inside = Owned("the deck's own pencils", set_inside(deck.pencils, deck.title))
        return out_of_reach(deck, [inside])
    sent: list[Owned] = []
    try:
        with class_book() as book:
            sent = of_class(book)
    except InputError as error:
        click.echo(f"coach: {error}", err=True)
    return out_of_reach(deck, [*class_or_own([], pencils_in_use()), *sent])
