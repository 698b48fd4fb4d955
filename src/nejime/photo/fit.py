"""Solving the least-squares problem, and how sure its answer is.

Model: Levenberg-Marquardt from given starts, slopes by central differences of all unknowns at once;
the covariance is that of the linearised problem, scaled by how well the marks fit. How well people
mark is known beforehand as if ten marks had told it, so few marks do not decide it alone.
Source: any textbook of adjustment computations; the solver is scipy.optimize.least_squares.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from scipy.optimize import least_squares

from nejime.photo.camera import Floats
from nejime.photo.problem import Problem, State

STEP = 1e-5  # [own] of the differences: radians, cm and logarithms alike
MOST_ROUNDS = 60  # [own] of the solver; a fit takes about ten
FIRST_ROUNDS = 9  # [own] of every start, before those that lead nowhere are left
NOWHERE = 300.0  # [own] squares by which a start then is so much worse that it leads nowhere
KNOWN_AS = 10.0  # [own] marks' worth of knowing how well people mark
FEET_KNOWN_AS = 2.0  # [own] the same for feet, which leaves often hide
FEET_ROUNDS = 3  # [own] of weighing them anew; it settles
WIDER = 1.08  # [own] of two views the linearised problem is too sure: it held 93 to 95 of 100
UNSURE_FEET = 1.5  # [own] feet that fit this much worse than thought are trusted less
TABLE_CM = -2.0  # [own] an end lower than this is not one that was marked badly
AS_GOOD = 8.0  # [own] an answer whose squares are so near the best one's may be the right one
ELSEWHERE = 0.2  # [own] of its distance: a camera that stands so far off stands elsewhere


@dataclass(frozen=True, slots=True)
class Fit:
    """A solved problem: the unknowns, their covariance where they are free, and the misfit.

    `freedom`: degrees of freedom, what is known beforehand counted in. `noise`: the factor by which
    marks are less (or more) sure than thought. `cost`: the sum of the squared residuals.
    """

    problem: Problem
    unknown: Floats
    covariance: Floats
    freedom: float
    noise: float
    cost: float

    @property
    def state(self) -> State:
        """The unknowns by name."""
        return self.problem.unfold(self.unknown)

    def draws(self, count: int, chance: np.random.Generator) -> State:
        """`count` draws of the unknowns, as Student's t with the fit's degrees of freedom."""
        free = self.problem.free()
        root = _root(self.covariance)
        normal = chance.standard_normal((count, len(free))) @ root.T
        wide = np.sqrt(self.freedom / chance.chisquare(self.freedom, (count, 1)))
        trials = np.repeat(self.unknown[None, :], count, axis=0)
        trials[:, free] += normal * wide * (WIDER if len(self.problem.views) > 1 else 1.0)
        return self.problem.unfold(trials)


def solved(starts: Sequence[tuple[Problem, Floats]]) -> tuple[Fit, ...]:
    """The answers that may be right, best first; feet that fit badly are trusted less.

    An answer is left out where it is much worse than the best one, has its cameras where a better
    one has them, or has an end under the table while another has none. `cost` is told before feet
    are weighed, so that answers can be compared.
    """
    tried = [_solved(*start, rounds=FIRST_ROUNDS) for start in starts]
    likely = min(each.cost for each in tried) + NOWHERE
    fits = [_solved(each.problem, each.unknown) for each in tried if each.cost <= likely]
    found = sorted(fits, key=lambda fit: fit.cost)
    found = [each for each in found if np.all(each.state.tip[:, 2] > TABLE_CM)] or found
    kept: list[Fit] = []
    for each in found:
        if each.cost - found[0].cost < AS_GOOD and all(_elsewhere(each, other) for other in kept):
            kept.append(each)
    return tuple(replace(_feet_weighed(each), cost=each.cost) for each in kept)


def _elsewhere(one: Fit, other: Fit) -> bool:
    """Whether any camera stands elsewhere in one answer than in the other."""
    here, there = one.state.centre, other.state.centre
    apart = np.linalg.norm(here - there, axis=-1)
    return bool(np.any(apart > ELSEWHERE * np.linalg.norm(there, axis=-1)))


def draws_of(fits: Sequence[Fit], count: int, chance: np.random.Generator) -> tuple[State, int]:
    """`count` draws from all answers, as many of each as it is likely, and those of the best."""
    likely = np.exp([(fits[0].cost - each.cost) / 2.0 for each in fits])
    ends = np.rint(count * np.cumsum(likely) / np.sum(likely)).astype(int)
    counts = np.diff(ends, prepend=0)
    parts = [fit.draws(int(each), chance) for fit, each in zip(fits, counts, strict=True)]
    pooled = {
        each.name: np.concatenate([getattr(part, each.name) for part in parts])
        for each in fields(State)
    }
    return State(**pooled), int(counts[0])


def _feet_weighed(fit: Fit) -> Fit:
    """The fit again with feet trusted as they deserve: marked behind leaves they are far off."""
    told = fit.problem
    misfits = told.foot_misfits(fit.unknown)
    spare = max(0.0, len(misfits) - 2.0 * told.stems)
    for _ in range(FEET_ROUNDS if spare else 0):
        misfits = told.foot_misfits(fit.unknown)
        worse = (FEET_KNOWN_AS + float(misfits @ misfits)) / (FEET_KNOWN_AS + spare)
        if worse < UNSURE_FEET:
            break
        fit = _solved(told.with_feet_px(float(np.sqrt(worse))), fit.unknown)
    return fit


def _solved(problem: Problem, start: Floats, rounds: int = MOST_ROUNDS) -> Fit:
    free = problem.free()

    def whole(part: Floats) -> Floats:
        unknown = np.broadcast_to(start, (*part.shape[:-1], len(start))).copy()
        unknown[..., free] = part
        return unknown

    def misfits(part: Floats) -> Floats:
        return problem.residuals(whole(part))

    def slopes(part: Floats) -> Floats:
        steps = STEP * np.eye(len(part))
        ahead, behind = misfits(part + steps), misfits(part - steps)
        return (ahead - behind).T / (2.0 * STEP)

    answer = least_squares(
        misfits, start[free], jac=slopes, method="lm", x_scale="jac", max_nfev=rounds
    )
    spare = len(answer.fun) - len(free)
    cost = 2.0 * float(answer.cost)
    square = (KNOWN_AS + cost) / (KNOWN_AS + max(spare, 0))
    return Fit(
        problem=problem,
        unknown=whole(answer.x),
        covariance=square * _inverse(answer.jac),
        freedom=KNOWN_AS + max(spare, 0),
        noise=float(np.sqrt(square)),
        cost=cost,
    )


def _inverse(slopes: Floats) -> Floats:
    """(JᵀJ)⁻¹ by singular values of the columns at equal scale."""
    size = np.linalg.norm(slopes, axis=0)
    size = np.where(size > 0.0, size, 1.0)
    _, values, right = np.linalg.svd(slopes / size, full_matrices=False)
    values = np.maximum(values, values[0] * 1e-9)
    half = (right.T / values) / size[:, None]
    inverse: Floats = half @ half.T
    return inverse


def _root(covariance: Floats) -> Floats:
    values, axes = np.linalg.eigh(covariance)
    root: Floats = axes * np.sqrt(np.maximum(values, 0.0))
    return root
