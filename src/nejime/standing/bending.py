"""How stems bend under their own weight and their heads.

Model: a stem is a round rod whose thickness falls evenly from foot to end. With φ the angle from
upright and s the way along the stem, (E·I·φ′)′ = −Q·sin φ, where Q(s) is the weight above s; the
end is free of moment. The rod is cut into rigid links joined by springs (the first spring belongs
to half a link: the foot is held), and Newton's method solves all stems at once, each step one
tridiagonal system per stem.
`standing` finds the direction of the foot and the length along the curve so that the *straight
line* from foot to end has the asked length and tilt: a stem is described as it stands.
A stem holds itself where the stiffness of its shape is positive definite: all pivots positive. One
that cannot be made to stand as asked counts as straight, as if it were wired, and is marked.
Frame: in the upright plane of the stem, `out` away from the foot, `up` above it.
Shapes: every field broadcasts; the results have the broadcast shape.
Source: large deflection of bars, Bisshopp and Drucker 1945 for the end load; links and springs are
the usual discretisation, checked against a boundary value solver in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]

GRAVITY_M_S2 = 9.81  # [memory] near enough anywhere
LINKS = 24  # [own] end of a stem within 0.1 % of its length; see benchmarks/standing.py
WILTED_SHARE = 0.25  # [lehmann2019] a thirsty gerbera weakens in its upper part; the share is ours
WILTED_STIFFNESS = 0.5  # [own] what is left there
MOST_TURN = 0.6  # [own] radians that a link may turn in one step of Newton's method
MOST_STEPS = 10  # [own] steps of Newton's method; 4 to 6 are usual
LOAD_STEPS = 4  # [own] parts in which the load is put on where one step does not settle
SETTLED = 1e-5  # [own] radians of the last step; what is left is its square
NEAR_ENOUGH = 1e-4  # [own] radians, a thousandth of what a hand can set
LEAST_SHRUNK = 0.8  # [own] straight line over curve; a stem bent further is called limp


@dataclass(frozen=True, slots=True)
class Rods:
    """Stems to be bent. Each field is an array or a number; they broadcast together.

    `stem_g` is the whole stem without its head. The share `foliage` of it is spread evenly over
    the part above `leaves_from` (share of the whole length), the rest follows the cross-section.
    `held_from`: share of the whole length that is held fast (in a tall vase) before the free part
    begins. `wilted`: 1 where the upper quarter is limp. `taper`: thickness at the end over the
    thickness at the cut.
    """

    thickness_mm: Array
    stiffness_gpa: Array
    stem_g: Array
    head_g: Array
    taper: Array
    foliage: Array
    leaves_from: Array
    wilted: Array
    held_from: Array

    def flat(self, shape: tuple[int, ...]) -> Rods:
        """The same with every field broadcast to a shape and laid out in one row."""
        each = [np.broadcast_to(getattr(self, field.name), shape).ravel() for field in fields(self)]
        return Rods(*each)


@dataclass(frozen=True, slots=True)
class Bent:
    """Stems as they hang: arrays of the broadcast shape.

    `centre_*` is the centre of gravity of the free part with its head, `end_*` the free end, both
    from the foot (or mouth). `foot_tilt_deg` is the direction in which the foot must point.
    `along_cm` is the length along the curve. `holds`: whether the stem can carry itself so.
    """

    centre_out_cm: Array
    centre_up_cm: Array
    end_out_cm: Array
    end_up_cm: Array
    foot_tilt_deg: Array
    end_tilt_deg: Array
    along_cm: Array
    free_g: Array
    held_g: Array
    holds: Flags

    @property
    def moment_g_cm(self) -> Array:
        """The bending moment at the foot: the free weight times its arm."""
        return self.free_g * self.centre_out_cm


def rods(
    *,
    thickness_mm: npt.ArrayLike,
    stiffness_gpa: npt.ArrayLike,
    stem_g: npt.ArrayLike,
    head_g: npt.ArrayLike = 0.0,
    taper: npt.ArrayLike = 1.0,
    foliage: npt.ArrayLike = 0.0,
    leaves_from: npt.ArrayLike = 0.0,
    wilted: npt.ArrayLike = 0.0,
    held_from: npt.ArrayLike = 0.0,
) -> Rods:
    """Rods from numbers or arrays; see `Rods`."""
    given = (
        thickness_mm,
        stiffness_gpa,
        stem_g,
        head_g,
        taper,
        foliage,
        leaves_from,
        wilted,
        held_from,
    )
    return Rods(*(np.asarray(each, dtype=float) for each in given))


def bent(
    stems: Rods, along_cm: npt.ArrayLike, foot_tilt_deg: npt.ArrayLike, *, links: int = LINKS
) -> Bent:
    """Stems of a length along the curve whose feet point in a direction (shapes broadcast).

    Where one does not hold itself, its shape is a balance that does not last.
    """
    return _bend(stems, along_cm, foot_tilt_deg, links, as_it_stands=False)


def standing(
    stems: Rods, length_cm: npt.ArrayLike, tilt_deg: npt.ArrayLike, *, links: int = LINKS
) -> Bent:
    """Stems whose straight line from foot to end has a length and a tilt (shapes broadcast)."""
    return _bend(stems, length_cm, tilt_deg, links, as_it_stands=True)


def straight_centre(stems: Rods, *, links: int = LINKS) -> tuple[Array, Array]:
    """Mass of the free part of straight stems, with the head, and where its centre of gravity lies
    as a share of the free length."""
    edges = _share_below(stems, _whole(stems, np.arange(links + 1) / links))
    link = np.diff(edges, axis=0)
    middle = (np.arange(links) + 0.5) / links
    free = np.sum(link, axis=0)
    centre = np.sum(link * middle[:, None], axis=0)
    free_g = stems.stem_g * free + stems.head_g
    return free_g, (stems.stem_g * centre + stems.head_g) / np.maximum(free_g, 1e-12)


def _bend(
    stems: Rods,
    length_cm: npt.ArrayLike,
    tilt_deg: npt.ArrayLike,
    links: int,
    *,
    as_it_stands: bool,
) -> Bent:
    length_m = np.asarray(length_cm, dtype=float) / 100
    tilt = np.radians(np.asarray(tilt_deg, dtype=float))
    shape = np.broadcast_shapes(
        length_m.shape, tilt.shape, *(getattr(stems, field.name).shape for field in fields(stems))
    )
    row = stems.flat(shape)
    flat_length = np.broadcast_to(length_m, shape).ravel()
    flat_tilt = np.broadcast_to(tilt, shape).ravel()
    task = _task(row, flat_length, flat_tilt, links)
    shapes = _settled(task, as_it_stands)
    return _described(task, shapes, row, shape)


class _Task(NamedTuple):
    """The links of a row of stems: arrays (links, stems), and one number a stem."""

    bend_n_m2: Array  # E·I at the joints
    weight_n: Array  # of each link
    above_n: Array  # weight above the middle of each link, head included
    length_m: Array
    tilt: Array

    def of(self, chosen: Flags) -> _Task:
        """The same for some of the stems."""
        return _Task(
            self.bend_n_m2[:, chosen],
            self.weight_n[:, chosen],
            self.above_n[:, chosen],
            self.length_m[chosen],
            self.tilt[chosen],
        )


class _Shape(NamedTuple):
    """The found shapes: angle of every link, of the foot, length along the curve; does it hold."""

    angle: Array  # (links, stems)
    foot: Array
    along_m: Array
    holds: Flags


def _task(row: Rods, length_m: Array, tilt: Array, links: int) -> _Task:
    joints = np.arange(links) / links
    joints[0] = 0.25 / links  # the first spring stands for the half link above the foot
    bend = _bend_stiffness(row, _whole(row, joints))
    edges = _share_below(row, _whole(row, np.arange(links + 1) / links))
    weight = np.diff(edges, axis=0) * row.stem_g / 1000 * GRAVITY_M_S2
    head = row.head_g / 1000 * GRAVITY_M_S2
    above = np.cumsum(weight[::-1], axis=0)[::-1] - weight / 2 + head
    return _Task(bend, weight, above, length_m, tilt)


def _whole(row: Rods, free: Array) -> Array:
    """Places on the free part, 0 to 1, as places on the whole stem: (places, stems)."""
    return np.asarray(row.held_from + (1.0 - row.held_from) * free[:, None], dtype=float)


def _bend_stiffness(row: Rods, at: Array) -> Array:
    """E·I of a round section at places on the whole stem."""
    thick_m = row.thickness_mm / 1000 * (1.0 - (1.0 - row.taper) * at)
    limp = np.where((at > 1.0 - WILTED_SHARE) & (row.wilted > 0), WILTED_STIFFNESS, 1.0)
    return np.asarray(row.stiffness_gpa * 1e9 * np.pi / 64 * thick_m**4 * limp, dtype=float)


def _share_below(row: Rods, at: Array) -> Array:
    """Share of the stem's mass below places on the whole stem."""
    fall = 1.0 - row.taper
    axis = (at - fall * at**2 + fall**2 * at**3 / 3) / (1.0 - fall + fall**2 / 3)
    leaves = np.clip((at - row.leaves_from) / (1.0 - row.leaves_from), 0.0, 1.0)
    return np.asarray((1.0 - row.foliage) * axis + row.foliage * leaves, dtype=float)


def _settled(task: _Task, as_it_stands: bool) -> _Shape:
    """The shapes under the whole load; where one step does not settle, the load comes in parts."""
    found = _newton(task, _straight(task), as_it_stands)
    if not found.holds.all():
        found = _merged(found, ~found.holds, _in_parts(task.of(~found.holds), as_it_stands))
    if as_it_stands and not found.holds.all():
        wired = _straight(task.of(~found.holds))
        found = _merged(found, ~found.holds, wired._replace(holds=np.zeros_like(wired.holds)))
    return found


def _in_parts(task: _Task, as_it_stands: bool) -> _Shape:
    shape = _straight(task)
    for load in np.linspace(1 / LOAD_STEPS, 1.0, LOAD_STEPS):
        shape = _newton(task._replace(above_n=task.above_n * load), shape, as_it_stands)
    return shape


def _merged(whole: _Shape, chosen: Flags, part: _Shape) -> _Shape:
    """The whole row, with the chosen stems replaced."""
    merged = _Shape(whole.angle.copy(), whole.foot.copy(), whole.along_m.copy(), whole.holds.copy())
    for old, new in zip(merged, part, strict=True):
        old[..., chosen] = new
    return merged


def _straight(task: _Task) -> _Shape:
    yes = np.ones(task.tilt.shape, dtype=bool)
    angle = np.broadcast_to(task.tilt, task.bend_n_m2.shape).copy()
    return _Shape(angle, task.tilt.copy(), task.length_m.copy(), yes)


def _newton(task: _Task, shape: _Shape, as_it_stands: bool) -> _Shape:
    """Newton's method on the balance of every link.

    With `as_it_stands` the foot's angle is one more unknown and Σ sin(φ − tilt) = 0, "the line to
    the end has the tilt", one more equation; the length along the curve follows the shape.
    """
    angle, foot, along = shape.angle, shape.foot, shape.along_m
    for _ in range(MOST_STEPS):
        balance = _balance(task, angle, foot, along)
        step, answer, pivots = _tridiagonal(balance, two=as_it_stands)
        change, foot_change = -step, np.zeros_like(foot)
        if as_it_stands:
            foot_change = _foot_change(angle - task.tilt, step, answer)
            change += answer * foot_change
        largest = np.maximum(np.max(np.abs(change), axis=0), np.abs(foot_change))
        brake = np.minimum(1.0, MOST_TURN / np.maximum(largest, 1e-12))
        angle, foot = angle + change * brake, foot + foot_change * brake
        if as_it_stands:
            shrunk = np.mean(np.cos(angle - task.tilt), axis=0)
            along = task.length_m / np.maximum(shrunk, LEAST_SHRUNK / 2)
        if np.max(largest, initial=0.0) < SETTLED:
            break
    holds = (largest < NEAR_ENOUGH) & np.all(pivots > 0, axis=0)
    if as_it_stands:
        holds &= shrunk > LEAST_SHRUNK
    return _Shape(angle, foot, along, holds)


class _Balance(NamedTuple):
    """What is left over in the balance of every link, and how it changes with the angles."""

    left_over: Array
    diagonal: Array
    beside: Array
    foot: Array  # how the lowest link's balance changes with the foot's angle


def _balance(task: _Task, angle: Array, foot: Array, along_m: Array) -> _Balance:
    """Spring below − spring above − weight above · length · sin φ, which is 0 in balance."""
    links = len(angle)
    spring = task.bend_n_m2 * (links / along_m)
    spring[0] *= 2
    moment = spring * np.diff(angle, axis=0, prepend=foot[None])
    load = task.above_n * (along_m / links)
    left_over = moment - load * np.sin(angle)
    left_over[:-1] -= moment[1:]
    diagonal = spring - load * np.cos(angle)
    diagonal[:-1] += spring[1:]
    return _Balance(left_over, diagonal, -spring[1:], spring[0])


def _foot_change(off: Array, step: Array, answer: Array) -> Array:
    """How the foot must turn so that the line to the end has its tilt after the step.

    `off`: how far each link is off that line; `answer`: how the links follow the foot.
    """
    level = np.cos(off)
    missing = np.sum(level * step, axis=0) - np.sum(np.sin(off), axis=0)
    return np.asarray(missing / np.sum(level * answer, axis=0), dtype=float)


def _tridiagonal(balance: _Balance, *, two: bool) -> tuple[Array, Array, Array]:
    """Solves a symmetric tridiagonal system a stem: for what is left over and, with `two`, for
    a turn of the foot (zeros without). Gives the pivots back: all positive where the matrix is
    positive definite. Elimination without exchange of rows (Thomas).
    """
    beside, pivots = balance.beside, balance.diagonal.copy()
    first, second = balance.left_over.copy(), np.zeros_like(pivots)
    second[0] = balance.foot
    rows = len(pivots)
    for row in range(1, rows):
        factor = beside[row - 1] / pivots[row - 1]
        pivots[row] -= factor * beside[row - 1]
        first[row] -= factor * first[row - 1]
        if two:
            second[row] = -factor * second[row - 1]
    for side in (first, second) if two else (first,):
        side[-1] /= pivots[-1]
        for row in range(rows - 2, -1, -1):
            side[row] = (side[row] - beside[row] * side[row + 1]) / pivots[row]
    return first, second, pivots


def _described(task: _Task, found: _Shape, row: Rods, shape: tuple[int, ...]) -> Bent:
    link_cm = found.along_m * 100 / len(found.angle)
    out_step, up_step = np.sin(found.angle) * link_cm, np.cos(found.angle) * link_cm
    out, up = np.cumsum(out_step, axis=0), np.cumsum(up_step, axis=0)
    link_g = task.weight_n / GRAVITY_M_S2 * 1000
    free_g = np.sum(link_g, axis=0) + row.head_g
    weight_g = np.maximum(free_g, 1e-12)
    centre_out = (np.sum(link_g * (out - out_step / 2), axis=0) + row.head_g * out[-1]) / weight_g
    centre_up = (np.sum(link_g * (up - up_step / 2), axis=0) + row.head_g * up[-1]) / weight_g
    held_g = row.stem_g + row.head_g - free_g
    return Bent(
        centre_out_cm=centre_out.reshape(shape),
        centre_up_cm=centre_up.reshape(shape),
        end_out_cm=out[-1].reshape(shape),
        end_up_cm=up[-1].reshape(shape),
        foot_tilt_deg=np.degrees(found.foot).reshape(shape),
        end_tilt_deg=np.degrees(found.angle[-1]).reshape(shape),
        along_cm=(found.along_m * 100).reshape(shape),
        free_g=free_g.reshape(shape),
        held_g=held_g.reshape(shape),
        holds=found.holds.reshape(shape),
    )
