"""The class: students by skills, sorted by need; one student, one skill, who has not begun."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Static

from coach.design.large import fewer, one_figure, short
from coach.design.measures import MEASURE, WIDE
from coach.reports.classes.pages_in_words import mixup_words, skill_page_words, student_words
from coach.reports.classes.words import (
    confusion_lines,
    course_head,
    course_lines,
    head_words,
    paper_words,
    place_words,
    places_words,
    skill_in_words,
    skill_level_words,
)
from coach.screens.base import CoachScreen
from coach.screens.words_page import PageScreen
from coach.teaching.class_opened import ClassReading
from coach.widgets.heat import Heat
from coach.widgets.hints import Hint, Hints
from drills.basics.counted import counted
from drills.basics.errors import InputError
from scores.skill.skill_words import side_by_side

if TYPE_CHECKING:
    from pathlib import Path

    from coach.host import HostApp
    from scores.classes.courses import CourseLine
    from scores.classes.standing_lines import ClassStanding
    from scores.classes.store import ClassBook
    from scores.classes.views import ClassView

LEGEND = (
    "Y yellow, O orange, R red, V violet, B blue, G green, YG between\n"
    "Students: ▼ weakest third  ■ stuck  ? not known yet  · on track\n"
    "Skills: █ far from it  ▓ ▒ ░  · as far as drills go  ? not known"
)


class ClassroomScreen(CoachScreen[None]):
    """One deck's class, or all decks together."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("enter", "student", "Student"),
        Binding("b", "brief", "Brief"),
        Binding("s", "skill", "Skill"),
        Binding("m", "mixups", "Mixed up"),
        Binding("f", "wheel", "Families"),
        Binding("n", "not_begun", "Not begun"),
        Binding("d", "deck", "Deck"),
        Binding("c", "course", "Course"),
        Binding("a", "collect", "Add results"),
        Binding("r", "reply", "Reply"),
        Binding("w", "write", "Make a deck"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.book: ClassBook | None = None
        self._reading = ClassReading()
        self.view: ClassView | None = None
        self.standing: ClassStanding | None = None
        self.titles: Mapping[str, str] = {}
        self.decks: tuple[str, ...] = ("",)
        self.deck = 0
        self.courses: tuple[CourseLine, ...] = ()

    def compose(self) -> ComposeResult:
        yield Static("The class", id="title", classes="title", markup=False)
        with Horizontal(id="both"):
            yield Heat()
            with VerticalScroll(id="one", can_focus=False):
                yield Static("", id="name", markup=False)
                yield Static("", id="detail", markup=False)
        yield Static("", id="cell", classes="words", markup=False)
        yield Static(LEGEND, id="legend", classes="words faint", markup=False)
        yield Hints(
            Hint("↑↓←→", "look"),
            Hint("Enter", "student", "student"),
            Hint("b", "brief", "brief"),
            Hint("s", "skill", "skill"),
            Hint("m", "mix-ups", "mixups"),
            Hint("f", "families", "wheel"),
            Hint("n", "not begun", "not_begun"),
            Hint("d", "deck", "deck"),
            Hint("c", "course", "course"),
            Hint("a", "add results", "collect"),
            Hint("r", "reply", "reply"),
            Hint("w", "make a deck", "write"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.open_class()

    def open_class(self) -> None:
        """Read the class anew."""
        from coach.home import class_path
        from scores.classes.store import ClassBook
        from scores.classes.views import decks

        if self.book is not None:
            self.book.close()
            self.book = None
        try:
            self.book = ClassBook.open(class_path(), create=False)
        except InputError as error:
            self.query_one("#cell", Static).update(str(error))
            return
        self.decks = ("", *(line.fingerprint for line in decks(self.book)))
        self.fill()
        self.query_one(Heat).focus()

    def on_unmount(self) -> None:
        self._reading.leave()
        if self.book is not None:
            self.book.close()

    def fill(self) -> None:
        from scores.classes.courses import courses
        from scores.classes.views import overview

        assert self.book is not None
        deck = self.decks[self.deck]
        self.courses = courses(self.book)
        self.view, self.standing = overview(self.book, deck), None
        self._heading("Reading the answers…" if self.view.students else "")
        self.show_students()
        self._read(self.book.path, deck)

    @work(thread=True, exclusive=True)
    def _read(self, path: Path, deck: str) -> None:
        """Read the class by its model."""
        from coach.reports.classes.kinds import kind_scales, kind_titles

        try:
            found = self._reading.standing(path, deck, kind_scales)
        except InputError as error:
            self.app.call_from_thread(self._heading, str(error))
            return
        if found is not None:
            self.app.call_from_thread(self._placed, deck, found, kind_titles())

    def _placed(self, deck: str, standing: ClassStanding, titles: Mapping[str, str]) -> None:
        if self.view is None or deck != self.decks[self.deck]:
            return
        self.standing, self.titles = standing, titles
        if self.view.students:
            self._heading(head_words(standing))
        self.show_students()

    def _heading(self, words: str) -> None:
        assert self.view is not None
        deck = self.view.deck.title if self.view.deck else "every deck"
        told = counted(len(self.view.students), "student")
        if self.has_class("-large"):
            # The students' own lines say how the others stand.
            words = one_figure(words)
        else:
            told += f", {len(self.view.not_begun)} not begun" if self.view.not_begun else ""
            told += f" · {counted(self.view.tries, 'answer')}"
        self.query_one("#title", Static).update(f"The class · {deck} · {told}\n{words}")

    def show_students(self) -> None:
        """Students as they stand, once that is known; drills side by side, round the wheel."""
        assert self.view is not None
        placed = {} if self.standing is None else self.standing.by_student()
        order = {student: at for at, student in enumerate(placed)}
        students = sorted(self.view.students, key=lambda one: order.get(one.id, 0))
        skills = sorted((line.skill for line in self.view.skills), key=side_by_side)
        self.query_one(Heat).show(students, skills, placed, self.titles)
        self.on_heat_moved()

    def on_heat_moved(self) -> None:
        """Say in words what the marked cell shows, and beside it all of the marked student."""
        self._show_one()
        heat = self.query_one(Heat)
        student, skill = heat.student, heat.skill
        if student is not None and skill is None and student.on_paper:
            told = f"{student.name}: {paper_words(student.on_paper)}"
            self.query_one("#cell", Static).update(told)
            return
        if student is None or skill is None:
            self.query_one("#cell", Static).update(
                "No results yet. a adds what students sent: a folder of files, in any order."
            )
            return
        cell = student.cells.get(skill)
        told = (
            "not tried"
            if cell is None
            else f"{cell.right} of {cell.tries} right, last {cell.last_day.day} {cell.last_day:%B}"
        )
        one = None if self.standing is None else self.standing.by_student().get(student.id)
        known = None if one is None else one.skills.get(skill)
        if known is not None:
            told = f"level {skill_level_words(known)}; {told}"
        stands = "" if one is None else f": {place_words(one, self.titles)}"
        what = skill_in_words(skill, self.titles)
        paper = f"; {paper_words(student.on_paper)}" if student.on_paper else ""
        lines = [f"{student.name}{stands}{paper}", f"{what}: {told}"]
        lines[1:1] = places_words(self.courses, student.id)
        if self.has_class("-large"):
            lines = [one_figure(self._told(line)) for line in lines]
        self.query_one("#cell", Static).update("\n".join(lines))

    def on_resize(self) -> None:
        self._show_one()

    def _show_one(self) -> None:
        """The marked student's page beside the class, where there is room for it."""
        if self.size.width < WIDE:
            return
        name, told = self._student_told()
        self.query_one("#name", Static).update(name)
        self.query_one("#detail", Static).update(self._told(told))

    def _told(self, words: str) -> str:
        """The words of a page; where large things are wanted with fewer figures, set apart."""
        return fewer(words) if self.has_class("-large") else words

    def _open_page(self, title: str, words: str) -> None:
        self.app.push_screen(PageScreen(title, self._told(words)))

    def _student_told(self) -> tuple[str, str]:
        """The marked student's name and page; nothing where none is marked."""
        from scores.classes.views import student_page

        student = self.query_one(Heat).student
        page = student and self.book and student_page(self.book, student.id, self.decks[self.deck])
        if student is None or not page:
            return "", ""
        one = None if self.standing is None else self.standing.by_student().get(student.id)
        at = places_words(self.courses, student.id)
        return page.line.name, "\n".join([*at, student_words(page, one, self.titles)])

    def action_student(self) -> None:
        name, told = self._student_told()
        if name:
            self._open_page(name, told)

    def action_skill(self) -> None:
        from scores.classes.views import skill_page

        skill = self.query_one(Heat).skill
        page = skill_page(self.view, skill) if skill is not None and self.view else None
        if skill is not None and page is not None:
            told = skill_page_words(page, self.standing)
            self._open_page(skill_in_words(skill, self.titles), told)

    def action_mixups(self) -> None:
        from scores.classes.views import mixups

        if self.book is not None and self.standing is not None:
            beyond = "\n".join(f"  {one}" for one in confusion_lines(self.standing.confusions))
            every = mixup_words(mixups(self.book, self.decks[self.deck]))
            told = f"More than chance gives\n{beyond}\n\nAll, those by chance among them\n{every}"
            self._open_page("What the class mixes up", told)

    def action_wheel(self) -> None:
        """The class in each hue family."""
        from coach.screens.wheel.of_class import ClassWheelScreen

        if self.view is not None and self.standing is not None:
            name = self.view.deck.title if self.view.deck else "every deck"
            self.app.push_screen(ClassWheelScreen(name, self.standing, self.titles))

    def action_course(self) -> None:
        """Where each student stands in each course, whatever the level."""
        if self.view is None:
            return
        names = {one.id: one.name for one in self.view.students}
        parts = [
            "\n".join([course_head(one), *(f"  {line}" for line in course_lines(one, names))])
            for one in self.courses
        ]
        none = "No course yet. To see the two that come with the coach: coach course starters"
        self.app.push_screen(PageScreen("Courses", "\n\n".join(parts) or none))

    def action_brief(self) -> None:
        from coach.reports.classes.brief import brief_of
        from coach.reports.classes.brief_page import brief_lines

        if self.view is None or self.standing is None:
            return
        name = self.view.deck.title if self.view.deck else "every deck"
        made = brief_of(name, self.standing, self.view.not_begun, self.titles, self.view.students)
        said = short if self.has_class("-large") else None
        lines = brief_lines(made, min(MEASURE, self.size.width - 6), False, said)
        note = "Print it, with its colours: coach class brief --html FILE"
        self._open_page("Before class", "\n".join([*lines, "", note]))

    def action_collect(self) -> None:
        """Add what students sent."""
        from coach.screens.teaching.collect import CollectScreen

        self.app.push_screen(CollectScreen(), self._collected)

    def action_reply(self) -> None:
        """Reply to the marked student, or to a question that came."""
        from coach.screens.teaching.answer import AnswerScreen

        student = self.query_one(Heat).student
        self.app.push_screen(AnswerScreen("" if student is None else student.name))

    def action_write(self) -> None:
        """Make a deck to send."""
        from coach.screens.teaching.write_deck import WriteDeckScreen

        self.app.push_screen(WriteDeckScreen())

    def _collected(self, any_came: bool | None) -> None:
        if any_came:
            self.open_class()

    def action_not_begun(self) -> None:
        from coach.reports.classes.people_words import doubt_lines
        from scores.classes.people import of_one_name

        if self.view is not None and self.book is not None:
            waiting = "\n".join(self.view.not_begun) or (
                "Everyone listed has begun. To list the class: coach class expect FILE"
            )
            asked = "\n\n".join(doubt_lines(self.view.doubts, of_one_name(self.book)))
            told = "\n\n".join(filter(None, (waiting, asked)))
            self._open_page("Not begun, and who may be who", told)

    def action_deck(self) -> None:
        if self.book is not None:
            self.deck = (self.deck + 1) % len(self.decks)
            self.fill()

    def action_back(self) -> None:
        self.dismiss()
