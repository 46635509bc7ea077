"""The class: students by skills, sorted by need; one student, one skill, who has not begun."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.screens.words_page import PageScreen
from coach.widgets.heat import Heat
from coach.widgets.hints import Hint, Hints
from drills.basics.errors import InputError
from scores.skill.skill_words import skill_words

if TYPE_CHECKING:
    from coach.host import HostApp
    from scores.classes.store import ClassBook
    from scores.classes.views import ClassView, Mixup, Skill, SkillPage, StudentPage

LEGEND = "█ far from it  ▓ ▒ ░ between  · as far as drills go  ? too few to tell"


class ClassroomScreen(CoachScreen[None]):
    """One deck's class, or all decks together."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("enter", "student", "Student"),
        Binding("s", "skill", "Skill"),
        Binding("m", "mixups", "Mixed up"),
        Binding("n", "not_begun", "Not begun"),
        Binding("d", "deck", "Deck"),
    ]
    CSS = """
    ClassroomScreen #cell { height: 2; padding: 0 2; }
    ClassroomScreen #legend { height: 1; padding: 0 2; color: $faint; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.book: ClassBook | None = None
        self.view: ClassView | None = None
        self.decks: tuple[str, ...] = ("",)
        self.deck = 0

    def compose(self) -> ComposeResult:
        yield Static("The class", id="title", classes="title", markup=False)
        yield Heat()
        yield Static("", id="cell", markup=False)
        yield Static(LEGEND, id="legend", markup=False)
        yield Hints(
            Hint("↑↓←→", "look"),
            Hint("Enter", "student", "student"),
            Hint("s", "skill", "skill"),
            Hint("m", "mix-ups", "mixups"),
            Hint("n", "not begun", "not_begun"),
            Hint("d", "deck", "deck"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        from coach.home import class_path
        from scores.classes.store import ClassBook
        from scores.classes.views import decks

        try:
            self.book = ClassBook.open(class_path(), create=False)
        except InputError as error:
            self.query_one("#cell", Static).update(str(error))
            return
        self.decks = ("", *(line.fingerprint for line in decks(self.book)))
        self.fill()
        self.query_one(Heat).focus()

    def on_unmount(self) -> None:
        if self.book is not None:
            self.book.close()

    def fill(self) -> None:
        from scores.classes.views import overview

        assert self.book is not None
        self.view = overview(self.book, self.decks[self.deck])
        deck = self.view.deck.title if self.view.deck else "every deck"
        waiting = f", {len(self.view.not_begun)} not begun" if self.view.not_begun else ""
        self.query_one("#title", Static).update(
            f"The class · {deck} · {len(self.view.students)} students{waiting} · "
            f"{self.view.tries:,} answers"
        )
        self.query_one(Heat).show(self.view.students, [line.skill for line in self.view.skills])
        self.on_heat_moved()

    def on_heat_moved(self) -> None:
        """Say in words what the marked cell shows."""
        heat = self.query_one(Heat)
        student, skill = heat.student, heat.skill
        if student is None or skill is None:
            self.query_one("#cell", Static).update(
                "No results yet: coach class add FILES merges what students sent."
            )
            return
        cell = student.cells.get(skill)
        told = (
            "not tried"
            if cell is None
            else f"reach {100 * cell.reach:.0f} of 100, {cell.tries} answers, {cell.right} right, "
            f"last {cell.last_day.day} {cell.last_day:%B}"
        )
        self.query_one("#cell", Static).update(f"{student.name}\n{words(skill)}: {told}")

    def action_student(self) -> None:
        from scores.classes.views import student_page

        student = self.query_one(Heat).student
        if student is None or self.book is None:
            return
        page = student_page(self.book, student.id, self.decks[self.deck])
        if page is not None:
            self.app.push_screen(PageScreen(page.line.name, student_words(page)))

    def action_skill(self) -> None:
        from scores.classes.views import skill_page

        skill = self.query_one(Heat).skill
        if skill is None or self.view is None:
            return
        page = skill_page(self.view, skill)
        if page is not None:
            self.app.push_screen(PageScreen(words(skill), skill_page_words(page)))

    def action_mixups(self) -> None:
        from scores.classes.views import mixups

        if self.book is not None:
            mixed = mixups(self.book, self.decks[self.deck])
            self.app.push_screen(PageScreen("What the class mixes up", mixup_words(mixed)))

    def action_not_begun(self) -> None:
        if self.view is not None:
            waiting = "\n".join(self.view.not_begun) or (
                "Everyone listed has begun. To list the class: coach class expect FILE"
            )
            self.app.push_screen(PageScreen("Not begun", waiting))

    def action_deck(self) -> None:
        if self.book is not None:
            self.deck = (self.deck + 1) % len(self.decks)
            self.fill()

    def action_back(self) -> None:
        self.dismiss()


def words(skill: Skill) -> str:
    """A skill in words."""
    return skill_words(f"{skill[0]}:{skill[1]}")


def student_words(page: StudentPage) -> str:
    """One student: days, weakest skills, targets, mix-ups."""
    line = page.line
    reach = "not known yet" if line.need is None else f"{100 * (1 - line.need):.0f} of 100"
    parts = [f"{line.tries:,} answers on {line.days} days; reach {reach}."]
    weak = [
        f"  {100 * line.cells[skill].reach:3.0f}  {words(skill)} ({line.cells[skill].tries})"
        for skill in line.weakest
    ]
    if weak:
        parts.append("\n".join(["Skills, the weakest first (reach of 100, answers)", *weak]))
    if page.targets:
        named = [f"  {grade:.2f}  {name} ({tries})" for name, tries, grade in page.targets]
        parts.append("\n".join(["Named colours (mean grade, answers)", *named]))
    if page.mixups:
        parts.append("Mixed up\n" + mixup_words(page.mixups))
    days = [
        f"  {day.day:2} {day:%b}  answers {tries:3}, grade {grade:.2f}"
        for day, tries, grade in page.days
    ]
    parts.append("\n".join(["Day by day", *days]))
    return "\n\n".join(parts)


def skill_page_words(page: SkillPage) -> str:
    """One skill: every student who tried it, the neediest first."""
    head = f"{page.line.students} students, {page.line.tries:,} answers."
    lines = [
        f"  {100 * cell.reach:3.0f}  {line.name} ({cell.tries} answers"
        f"{'' if cell.telling else ', too few to tell'})"
        for line, cell in page.students
    ]
    return "\n".join([head, "", "Reach of 100, the least first", *lines])


def mixup_words(mixed: tuple[Mixup, ...]) -> str:
    """Families taken for others, the commonest first."""
    return (
        "\n".join(
            f"  {one.truth} taken for {one.said}: {one.tries} of {one.asked} times" for one in mixed
        )
        or "  Nothing is mixed up."
    )
