"""Our threshold against the ``questplus`` package's, on the same simulated observers.

``python -m tests.bench.bench_threshold`` prints the table; ``measure`` gives the
numbers. Needs ``questplus`` (the extra ``bench``). Both start from the same
prior over the same thresholds, slopes and lapse rates, and may ask the same
steps. Observers are Weibull observers whose slopes and lapse rates lie off both
grids. ``questplus`` asks what it finds most informative; ours must also keep the
learner right about four times in five.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from datetime import date
from importlib.util import find_spec
from statistics import fmean
from time import perf_counter

from scores.skill.psychometric import LAPSES, PROPORTION, SLOPES, Scale, proportion, scale_of
from scores.skill.step_choice import step_to_ask
from scores.skill.threshold import answered, fresh, prior_of

TRIALS = 30
BIAS_ALLOWED = 0.10
RMSE_ALLOWED = 1.15
CHOICE_ALLOWED_MS = 5.0
DAY = date(2026, 3, 2)
EVENLY = ", evenly"
KINDS: tuple[tuple[str, tuple[float, float], float], ...] = (
    ("two choices, ΔL* 20 to 0.8", (20.0, 0.8), 0.5),
    ("four choices, 0.5 to 0.04 wheel steps", (0.5, 0.04), 0.25),
    ("four choices, ΔE00 6 to 1", (6.0, 1.0), 0.25),
    (f"two choices, ΔL* 20 to 0.8{EVENLY}", (20.0, 0.8), 0.5),
)


@dataclass(frozen=True)
class Observer:
    """A Weibull observer; ``log`` is the log10 threshold at PROPORTION right."""

    log: float
    slope: float
    lapse: float
    seed: int

    def answers(self, scale: Scale, rng: random.Random, step: float) -> bool:
        above = scale.intensity(step) - self.log
        return rng.random() < proportion(above, self.slope, self.lapse, scale.chance)


@dataclass(frozen=True)
class Figures:
    """Errors are of log10 thresholds; ``bias`` is a share of the threshold itself."""

    kind: str
    bias: float
    bias_questplus: float
    rmse: float
    rmse_questplus: float
    right: float
    right_questplus: float
    covered: float
    choice_ms: float
    worst_choice_ms: float

    @property
    def ratio(self) -> float:
        return self.rmse / self.rmse_questplus

    @property
    def holds(self) -> bool:
        # Observers that no prior expects pull every estimate to the middle: there the
        # reference's own bias is what may not be passed.
        evenly = self.kind.endswith(EVENLY)
        allowed = max(BIAS_ALLOWED, abs(self.bias_questplus)) if evenly else BIAS_ALLOWED
        return (
            abs(self.bias) <= allowed
            and self.ratio <= RMSE_ALLOWED
            and self.choice_ms <= CHOICE_ALLOWED_MS
        )


def observers(scale: Scale, count: int, seed: int, evenly: bool = False) -> list[Observer]:
    """Learners as the prior expects them, or ``evenly`` over the range, which it does not.

    Kept where steps can be asked on both sides of the threshold.
    """
    rng = random.Random(seed)
    mean, sd = prior_of(scale)
    made: list[Observer] = []
    while len(made) < count:
        log = scale.at_level(rng.uniform(0.05, 0.95)) if evenly else rng.gauss(mean, sd)
        if scale.intensity(scale.steps[1]) < log < scale.intensity(scale.steps[0]):
            slope, lapse = rng.uniform(1.3, 3.6), rng.uniform(0.0, 0.08)
            made.append(Observer(log, slope, lapse, rng.getrandbits(32)))
    return made


def _ours(scale: Scale, who: Observer) -> tuple[float, bool, float, list[float]]:
    """Error of the estimate, whether the interval covers, share right, milliseconds a choice."""
    rng, hits, taken = random.Random(who.seed), 0, []
    now = fresh(scale.steps, scale.chance, DAY)
    assert now is not None
    for _ in range(TRIALS):
        start = perf_counter()
        step = step_to_ask(now, DAY)
        taken.append(1000 * (perf_counter() - start))
        right = who.answers(scale, rng, step)
        hits += right
        now = answered(now, step, right, DAY)
    return now.mean - who.log, now.low <= who.log <= now.high, hits / TRIALS, taken


def _questplus(scale: Scale, who: Observer) -> tuple[float, float]:
    """Error of the package's estimate of the same threshold, and share right."""
    import numpy as np
    import questplus

    k = math.log((1 - scale.chance) / (1 - PROPORTION))
    slopes = [slope for slope, _ in SLOPES]
    shift = math.log10(k) * fmean(1 / slope for slope in slopes)
    mean, sd = prior_of(scale)
    logs = np.array(scale.logs)
    bell = np.exp(-0.5 * ((logs + shift - mean) / sd) ** 2)
    made = questplus.QuestPlusWeibull(
        intensities=logs[scale.hardest : scale.easiest + 1],
        thresholds=logs,
        slopes=slopes,
        lower_asymptotes=[scale.chance],
        lapse_rates=[lapse for lapse, _ in LAPSES],
        prior={
            "threshold": bell / bell.sum(),
            "slope": [weight for _, weight in SLOPES],
            "lower_asymptote": [1.0],
            "lapse_rate": [weight for _, weight in LAPSES],
        },
        responses=["right", "wrong"],
        stim_scale="log10",
        stim_selection_method="min_entropy",
        param_estimation_method="mean",
    )
    rng, hits = random.Random(who.seed), 0
    for _ in range(TRIALS):
        log = float(made.next_intensity)
        right = who.answers(scale, rng, scale.step(log))
        hits += right
        made.update(intensity=log, response="right" if right else "wrong")
    weights = made.posterior.transpose("threshold", "slope", "lower_asymptote", "lapse_rate")
    by_slope = weights.values.sum(axis=(2, 3))
    at = logs[:, None] + math.log10(k) / np.array(slopes)
    return float((by_slope * at).sum() / by_slope.sum()) - who.log, hits / TRIALS


def measure(count: int = 100, seed: int = 2017) -> list[Figures]:
    """Both methods on ``count`` observers a kind."""
    return [_measure(name, steps, chance, count, seed) for name, steps, chance in KINDS]


def _measure(
    name: str, steps: tuple[float, float], chance: float, count: int, seed: int
) -> Figures:
    scale = scale_of(steps, chance)
    assert scale is not None
    group = observers(scale, count, seed, name.endswith(EVENLY))
    ours = [_ours(scale, who) for who in group]
    theirs = [_questplus(scale, who) for who in group]
    times = sorted(ms for *_, taken in ours for ms in taken)
    return Figures(
        kind=name,
        bias=10 ** fmean(run[0] for run in ours) - 1,
        bias_questplus=10 ** fmean(error for error, _ in theirs) - 1,
        rmse=math.sqrt(fmean(run[0] ** 2 for run in ours)),
        rmse_questplus=math.sqrt(fmean(error**2 for error, _ in theirs)),
        right=fmean(run[2] for run in ours),
        right_questplus=fmean(right for _, right in theirs),
        covered=fmean(run[1] for run in ours),
        choice_ms=times[len(times) // 2],
        worst_choice_ms=times[int(len(times) * 0.999)],
    )


def main() -> None:
    """Print the table; exit status 1 when a bound is broken, or questplus is not there."""
    if find_spec("questplus") is None:
        raise SystemExit("bench_threshold needs the package questplus: install the extra bench")
    table = measure()
    print(f"{TRIALS} answers each; errors in log10 threshold; bounds: bias ±10 %, RMSE × 1.15")
    print(f"{'':40}{'bias':>8}{'RMSE':>8}{'right':>7}{'95 % holds':>12}{'ms a choice':>13}")
    for row in table:
        print(
            f"{row.kind:40}{row.bias:+8.1%}{row.rmse:8.3f}{row.right:7.0%}{row.covered:12.0%}"
            f"{row.choice_ms:8.2f} ({row.worst_choice_ms:.1f} at worst but 1 in 1000)"
        )
        print(
            f"{'  questplus':40}{row.bias_questplus:+8.1%}{row.rmse_questplus:8.3f}"
            f"{row.right_questplus:7.0%}   RMSE × {row.ratio:.2f}"
        )
    if not all(row.holds for row in table):
        raise SystemExit(1)


if __name__ == "__main__":
    main()
