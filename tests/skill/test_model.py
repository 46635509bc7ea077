"""One model of the learner: what it knows, how it is kept, and that its parts are needed."""

from __future__ import annotations

import json
import random
from functools import cache

import numpy as np
import pytest

from scores.skill.model import learner as rules
from scores.skill.model import settings
from scores.skill.model.blob import as_bytes, from_bytes
from scores.skill.model.estimates import figures_on, skills_on
from scores.skill.model.figures import figures_from_json
from scores.skill.model.layout import Layout, layout_of
from scores.skill.model.learner import Learner, ModelAnswer, answered, answered_all, begin, on_day
from scores.skill.model.offered import for_layout
from scores.skill.skill_words import WHEEL
from tests.test_floors import loaded_after

DAY = 740_000
KINDS = {"hue": ((0.5, 0.04), 0.25), "value": ((20.0, 0.8), 0.5), "mute": ((6.0, 1.0), 0.25)}


def small(regions: tuple[str, ...] = WHEEL[:6], kinds: tuple[str, ...] = tuple(KINDS)) -> Layout:
    return layout_of(KINDS, [f"{kind}:{region}" for kind in kinds for region in regions])


@cache
def practised() -> Learner:
    """Four days of a learner whose blues are coarser."""
    rng = random.Random(11)
    layout = small()
    answers = []
    for day in range(4):
        for _ in range(40):
            skill = rng.choice(layout.skills)
            step = KINDS[skill.partition(":")[0]][0][0] * rng.uniform(0.2, 0.6)
            answers.append(ModelAnswer(skill, step, rng.random() < 0.75, DAY + day))
    return answered_all(begin(layout), answers)


def test_a_right_answer_makes_a_threshold_finer_and_a_wrong_one_coarser() -> None:
    new = begin(small())
    skill = "hue:yellow"
    place = new.layout.place[skill]
    start = skills_on(new, DAY)[0][place]
    assert skills_on(answered(new, ModelAnswer(skill, 0.2, True, DAY)), DAY)[0][place] < start
    assert skills_on(answered(new, ModelAnswer(skill, 0.2, False, DAY)), DAY)[0][place] > start


def test_an_answer_tells_of_kindred_skills_too_and_most_of_its_own() -> None:
    """Pooling: the kind's other skills move by more than those of another kind and family."""
    new = begin(small())
    before, after = (
        skills_on(s, DAY)[0] for s in (new, answered(new, ModelAnswer("hue:red", 0.3, False, DAY)))
    )
    moved = dict(zip(new.layout.skills, after - before, strict=True))
    assert moved["hue:red"] > moved["hue:yellow"] > moved["mute:yellow"] > 0
    assert moved["mute:red"] > moved["mute:yellow"]


def test_an_answer_is_the_exact_posterior_of_one_threshold_but_for_its_shape() -> None:
    """Against a plain grid: the mean and spread of one skill after one answer."""
    new = begin(small())
    skill, step = "hue:yellow", 0.25
    place, scale = new.layout.place[skill], new.layout.kinds[0].scale
    assert new.layout.kinds[0].name == "hue"
    setting = settings.SETTINGS[0]
    mean, variance = new.mean[0, place], new.cov[0, place, place]
    u = np.linspace(mean - 2.5, mean + 2.5, 4001)
    bell = np.exp(-0.5 * (u - mean) ** 2 / (variance + setting.mood**2))
    seen = rules.moments(  # the same function, asked node by node
        scale.intensity(step), True, u, np.full_like(u, 1e-12), 0.25, _shape(new)
    )[0]
    weights = bell * seen
    weights /= weights.sum()
    exact = float(weights @ u)
    after = answered(new, ModelAnswer(skill, step, True, DAY))
    seen_mean = after.mean[0, place] + after.mean[0, -1]
    assert seen_mean == pytest.approx(exact, abs=2e-4)


def _shape(learner: Learner) -> np.ndarray:
    return learner.slope[0][:, None, None] * learner.guess[0][:, None] * learner.lapse


def test_a_bad_day_is_laid_to_the_day_when_every_skill_goes_wrong_at_once() -> None:
    """Mood: after a day of misses most comes back overnight; without moods it would not."""
    known = practised()
    day = DAY + 5
    before = skills_on(known, day)[0].mean()
    bad = answered_all(
        known,
        [
            ModelAnswer(s, 3.0 if "mute" in s else 0.25, False, day)
            for s in [f"{k}:{r}" for k in ("hue", "mute") for r in WHEEL[:6]]
        ],
    )
    mood = float(bad.weight @ bad.mean[:, -1])
    assert mood > 0.01
    calm = on_day(bad, day + 1)
    assert float(calm.weight @ calm.mean[:, -1]) < 0.8 * mood
    assert skills_on(bad, day)[0].mean() > before


def test_a_rest_makes_what_is_known_less_sure_and_thresholds_coarser() -> None:
    known = practised()
    soon, late = skills_on(known, DAY + 4), skills_on(known, DAY + 104)
    assert (late[1] > soon[1]).all()
    assert late[0].mean() > soon[0].mean() - 0.02


def test_no_state_is_changed_in_place() -> None:
    known = practised()
    before = as_bytes(known)
    answered(known, ModelAnswer("hue:red", 0.2, True, DAY + 9))
    answered_all(known, [ModelAnswer("hue:red", 0.2, True, DAY + 3)] * 3)
    figures_on(known, DAY + 50)
    assert as_bytes(known) == before


def test_many_answers_at_once_come_to_the_same_as_one_by_one() -> None:
    answers = [
        ModelAnswer(s, 0.2, s != "hue:red", DAY + i // 4) for i, s in enumerate(small().skills)
    ]
    one = begin(small())
    for answer in answers:
        one = answered(one, answer)
    many = answered_all(begin(small()), answers)
    assert np.allclose(one.mean, many.mean, atol=1e-12)
    assert np.allclose(one.cov, many.cov, atol=1e-12)


def test_a_covariance_stays_one_over_thousands_of_answers_and_long_pauses() -> None:
    rng = random.Random(3)
    now, day = begin(small(WHEEL[:3])), DAY
    for _ in range(60):
        day += rng.choice((1, 1, 2, 30, 900))
        now = answered_all(
            now,
            [
                ModelAnswer(
                    rng.choice(now.layout.skills),
                    10 ** rng.uniform(-1.5, 1.5),
                    rng.random() < 0.6,
                    day,
                )
                for _ in range(40)
            ],
        )
    assert np.isfinite(now.mean).all()
    assert np.linalg.eigvalsh(now.cov).min() > -1e-9
    assert np.allclose(now.cov, np.swapaxes(now.cov, 1, 2), atol=1e-12)


@pytest.mark.parametrize("step", [0.0, -1.0, float("nan"), float("inf")])
def test_a_step_that_is_no_step_changes_nothing(step: float) -> None:
    known = practised()
    assert answered(known, ModelAnswer("hue:red", step, True, DAY + 9)) is known
    assert answered(known, ModelAnswer("unknown:red", 0.2, True, DAY + 9)) is known


def test_a_day_or_two_back_is_no_time_and_a_clock_put_right_is_followed() -> None:
    known = practised()
    assert on_day(known, DAY + 2) is known
    ahead = answered(known, ModelAnswer("hue:red", 0.2, True, DAY + 90_000))
    right = answered(ahead, ModelAnswer("hue:red", 0.2, True, DAY + 5))
    assert right.day == DAY + 5
    assert right.last.max() == DAY + 5
    assert np.isfinite(right.mean).all()


def test_a_guess_that_is_nearly_always_right_tells_nothing() -> None:
    known = practised()
    assert answered(known, ModelAnswer("hue:red", 0.2, True, DAY + 9, chance=0.9)) is known
    told = [
        skills_on(answered(known, ModelAnswer("hue:red", 0.2, True, DAY + 4, c)), DAY + 4)[0]
        for c in (0.0, 0.5)
    ]
    place = known.layout.place["hue:red"]
    assert told[0][place] < told[1][place]


def test_a_figure_read_later_is_near_what_the_state_would_tell() -> None:
    known = practised()
    figures = figures_on(known, DAY + 4)
    mean, sd = skills_on(known, DAY + 40)
    for skill, place in known.layout.place.items():
        later = figures.later(skill, DAY + 40)
        assert later.mean == pytest.approx(mean[place], abs=0.03)
        assert later.sd == pytest.approx(sd[place], rel=0.25)
        due = figures.due_day(skill)
        assert due is not None
        assert due > figures.skills[skill].last


def test_the_state_comes_back_from_its_bytes() -> None:
    known = practised()
    again = from_bytes(as_bytes(known))
    assert again is not None
    assert again.layout == known.layout
    for one, other in zip(skills_on(known, DAY + 9), skills_on(again, DAY + 9), strict=True):
        assert np.allclose(one, other, atol=2e-4)
    later = [answered(s, ModelAnswer("hue:red", 0.2, True, DAY + 9)) for s in (known, again)]
    assert np.allclose(later[0].mean, later[1].mean, atol=1e-3)


@pytest.mark.parametrize("cut", [0, 3, 7, 40, 900, -4])
def test_bytes_cut_short_or_spoilt_are_no_state(cut: int) -> None:
    data = as_bytes(practised())
    assert from_bytes(data[:cut]) is None
    assert from_bytes(b"XXXX" + data[4:]) is None
    assert from_bytes(data.replace(b'"version":2', b'"version":0')) is None
    assert from_bytes(data[:-4] + b"\x00\x00\xc0\x7f") is None


def test_figures_come_back_from_plain_json_and_need_no_numpy() -> None:
    figures = figures_on(practised(), DAY + 5)
    text = json.dumps(figures.as_json())
    again = figures_from_json(json.loads(text))
    assert again is not None
    assert again.interval("hue:red") == pytest.approx(figures.interval("hue:red"), rel=1e-3)
    assert again.step_to_ask("hue:red") == pytest.approx(figures.step_to_ask("hue:red"), rel=1e-3)
    assert figures_from_json([99, *json.loads(text)[1:]]) is None
    assert figures_from_json({"no": "figures"}) is None
    assert "numpy" not in loaded_after("import scores.skill.model.figures")


def test_intervals_are_in_the_kinds_unit_and_pooled_ones_are_narrower() -> None:
    figures = figures_on(practised(), DAY + 5)
    threshold, low, high = figures.interval("value:red")
    assert 0 < low < threshold < high
    kind = figures.kinds["value"].pooled
    assert kind.sd < min(f.sd for s, f in figures.skills.items() if s.startswith("value"))
    assert figures.person.answers == 160


def test_the_step_asked_is_expected_right_four_times_in_five() -> None:
    figures = figures_on(practised(), DAY + 5)
    for skill in figures.skills:
        step = figures.step_to_ask(skill)
        easiest, hardest = figures.kinds[skill.partition(":")[0]].steps
        assert min(easiest, hardest) <= step <= max(easiest, hardest)
        if step not in (easiest, hardest):
            assert figures.expected_right(skill, step) == pytest.approx(0.8, abs=0.06)
    assert figures.step_to_ask("hue:red", finest=0.45) >= 0.45


def test_new_skills_are_placed_by_the_known_ones_and_old_ones_keep_what_is_known() -> None:
    known = practised()
    more = for_layout(known, small(WHEEL))
    before, after = skills_on(known, DAY + 4), skills_on(more, DAY + 4)
    for skill, place in known.layout.place.items():
        other = more.layout.place[skill]
        assert after[0][other] == pytest.approx(before[0][place], abs=1e-9)
        assert after[1][other] == pytest.approx(before[1][place], abs=1e-9)
    new = more.layout.place["hue:violet"]
    fresh = skills_on(begin(small(WHEEL)), DAY + 4)
    assert after[1][new] < fresh[1][new]
    assert np.linalg.eigvalsh(more.cov).min() > -1e-9
    fewer = for_layout(more, small())
    assert np.allclose(fewer.cov, known.cov, atol=1e-9)
    assert for_layout(known, known.layout) is known
