"""What can be done from a plan: look what came out, print it, wish for it, swap a pencil."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from coach.screens.base import CoachScreen
from coach.screens.planning.routes import OWN_WAY, Route, own_route
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.session.on_paper import Given
    from drills.planning.plan import Plan


class PlanActions(CoachScreen[None]):
    """The plan shown, and the step ``at`` of its ``route``; screens show what becomes of it."""

    app: HostApp

    def __init__(self) -> None:
        super().__init__()
        self.plan: Plan | None = None
        self.routes: tuple[Route, ...] = ()
        self.route = 0
        self.at = 0

    @property
    def few(self) -> bool:
        """Whether a sentence is to have one figure: where large things are wanted."""
        return self.has_class("-large")

    def fill(self) -> None:
        """Show the route at its present step."""
        raise NotImplementedError

    def _say(self, words: str) -> None:
        raise NotImplementedError

    def action_mend(self) -> None:
        """Ask which colour the moves so far came to, and go on from there."""
        from coach.screens.giving.give import GiveScreen

        plan = self.plan
        if plan is None or not self.routes or not self.at:
            self._say("Step to the last move you laid; then m asks what it came to.")
            return
        route = self.routes[self.route]
        screen = GiveScreen(
            "what is on your paper",
            f"After {self.at} of {len(route.moves)} moves.",
            beside=plan.target,
            near=route.steps[self.at - 1],
        )
        self.app.push_screen(screen, self._came_out)

    def _came_out(self, got: Given | None) -> None:
        from uuid import uuid4

        from coach.screens.mending import MendingScreen
        from coach.session.on_paper import Laid

        plan = self.plan
        if got is None or plan is None:
            return
        route, at = self.routes[self.route], self.at
        laid = Laid(
            plan.target, route.moves[:at], route.steps[at - 1], route.likely, str(uuid4()),
            target_sd=plan.target_sd,
        )  # fmt: skip
        self.app.push_screen(MendingScreen(laid, got, at == len(route.moves)), self.gone_on)

    def gone_on(self, _: None) -> None:
        """Back from what came out, and from what was laid after it."""

    def action_page(self) -> None:
        """Write the plan's page to print beside where the app was started, over nothing."""
        from coach.screens.planning.printing import write_page

        made = self.app.app_state.ready_for
        if self.plan is None or made is None:
            return
        try:
            path = write_page(Path.cwd(), self.plan, made.palette)
        except InputError as error:
            self._say(str(error))
        else:
            self._say(f"The page to print is {path}: open it in a browser and print it.")

    def action_wish(self) -> None:
        """Put the target on the list of colours that the day's match takes."""
        from drills.colour.spaces import hex_of
        from drills.questions.given_colour import region_of
        from scores.record.record import NotSavedError
        from scores.today.wishes import Wish, keep_one_more

        if self.plan is not None:
            lab = self.plan.target
            try:
                keep_one_more(self.app.app_state.record, Wish(lab, hex_of(lab), region_of(lab)))
                self._say("Kept among the colours you can't get: your matches will take it.")
            except (ValueError, NotSavedError) as error:
                self._say(f"Not put on your list: {error}.")

    def action_ask(self) -> None:
        """Ask a teacher about the target."""
        from coach.screens.teaching.ask import AskScreen

        if self.plan is not None:
            self.app.push_screen(AskScreen(self.plan.target))

    def action_swap(self) -> None:
        """Try every other pencil in the marked move's place."""
        from coach.screens.planning.swap import SwapScreen

        made = self.app.app_state.ready_for
        if not self.routes or made is None or self.plan is None:
            return
        route = self.routes[self.route]
        at = max(0, self.at - 1)
        if at < len(route.moves) and route.moves[at].action == "lay":
            screen = SwapScreen(made.palette, route.moves, at, self.plan.target)
            self.app.push_screen(screen, self._swapped)
        else:
            self._say("Step to a layer of colour first; that is the one to swap.")

    def _swapped(self, pencil: int | None) -> None:
        made = self.app.app_state.ready_for
        if pencil is None or made is None or self.plan is None:
            return
        old = self.routes[self.route]
        at = max(0, self.at - 1)
        moves = tuple(
            replace(move, pencil=pencil) if i == at else move for i, move in enumerate(old.moves)
        )
        plan = self.plan
        route = own_route(made.palette, moves, plan.target, plan.target_sd, self.few)
        kept = tuple(one for one in self.routes if one.label != OWN_WAY)
        self.routes = (*kept, route)
        self.route = len(self.routes) - 1
        self.set_focus(None)
        self.fill()
