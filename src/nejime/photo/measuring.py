"""Measuring a piece: what was marked in one picture or two becomes lengths and angles.

Model: cameras from the rim (`start`), then one least-squares fit of everything that is not known
(`problem`, `fit`). A stem that two views show is in that fit; one that a single view shows is laid
along its line of sight by its length (`single`). All intervals come from draws of what the fit
leaves open.
Frame: see `asked`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from nejime.basis.angles import line as direction
from nejime.photo import bowing, intervals, remarks, single
from nejime.photo.answer import Interval, Line, Measured, MeasuredStem, Status
from nejime.photo.asked import Asked, Known, View
from nejime.photo.camera import Camera, Floats
from nejime.photo.fit import Fit, draws_of, solved
from nejime.photo.problem import State, projected
from nejime.photo.seeing import Setting, setting
from nejime.photo.single import Ends, Sides
from nejime.photo.turning import between_deg
from nejime.photo.upright import UPRIGHT, lean_deg

DRAWS = 3000  # [own] enough for percentiles that do not flicker
WIDEST_DEG = 20.0  # [own] a lean less sure than this is no help to anybody
WIDEST_IN_SPACE_DEG = 30.0  # [own] the same for the line's direction in space
WIDEST_OF_LENGTH = 0.25  # [own] the same for its length
AIM_SPREAD_DEG = 12.0  # [own] how far a beginner's stem is from its aim
DECIDES = 3.0  # [own] the logarithm of twenty to one: of two sides that lie near one another
DECIDES_FAR = 1.1  # [own] of three to one: of sides that nobody would mistake for one another
UPWARDS = np.array([0.0, 0.0, 1.0])
NEIGHBOURS_DEG = 30.0  # [own] undecided sides nearer than this are told as one


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A fit, and draws of what it leaves open; the first `best` of them are its own."""

    asked: Asked
    setting: Setting
    fit: Fit
    draws: State
    best: int
    chance: np.random.Generator

    def marks(self, mark: Floats, spread_px: float) -> Floats:
        """Where a mark may have been meant to be, as surely as people marked."""
        return single.mark_draws(mark, self.fit.noise * spread_px, DRAWS, self.chance)


def measure(asked: Asked, seed: int = 1) -> Measured:
    """What the pictures say of every marked stem.

    `seed` decides the draws behind the intervals. Raises `InputError` at `rim` or `corners` where
    the marks are no picture of the vessel's rim.
    """
    told = setting(asked)
    fits = solved(told.starts)
    chance = np.random.default_rng(seed)
    drawn = _Drawn(asked, told, fits[0], *draws_of(fits, DRAWS, chance), chance)
    cameras = tuple(_camera(fits[0].state, each, view) for each, view in enumerate(asked.views))
    found = [_stem(drawn, number) for number in range(len(told.ids))]
    return Measured(
        rim=asked.rim,
        cameras=cameras,
        stems=tuple(stem for stem, _ in found),
        remarks=(
            *remarks.of_views(asked, fits[0], cameras),
            *remarks.of_turns(asked, fits, cameras),
            *(remarks.too_short(stem.id) for stem, short in found if short),
        ),
    )


def _camera(state: State, number: int, view: View) -> Camera:
    centre, rotation = state.centre[number], state.rotation[number]
    return Camera(
        width_px=view.width_px,
        height_px=view.height_px,
        focal_px=float(state.focal[number]),
        centre_cm=(float(centre[0]), float(centre[1]), float(centre[2])),
        rotation=tuple((float(row[0]), float(row[1]), float(row[2])) for row in rotation),
        k1=float(state.k1),
    )


def _stem(drawn: _Drawn, number: int) -> tuple[MeasuredStem, bool]:
    """One stem, and whether its told length is shorter than the picture shows."""
    told = drawn.setting
    known = drawn.asked.known_of(told.ids[number])
    found = _from_two(drawn, number) if number in told.shared else _from_one(drawn, number, known)
    marked = [bool(np.isfinite(view.tip[number, 0])) for view in told.views]
    leans = tuple(
        _lean(drawn, number, view, found.foot) if shown else None
        for view, shown in enumerate(marked)
    )
    bent = _bow(drawn, number, found)
    stem = MeasuredStem(told.ids[number], found.status, leans, found.line, found.other, bent)
    return stem, found.too_short


@dataclass(frozen=True, slots=True)
class _Found:
    """What there is of a stem: draws of its foot and, where a line was found, of its end."""

    foot: Floats
    status: Status
    ends: Ends | None = None
    line: Line | None = None
    other: Line | None = None
    too_short: bool = False


def _from_two(drawn: _Drawn, number: int) -> _Found:
    """A stem that two views show."""
    place = drawn.setting.shared.index(number)
    ends = Ends(drawn.draws.base[:, place], drawn.draws.tip[:, place], np.ones(DRAWS))
    best = Ends(*(each[: drawn.best] for each in (ends.foot, ends.end, ends.weight)))
    return _sure(_Found(ends.foot, "measured", ends, intervals.line_of(ends, best)))


def _from_one(drawn: _Drawn, number: int, known: Known) -> _Found:
    """A stem that one view shows."""
    told, draws = drawn.setting, drawn.draws
    at = next(each for each, view in enumerate(told.views) if np.isfinite(view.tip[number, 0]))
    view, turned = told.views[at], _turn_unknown(drawn, at)
    feet = _all_round(told) if turned else (told.feet, told.feet_spread)
    foot, weight = single.foot_draws(view, at, draws, number, feet, drawn.chance, drawn.fit.noise)
    if known.cut_length_cm is None or turned:
        return _Found(foot, "lean only" if known.cut_length_cm is None else "not measurable")
    ray = single.ray_draws(at, draws, drawn.marks(view.tip[number], view.click_px))
    both = single.sides((foot, weight), ray, known.cut_length_cm, drawn.chance)
    return _sure(_decided(foot, both, known))


def _turn_unknown(drawn: _Drawn, number: int) -> bool:
    """Whether nothing tells from which side of a round vessel a later picture was taken."""
    is_round = drawn.asked.rim.shape == "round"
    return is_round and number > 0 and not drawn.fit.problem.is_tied(number)


def _all_round(told: Setting) -> tuple[Floats, Floats]:
    """Where a foot is, and how surely, when the vessel may be turned in any way."""
    across, away, height = told.feet
    off = np.hypot(across, away) + told.feet_spread[:2]
    return np.array([0.0, 0.0, height]), np.array([*off, told.feet_spread[2]])


def _decided(foot: Floats, both: Sides, known: Known) -> _Found:
    """The side that the plan decides for; both where it does not."""
    here, there = both.nearer, both.farther
    if here is None or there is None:
        ends = here or there
        if ends is None:  # either end would lie under the table
            return _Found(foot, "not measurable", too_short=both.too_short)
        return _Found(foot, "measured", ends, intervals.line_of(ends), too_short=both.too_short)
    favour = _favour(here, there, known)
    if favour < 0.0:
        here, there = there, here
    whole = intervals.both(here, there)
    apart = between_deg(intervals.mean_direction(here), intervals.mean_direction(there))
    if both.together or (favour != 0.0 and abs(favour) < DECIDES and apart < NEIGHBOURS_DEG):
        about = None if favour == 0.0 else here
        line = intervals.line_of(whole, about)
        return _Found(foot, "measured", whole, line, too_short=both.too_short)
    line = intervals.line_of(here)
    other = None if abs(favour) >= DECIDES_FAR else intervals.line_of(there)
    status: Status = "measured" if other is None else "two answers"
    return _Found(foot, status, here, line, other, both.too_short)


def _favour(here: Ends, there: Ends, known: Known) -> float:
    """How much more likely the plan makes one side than the other: a logarithm of odds."""
    off = [_off_aim_deg(intervals.mean_direction(ends), known) for ends in (here, there)]
    return (off[1] ** 2 - off[0] ** 2) / (2.0 * AIM_SPREAD_DEG**2)


def _off_aim_deg(line: Floats, known: Known) -> float:
    """How far a line is from what is known of its aim; 0 where nothing is."""
    tilt = between_deg(line, UPWARDS)
    aimed = tilt if known.aim_tilt_deg is None else known.aim_tilt_deg
    if known.aim_bearing_deg is None:
        return tilt - aimed
    return between_deg(line, np.array(direction(aimed, known.aim_bearing_deg)))


def _sure(found: _Found) -> _Found:
    """The same, or nothing of the line where it is too unsure to be of use."""
    if found.ends is None or found.line is None:
        return found
    length = found.line.length_cm
    if (
        found.line.tilt_deg.half > WIDEST_DEG
        or intervals.spread_deg(found.ends) > WIDEST_IN_SPACE_DEG
        or length.half > WIDEST_OF_LENGTH * length.value
    ):
        return replace(found, status="not measurable", line=None, other=None)
    return found


def _lean(drawn: _Drawn, number: int, at: int, foot: Floats) -> Interval:
    """How far a stem leans in one picture from the upright through its foot, right positive."""
    view = drawn.setting.views[at]
    seen = projected(drawn.draws, at, np.stack([foot, foot + UPRIGHT], axis=-2))
    start = seen[:, 0]
    if number not in drawn.setting.shared and np.isfinite(view.base[number, 0]):
        start = drawn.marks(view.base[number], view.feet_px)
    end = drawn.marks(view.tip[number], view.click_px)
    leans = lean_deg(seen[:, 1] - seen[:, 0], end - start)
    return intervals.interval(leans, np.ones(DRAWS))


def _bow(drawn: _Drawn, number: int, found: _Found) -> Interval | None:
    """How far a stem's middle is off its straight line, over the line's length."""
    if found.ends is None:
        return None
    rays = [
        single.ray_draws(at, drawn.draws, drawn.marks(view.mid[number], view.click_px))
        for at, view in enumerate(drawn.setting.views)
        if np.isfinite(view.mid[number, 0])
    ]
    if not rays:
        return None
    off = bowing.off_line(found.ends.foot[:DRAWS], found.ends.end[:DRAWS], rays)
    return intervals.interval(off, found.ends.weight[:DRAWS])
