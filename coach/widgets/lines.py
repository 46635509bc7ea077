"""A list to look through, line by line; where large things are wanted, fewer lines set apart."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Self

from textual.strip import Strip
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from coach.design.large import one_figure

if TYPE_CHECKING:
    from textual.visual import VisualType


class Lines(OptionList):
    """Textual's list; on a large screen a line has one figure at most and an empty row below."""

    @property
    def large(self) -> bool:
        return self.is_attached and self.screen.has_class("-large")

    def add_options(self, new_options: Iterable[Option | VisualType | None]) -> Self:
        options = list(new_options)
        if self.large:
            options = [_large(option) for option in options]
        return super().add_options(options)

    def replace_option_prompt(self, option_id: str, prompt: VisualType) -> Self:
        return super().replace_option_prompt(option_id, _apart(prompt) if self.large else prompt)

    def on_mount(self) -> None:
        # What it was made with came before it stood on any screen.
        if self.large and self.option_count:
            at, made = self.highlighted, self.options
            self.set_options(list(made))
            self.highlighted = at

    def render_line(self, y: int) -> Strip:
        strip = super().render_line(y)
        if self.large and not strip.text.strip():
            # The mark is on the words alone, not on the empty row below.
            return Strip.blank(strip.cell_length, self.rich_style)
        return strip


def _large(option: Option | VisualType | None) -> Option | VisualType | None:
    if isinstance(option, Option):
        return Option(_apart(option.prompt), id=option.id, disabled=option.disabled)
    return None if option is None else _apart(option)


def _apart(prompt: VisualType) -> VisualType:
    return f"{one_figure(prompt.rstrip())}\n " if isinstance(prompt, str) else prompt
