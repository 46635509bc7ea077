"""A plan for a colour to be matched now: step through it, swap a pencil, see what becomes."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import Input, Static

from coach.screens.planning.actions import PlanActions
from coach.screens.planning.routes import (
    GRAIN,
    Route,
    move_lines,
    paper_lab,
    routes_of,
    strip_of,
    way_lines,
)
from coach.widgets.hints import Hint, Hints
from coach.widgets.paint import beyond_screen
from coach.widgets.scene import Scene
from coach.widgets.strip import PlanStrip
from drills.basics.counted import counted
from drills.basics.errors import InputError
from drills.questions.protocol import Lab, Swatch

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.planning.plan import Plan
    from drills.questions.adjusting import Matched


class PlanScreen(PlanActions):
    """Give a target, unless one comes with it; step back and forth through how to make it."""

    app: HostApp

    HEADING: ClassVar[str] = "A plan for a colour"
    # The keys step through the plan; only on asking do they go to the target's line.
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        Binding("left,up", "step(-1)", "Back a step"),
        Binding("right,down,space", "step(1)", "On a step"),
        Binding("a", "other", "Another way"),
        Binding("s", "swap", "Swap"),
        Binding("t", "target", "Target"),
        Binding("tab,shift+tab", "keys", "From the line to the keys, and back", show=False),
        Binding("r", "surprise", "Any colour"),
        Binding("m", "mend", "What came out"),
        Binding("p", "page", "A page to print"),
        Binding("d", "details", "Why, and all figures"),
        Binding("g", "grain", "Grain"),
        Binding("e", "by_eye", "Target by eye"),
        Binding("w", "wish", "I can't get it"),
        Binding("k", "ask", "Ask a teacher"),
        Binding("pageup", "read(-1)", "Read back"),
        Binding("pagedown", "read(1)", "Read on"),
    ]

    def __init__(self, target: Lab | None = None, target_sd: float = 0.0) -> None:
        super().__init__()
        self._target = target
        self._read = ("", target_sd)
        """The target's line as filled for one that was read, and the doubt in that (ΔE00)."""
        self.grain = False
        """Whether the result is shown with the paper showing through."""
        self.details = False
        """Whether why each move is made is told, and all figures."""
        self._dice = random.Random(0)

    def compose(self) -> ComposeResult:
        yield Static(self.HEADING, id="title", classes="title", markup=False)
        yield Input(placeholder="#rrggbb, lab(L a b), rgb(r g b) or Munsell such as 5R 4/10")
        with Container(id="sides"):
            with Container(id="shown", classes="-empty"):
                yield Scene()
                yield PlanStrip()
                yield Static("", id="ways", classes="words apart", markup=False)
            with Container(id="read"):
                yield Static("", id="moves", classes="words", markup=False)
                with VerticalScroll(id="told", classes="scrolled", can_focus=False):
                    yield Static("", id="words", classes="prose", markup=False)
        yield Hints(*self.hints())

    def hints(self) -> tuple[Hint, ...]:
        """The keys at the foot; before there is a plan, those that bring one."""
        if self.plan is None:
            return (
                Hint("Enter", "plan it"),
                Hint("Tab", "from the line to the keys", "keys"),
                Hint("e", "by eye", "by_eye"),
                Hint("r", "any", "surprise"),
                Hint("Esc", "back", "back"),
            )
        return (
            Hint("← →", "step", "step(1)"),
            Hint("a", "next way", "other"),
            Hint("s", "swap", "swap"),
            Hint("m", "what came", "mend"),
            Hint("p", "print", "page"),
            Hint("t", "target", "target"),
            Hint("e", "by eye", "by_eye"),
            Hint("d", "why", "details"),
            Hint("g", "grain", "grain"),
            Hint("w", "can't get it", "wish"),
            Hint("k", "ask", "ask"),
            Hint("r", "any", "surprise"),
            Hint("PgDn", "read on", "read(1)"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        if self._target is not None:
            self._aim_at(self._target, self._read[1])
            return
        self.query_one(Input).focus()
        self.query_one("#words", Static).update(
            "Which colour do you want to match? Type it; or press Tab, then r, for one that your "
            "pencils can make."
        )

    # The target

    def on_input_submitted(self, event: Input.Submitted) -> None:
        from drills.colour.parse import parse_colour

        try:
            colour = parse_colour(event.value)
            # Entered again as it was read, it is no surer than before.
            self.aim(colour, self._read[1] if event.value == self._read[0] else 0.0)
        except InputError as error:
            self._say(str(error))

    def aim(self, target: Lab, target_sd: float = 0.0) -> None:
        """Plan for a target, in doubt by so much where it was read (ΔE00)."""
        if self.app.app_state.ready_for is None:
            self._say("The pencils are not ready yet: try again in a moment.")
            return
        self._say("Planning…")
        self._work_out(target, target_sd)

    @work(thread=True, exclusive=True)
    def _work_out(self, target: Lab, target_sd: float) -> None:
        from drills.planning.planner import plan

        made = self.app.app_state.ready_for
        assert made is not None
        try:
            found = plan(made.palette, target, target_sd=target_sd)
        except InputError as error:
            self.app.call_from_thread(self._say, str(error))
        else:
            self.app.call_from_thread(self._planned, found)

    def _planned(self, plan: Plan) -> None:
        self.plan = plan
        self.routes = routes_of(plan, self.few)
        self.route = 0
        self.at = len(plan.moves)
        self.query_one(Hints).hints = self.hints()
        self.set_focus(None)
        self.fill()

    def action_keys(self) -> None:
        """Leave the target's line, so that letters are keys again; or go back to it."""
        field = self.query_one(Input)
        if field.has_focus:
            self.set_focus(None)
        elif field.display:
            field.focus()

    def action_target(self) -> None:
        self.query_one(Input).focus()

    def action_by_eye(self) -> None:
        """The target is an object held beside the screen."""
        from coach.screens.giving.by_eye import ByEyeScreen

        screen = ByEyeScreen("the colour you want", None, self.app.app_state.new_seed())
        self.app.push_screen(screen, self._seen)

    def _seen(self, found: Matched | None) -> None:
        if found is not None:
            from drills.layering.constants import PATCH_SD

            self._aim_at(found.lab, max(PATCH_SD, found.spread))

    def _aim_at(self, target: Lab, target_sd: float = 0.0) -> None:
        """Plan for a target that wasn't typed."""
        L, a, b = target
        self._read = (f"lab({L:.1f} {a:.1f} {b:.1f})", target_sd)
        self.query_one(Input).value = self._read[0]
        self.aim(target, target_sd)

    def action_grain(self) -> None:
        """Show the result even, or as the tooth of the paper leaves it."""
        self.grain = not self.grain
        if self.plan is not None:
            self.fill()

    def action_surprise(self) -> None:
        made = self.app.app_state.ready_for
        if made is not None:
            pool = made.palette.pool
            L, a, b = pool.lab[self._dice.randrange(len(pool))].tolist()
            self._aim_at((L, a, b))

    # Stepping through

    def action_step(self, by: int) -> None:
        if self.routes:
            self.at = min(len(self.routes[self.route].moves), max(0, self.at + by))
            self.fill()

    def action_other(self) -> None:
        if self.routes:
            self.route = (self.route + 1) % len(self.routes)
            self.at = len(self.routes[self.route].moves)
            self.fill()

    # Showing

    def fill(self) -> None:
        """Show the route at its present step."""
        assert self.plan is not None
        plan = self.plan
        self.query_one("#shown").remove_class("-empty")
        if not self.routes[self.route].moves:
            self.query_one(Scene).swatches = self._swatches(plan.target, None, "")
            self.query_one("#moves", Static).update("")
            self.query_one(PlanStrip).steps = ()
            self._say("\n".join(plan.notes))
            return
        route = self.routes[self.route]
        now = route.steps[self.at - 1] if self.at else None
        count = counted(len(route.moves), "move")
        off = f"{route.label}: {count}" + ("" if self.few else f", ΔE00 {route.off[-1]:.1f}")
        self.query_one("#title", Static).update(f"{self.HEADING} · {off}")
        label = f"ΔE00 {route.off[self.at - 1]:.1f} to go" if self.at else "bare paper"
        self.query_one(Scene).swatches = self._swatches(plan.target, now, label)
        self._lay_strip(route)
        self.query_one("#ways", Static).update(
            "\n".join(way_lines(self.routes, self.route, self.few))
        )
        lines = move_lines(route, self.at, self.few)
        self.query_one("#moves", Static).update("\n".join(lines))
        told = route.told(self.at, self.details)
        if plan.missing is not None and self.route == 0:
            told.append(" ".join((plan.missing.words, plan.missing.kind)).strip())
        told.extend(plan.notes if self.details else plan.first_notes)
        if self.grain:
            told.insert(0, GRAIN)
        self._say("\n".join((*self.said_first(), *told)))

    def said_first(self) -> list[str]:
        """What stands before all that is told of the plan."""
        return []

    def _lay_strip(self, route: Route) -> None:
        made = self.app.app_state.ready_for
        strip = self.query_one(PlanStrip)
        if made is not None and self.app.app_state.depth.true_colour:
            strip.steps, strip.at = strip_of(route, made.palette, self._paper()), self.at

    def on_plan_strip_stepped(self, message: PlanStrip.Stepped) -> None:
        self.at = message.at
        self.fill()

    def _swatches(self, target: Lab, now: Lab | None, label: str) -> tuple[Swatch, ...]:
        if not self.app.app_state.depth.true_colour:
            return ()
        paper = self._paper() if now is None else now
        note = " (beyond the screen)" if beyond_screen(target) else ""
        shown = Swatch(paper, label or "bare paper", grain=self._grain() if label else ())
        return (Swatch(target, f"the target{note}"), shown)

    def _grain(self) -> tuple[tuple[float, Lab], ...]:
        """What stands in the tooth after the moves so far, where that is wanted."""
        from drills.layering.predict import predict_grain

        made = self.app.app_state.ready_for
        if not self.grain or not self.at or made is None:
            return ()
        return predict_grain(made.palette, self.routes[self.route].moves[: self.at])

    def _paper(self) -> Lab:
        made = self.app.app_state.ready_for
        assert made is not None
        return paper_lab(made.palette)

    def _say(self, words: str) -> None:
        self.query_one("#words", Static).update(words)

    def action_details(self) -> None:
        """Tell why each move is made and all figures, or leave them out again."""
        if self.plan is not None:
            self.details = not self.details
            self.fill()

    def action_read(self, by: int) -> None:
        told = self.query_one("#told", VerticalScroll)
        told.scroll_relative(y=by * max(1, told.size.height - 1), animate=False)

    def action_back(self) -> None:
        self.dismiss()
