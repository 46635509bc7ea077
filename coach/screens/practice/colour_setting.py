"""A question in which a colour is set: the swatch that is moved, and its answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.screens.base import CoachScreen
from coach.widgets.adjusting_swatch import AdjustingSwatch
from coach.widgets.choices import Choices
from coach.widgets.scene import Scene
from drills.questions.adjusting import Setting, key_of

if TYPE_CHECKING:
    from drills.questions.protocol import Ask


class ColourSettingScreen(CoachScreen[None]):
    """Has an ``AdjustingSwatch`` beside its ``Scene`` and ``Choices``."""

    @property
    def setting(self) -> AdjustingSwatch:
        """The swatch that is moved."""
        return self.query_one(AdjustingSwatch)

    def show_swatches(self, asked: Ask) -> None:
        """The scene, and the colour to set: one swatch of the scene touches that."""
        setting, scene = self.setting, self.query_one(Scene)
        setting.display = asked.start is not None
        beside = asked.scene[0].lab if setting.display and len(asked.scene) == 1 else None
        scene.swatches = asked.scene
        scene.display = bool(asked.scene) and beside is None
        if asked.start is not None:
            setting.target = beside
            setting.setting = Setting.of(asked.start)

    def on_adjusting_swatch_equal(self, message: AdjustingSwatch.Equal) -> None:
        from drills.questions.draw import as_shown

        choices = self.query_one(Choices)
        if choices.form == "set":
            choices.reply((key_of(as_shown(message.lab)),))

    def action_equal(self) -> None:
        """Answer with the colour as it is set."""
        self.setting.action_equal()

    def action_steps(self) -> None:
        """Finer steps, or wider ones."""
        self.setting.action_steps()
