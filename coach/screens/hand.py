"""The hand's room: what painted patches say, what to paint next and why, what came of each."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.design.measures import MEASURE
from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from coach.widgets.paint import wrapped
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Callable

    from coach.host import HostApp
    from coach.reports.hand_report import HandKnown
    from coach.session.on_paper import Given
    from drills.hand.patch import Patch, Recipe
    from drills.pencils.pencil import PencilSet
    from drills.questions.protocol import Lab

HOW = (
    "Paint it once, about 2 cm square, on the white drawing paper you use (or on black, where it "
    "says so), in your usual way. Then press Enter and give its colour."
)
NEXT = "Paint next, best first (and the share of the doubt it settles)"
WORKING = "Working it out…"
CHIP = 8
"""Cells of swatches before a line."""


class HandScreen(CoachScreen[None]):
    """See what is known of the hand, and add to it."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("o", "other", "Another patch"),
        Binding("u", "undo", "Undo"),
        Binding("x", "anew", "Begin anew"),
        Binding("pageup", "read(-1)", "Read back"),
        Binding("pagedown", "read(1)", "Read on"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.known: HandKnown | None = None
        self._drops = False
        """Whether x was pressed once: pressed again, it drops every patch."""

    def compose(self) -> ComposeResult:
        yield Static("Your hand", id="title", classes="title", markup=False)
        yield Static(WORKING, id="stands", classes="words", markup=False)
        yield Static(
            "Paint next, best first (and the share of the doubt it settles)",
            classes="heading",
            markup=False,
        )
        yield Lines(markup=False)
        yield Static(HOW, classes="words faint", markup=False)
        yield Static("Painted: as it came, beside what is predicted now", classes="heading")
        with VerticalScroll(id="painted", classes="scrolled", can_focus=False):
            yield Static("", id="rows", classes="prose", markup=False)
        yield Hints(
            Hint("↑ ↓ Enter", "painted it"),
            Hint("o", "another patch", "other"),
            Hint("u", "undo the last", "undo"),
            Hint("x", "begin anew", "anew"),
            Hint("PgDn", "read on", "read(1)"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.query_one(OptionList).focus()
        self._look()

    # What is kept

    def _set(self) -> PencilSet:
        return self.app.app_state.pencil_set()

    def _look(self) -> None:
        """Read the patches kept, and learn from them in a thread."""
        from coach.learned import own_recipes, patches_or_none

        record = self.app.app_state.record
        try:
            pencils = self._set()
        except InputError as error:
            self._say(str(error))
            return
        patches, trouble = patches_or_none(record, pencils)
        if trouble:
            self._say(trouble)
            return
        self._learn(pencils, patches, own_recipes(record, pencils))

    @work(thread=True, exclusive=True)
    def _learn(
        self, pencils: PencilSet, patches: tuple[Patch, ...], own: tuple[Recipe, ...]
    ) -> None:
        from coach.reports.hand_report import hand_known

        self.app.call_from_thread(self._learned, hand_known(pencils, patches, own))

    def _learned(self, known: HandKnown) -> None:
        self.known = known
        self.fill()

    def _keep(self, change: Callable[[tuple[Patch, ...]], tuple[Patch, ...]]) -> bool:
        """Change what is kept by now, maybe from another page, and have predictions follow."""
        from coach.learned import keep_patches, patches_of
        from scores.record.record import NotSavedError

        record = self.app.app_state.record
        try:
            keep_patches(record, self._set(), change(patches_of(record, self._set())))
        except (NotSavedError, InputError) as error:
            self._say(f"Not kept: {error}")
            return False
        self._say(WORKING)
        self._look()
        self.app.make_ready()
        return True

    # What the learner does

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        if self.known is not None:
            self._ask(self.known.next[int(event.option_id or 0)].recipe)

    def _ask(self, recipe: Recipe) -> None:
        from coach.reports.hand_report import recipe_words
        from coach.screens.giving.give import GiveScreen
        from drills.hand.model import slopes

        assert self.known is not None
        lab = slopes(self.known.palette, self.known.found.theta, [recipe]).lab[0].tolist()
        words = recipe_words(self.known.palette, recipe)
        near: Lab = (lab[0], lab[1], lab[2])
        screen = GiveScreen("your patch", f"{words[:1].upper()}{words[1:]}.", near=near)

        def given(got: Given | None) -> None:
            if got is not None:
                self._add(recipe, got)

        self.app.push_screen(screen, given)

    def _add(self, recipe: Recipe, got: Given) -> None:
        from drills.hand.keeping import MOST_PATCHES
        from drills.hand.patch import Patch
        from drills.layering import constants as c

        assert self.known is not None
        if len(self.known.patches) >= MOST_PATCHES:
            self._say(f"{MOST_PATCHES} patches are kept already: undo some first.")
            return
        patch = Patch(recipe, got.lab, max(c.PATCH_SD, got.sd))
        self._keep(lambda kept: (*kept, patch))

    def action_other(self) -> None:
        """A patch of the learner's own choosing."""
        from coach.screens.giving.moves import MovesScreen

        if self.known is not None:
            self.app.push_screen(MovesScreen(self.known.palette.set), self._chosen)

    def _chosen(self, recipe: Recipe | None) -> None:
        if recipe is not None:
            self._ask(recipe)

    def action_undo(self) -> None:
        if self.known is not None and self.known.patches:
            self._keep(lambda kept: kept[:-1])

    def action_anew(self) -> None:
        """Drop every patch, pressed twice."""
        if self.known is None or not self.known.patches:
            return
        if not self._drops:
            self._drops = True
            count = len(self.known.patches)
            self._say(f"Press x again to drop all {count} patches; any other key keeps them.")
            return
        self._drops = False
        self._keep(lambda _: ())

    def on_key(self, event: object) -> None:
        if self._drops and getattr(event, "key", "") != "x":
            self._drops = False
            self.fill()

    def action_read(self, by: int) -> None:
        rows = self.query_one("#painted", VerticalScroll)
        rows.scroll_relative(y=by * max(1, rows.size.height - 1), animate=False)

    def action_back(self) -> None:
        self.dismiss()

    # Showing

    def _say(self, words: str) -> None:
        self.query_one("#stands", Static).update(words)

    def fill(self) -> None:
        from coach.reports.hand_report import hand_figures, known_words, where_it_stands

        known = self.known
        if known is None:
            return
        figures = hand_figures(known)
        said = [where_it_stands(figures)]
        if known.patches and figures["in_use"]:
            said += known_words(figures["known"])
        self._say(" ".join(said))
        options = self.query_one(OptionList)
        options.clear_options()
        for place, (one, told) in enumerate(zip(known.next, figures["next"], strict=True)):
            line = Text(" ")
            pencils = dict.fromkeys(move.pencil for move in one.recipe.moves)
            line += self._chip(*(known.palette.lab[pencil].tolist() for pencil in pencils))
            # Words go on beside their swatch, not under it; below is a gap.
            side = " " * (1 + CHIP + 2) if self.app.app_state.depth.true_colour else " "
            words = wrapped(f"{told['words']} ({told['narrows']:.0%})", MEASURE - len(side))
            line += Text(f"\n{side}".join(words) + "\n")
            options.add_option(Option(line, id=str(place)))
        options.highlighted = 0 if known.next else None
        self.query_one("#rows", Static).update(self._rows(figures))

    def _chip(self, *labs: list[float]) -> Text:
        """Touching swatches and a gap; nothing where colours can't be shown."""
        from drills.colour.spaces import hex_of

        chip = Text()
        if self.app.app_state.depth.true_colour:
            for lab in labs:
                cells = " " * (CHIP // len(labs))
                chip.append(cells, style=f"on {hex_of((lab[0], lab[1], lab[2]))}")
            chip.append("  ")
        return chip

    def _rows(self, figures: dict[str, list[dict[str, object]]]) -> Text:
        from drills.colour.reading import describe_difference

        lines = Text()
        for one in reversed(figures["patches"]):
            lab, predicted = one["lab"], one["predicted_lab"]
            assert isinstance(lab, list)
            assert isinstance(predicted, list)
            if lines:
                # A gap, or swatches that have nothing to do with each other would touch.
                lines.append("\n\n")
            lines += self._chip(lab, predicted)
            lines.append(f"{one['words']}: predicted {describe_difference(lab, predicted)}")
        return lines or Text("None yet. The first six tell little; a dozen well chosen tell most.")
