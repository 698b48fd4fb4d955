"""Everything that is seen of a stem, the farthest first.

Model: painter's rule. What is attached behind its stem is painted before it, the rest after it;
within both, organs go by their distance from the eye, and so do the parts of an organ. White or
palest grey areas hide what is behind them. Wood is one brush stroke with an uneven edge, a green
stem has two edges, petals are white, leaves palest grey, needles and stamens lines.
Frame: paper millimetres at the scale given, y down, around the stem's start.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from nejime.drawings.ink.outlines import Array, Sampled, edges, once, sampled, silhouettes
from nejime.drawings.ink.pose import CURVE, pose, stance
from nejime.drawings.ink.strokes import axis_shapes
from nejime.drawings.scene import Standing
from nejime.drawings.skeleton.growing import skeleton
from nejime.drawings.skeleton.organs import Body, Organ, Part, Thread
from nejime.drawings.skeleton.stem import Placed
from nejime.drawings.skeleton.surface import FUNNEL, PALM, Blade
from nejime.drawings.svg import LINE, PLANT_MM, WASHED, WHITE, Disc, Growth, Path, Spot
from nejime.drawings.views import View

WHOLE = 1e3  # more than any depth within a flower
FINE_MM = 4.0  # [own] a part smaller than this on paper is drawn with fewer points
VEINS_MM = 4.0  # [own] and one smaller than this without inner lines
PLAIN_MM = 3.0  # [own] a flower, bud or berry shorter than this is drawn larger than true
MOST = 1.6  # [own] by so much at most
HIDDEN = 0.42  # [own] share of a head's depth, from behind, that cannot be seen
FEW_MM = 7.0  # [own] a head smaller than this shows every third stamen
SPECK_MM = 0.55  # [own] a whole organ smaller than this is a dot
TINY_MM = 2.0  # [own] a part smaller than this has straight edges
FINER_MM = 0.12  # [own] outlines of small parts
VEIN_MM = 0.09  # [own]
KNOB_MM = 0.1  # [own] half the size of the least anther that is drawn
SAME_MM = 0.03  # [own] points nearer to each other are one
HAIR_MM = 0.1  # [own] needles, stamens
BROAD_MM = 11.0  # [own] a part larger than this is drawn with more points
LARGEST, LARGE, SMALL = 16, 10, 7  # [own] directions of a silhouette

Shape = Path | Disc


@dataclass(frozen=True, slots=True)
class _Seen:
    """Shapes with their order: behind or before the stem, the organ's nearness, the part's."""

    order: tuple[int, float, float]
    shapes: tuple[Shape, ...]


@lru_cache(maxsize=512)
def growth(standing: Standing, view: View, mm_per_cm: float, skip: int) -> Growth | None:
    """A stem with all that it carries; the first `skip` points of its curve are left out."""
    held = pose(standing)
    look, stem = standing.look, standing.stem
    grown = skeleton(
        look.plant,
        round(stem.length_cm, 2),
        look.thickness_mm,
        look.seed,
        stance(standing, held),
        look.stage,
    )
    across = np.asarray([view.right, [-each for each in view.up], view.eye])
    turn = across @ np.asarray([held.x, held.y, held.z]).T * mm_per_cm
    least = max(0.0, (skip - (len(standing.curve) - CURVE)) / (CURVE - 1)) if skip else 0.0
    seen: list[_Seen] = []
    for name, organ in grown.organs.items():
        places = [each for each in grown.placed if each.organ == name and each.share >= least]
        if places:
            seen += _organs(organ, places, turn, mm_per_cm)
    for index, axis in enumerate(grown.axes):
        if axis.foot_share >= 0 and axis.foot_share < least:
            continue
        points = np.asarray(axis.points) @ turn.T
        low = least if axis.foot_share < 0 else 0.0
        shapes = tuple(axis_shapes(axis, points[:, :2], mm_per_cm, low))
        main = axis.foot_share < 0
        seen.append(
            _Seen(
                (1, 1e6 if main and not axis.woody else float(points[:, 2].mean()), index), shapes
            )
        )
    seen.sort(key=lambda each: each.order)
    shapes_ = tuple(shape for each in seen for shape in each.shapes)
    return Growth(shapes_) if shapes_ else None


def _organs(
    organ: Organ, places: Sequence[Placed], turn: Array, mm_per_cm: float
) -> Iterator[_Seen]:
    """All organs of a kind, seen at once."""
    frames = np.asarray([[each.frame.x, each.frame.y, each.frame.z] for each in places])
    scales = np.asarray([each.scale for each in places]) * _plain(organ, mm_per_cm)
    at = np.asarray([each.frame.at for each in places]) @ turn.T
    feet = np.asarray([each.foot for each in places]) @ turn.T
    ways = np.einsum("kic,dc->kid", frames, turn) * scales[:, None, None]
    near = at[:, 2] + 0.5 * organ.reach_cm * ways[:, 0, 2]
    layers = np.where(near < feet[:, 2] - 0.05 * mm_per_cm, 0, 2).tolist()
    size = float(scales.mean()) * mm_per_cm
    speck = organ.reach_cm * size < SPECK_MM
    parts = organ.parts[:1] if speck else _shown(organ, size)
    nears = near.tolist()
    groups = _group_nears(organ, ways, at) if any(part.group for part in parts) else None
    hidden = _hidden(groups) if groups is not None else []
    organ_mouth = any(_trumpet(part) for part in parts)
    for part in parts:
        fine = _size_cm(part) * size > FINE_MM
        known = sampled(part, fine)
        spots = np.einsum("mi,kid->kmd", known.points, ways) + at[:, None, :]
        depths = spots[:, :, 2].mean(axis=1).tolist()
        lines = [np.einsum("mi,kid->kmd", line, ways) + at[:, None, :] for line in known.lines]
        inner = known.size_cm * size > VEINS_MM * (1.8 if part.veins == "palm" else 1.0)
        towards = (ways[:, 2, :] @ np.asarray(part.frame.x) > 0).tolist()
        drawn = _part_shapes(known, spots[:, :, :2], lines if inner else [], size, fine, towards)
        for index, shapes in enumerate(drawn):
            depth = depths[index]
            if known.mouth:  # it is before its petals, or behind them
                depth += WHOLE if towards[index] else -WHOLE
            elif isinstance(part.form, Thread) and organ_mouth:
                depth += 2 * WHOLE if towards[index] else -2 * WHOLE
            if groups is not None and part.group:
                if groups[part.group][index] < hidden[index]:
                    continue
                depth = groups[part.group][index] + depth * 1e-3
            yield _Seen((layers[index], nears[index], depth), shapes)


def _trumpet(part: Part) -> bool:
    form = part.form
    return isinstance(form, Blade) and form.shape == FUNNEL and form.high - form.low == 2


def _shown(organ: Organ, size: float) -> Sequence[Part]:
    """The parts that can be told apart: of many stamens or petals, fewer in a small head."""
    few = (
        sum(isinstance(part.form, Thread) for part in organ.parts) > 12
        and organ.reach_cm * size < FEW_MM
    )
    shown: list[Part] = []
    threads = 0
    for part in organ.parts:
        if isinstance(part.form, Thread):
            threads += 1
            if few and threads % 3:
                continue
        shown.append(part)
    return shown


def _plain(organ: Organ, mm_per_cm: float) -> float:
    """How much larger than true a small flower, bud or berry is drawn, so that it is seen."""
    form = organ.parts[-1].form
    if organ.parts[-1].tissue == "leaf" or (isinstance(form, Thread) and not form.knob_cm):
        return 1.0
    if isinstance(form, Body) and form.width_cm < 0.1 * form.length_cm:
        return 1.0
    return float(max(1.0, min(MOST, (PLAIN_MM / (organ.reach_cm * mm_per_cm)) ** 0.6)))


def _group_nears(organ: Organ, ways: Array, at: Array) -> dict[int, list[float]]:
    """How near the florets of a head are: a floret is painted whole."""
    found: dict[int, list[float]] = {}
    for part in organ.parts:
        if part.group not in found:
            place = np.asarray(part.frame.at)
            found[part.group] = (ways[:, :, 2] @ place + at[:, 2]).tolist()
    return found


def _hidden(groups: Mapping[int, Sequence[float]]) -> list[float]:
    """How near a floret of a head must be not to be hidden by those before it."""
    florets = np.asarray([nears for group, nears in groups.items() if group])
    low, high = florets.min(axis=0), florets.max(axis=0)
    found: list[float] = (low + HIDDEN * (high - low)).tolist()
    return found


def _size_cm(part: Part) -> float:
    form = part.form
    long = 1.0 if isinstance(form, Thread) else form.length_cm
    return long * part.scale


def _part_shapes(
    known: Sampled,
    spots: Array,
    lines: Sequence[Array],
    size: float,
    fine: bool,
    towards: Sequence[bool],
) -> Iterator[tuple[Shape, ...]]:
    part = known.part
    form = part.form
    if isinstance(form, Thread):
        yield from _threads(part, form, spots, size)
        return
    fill, edge = _tissue(part)
    tiny = known.size_cm * size < TINY_MM
    width = PLANT_MM if fine else FINER_MM
    inner = [line[:, :, :2].tolist() for line in lines]
    if known.rows > 0:
        outlines = edges(spots, known.rows).tolist()
        corners = frozenset((0, known.rows - 1))
    elif known.rows < 0:
        outlines, corners = spots.tolist(), known.corners
    else:
        outlines, corners = [], frozenset()
        directions = LARGEST if known.size_cm * size > BROAD_MM else LARGE if fine else SMALL
        rings, which = silhouettes(spots, directions)
    if known.mouth:
        yield from _trumpets(known, spots, rings.tolist(), towards, inner)
        return
    for index in range(len(spots)):
        if known.rows == 0:
            points, corners = once(rings[index], which[index])
            if isinstance(form, Blade) and form.shape == FUNNEL:
                corners = frozenset()
        else:
            points = tuple((x, y) for x, y in outlines[index])
        if len(points) < 3:
            continue
        straight = tiny or (isinstance(form, Blade) and form.shape == PALM)
        area = Path(points, not straight, True, fill, edge, width, (), corners)
        more: list[Shape] = [
            Path(tuple((x, y) for x, y in line[index]), True, False, None, LINE, VEIN_MM)
            for line in inner
        ]
        if isinstance(form, Body) and form.mark:
            more += _marked(form, points, part.tissue == "dark")
        yield (area, *more)


def _trumpets(
    known: Sampled,
    spots: Array,
    rings: Sequence[Sequence[Spot]],
    towards: Sequence[bool],
    inner: Sequence[Sequence[Sequence[Spot]]],
) -> Iterator[tuple[Shape, ...]]:
    """A trumpet: its wall and its rim, and which of them hides the other."""
    fill, edge = _tissue(known.part)
    for index, rim in enumerate(spots[:, -known.mouth :].tolist()):
        wall = Path(_loop(rings[index]), True, True, fill, edge, PLANT_MM)
        mouth = Path(_loop(rim), True, True, WASHED, edge, PLANT_MM)
        streaks = [
            Path(tuple((x, y) for x, y in line[index]), True, False, None, LINE, VEIN_MM)
            for line in inner
        ]
        yield (wall, mouth, *streaks) if towards[index] else (mouth, wall)


def _loop(points: Sequence[Sequence[float]]) -> tuple[Spot, ...]:
    """A closed outline without points told twice."""
    kept: list[Spot] = []
    for x, y in points:
        if not kept or math.dist(kept[-1], (x, y)) > SAME_MM:
            kept.append((x, y))
    return tuple(kept)


def _tissue(part: Part) -> tuple[str, str | None]:
    """Area and edge of a tissue."""
    if part.tissue == "dark":
        shine = isinstance(part.form, Body) and part.form.mark == "shine"
        return LINE, WHITE if shine else LINE
    return {"leaf": WASHED, "inside": WASHED}.get(part.tissue, WHITE), LINE


def _threads(part: Part, form: Thread, spots: Array, size: float) -> Iterator[tuple[Shape, ...]]:
    width = max(HAIR_MM, min(0.3, form.thickness_cm * size))
    knob = form.knob_cm * size / 2
    for line in spots.tolist():
        points = tuple((x, y) for x, y in line)
        shapes: list[Shape] = [Path(points, len(points) > 2, False, None, LINE, width)]
        if knob > KNOB_MM:
            fill = WHITE if part.tissue == "pale" else LINE
            edge = None if fill == LINE else LINE
            shapes.append(Disc(points[-1], max(0.12, knob), fill, edge, HAIR_MM))
        yield tuple(shapes)


def _marked(body: Body, points: Sequence[Spot], dark: bool) -> Iterator[Shape]:
    """What is on a round body: a shine, fur, a seam, scales, grains."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    wide, high = (max(xs) - min(xs)) / 2, (max(ys) - min(ys)) / 2
    if min(wide, high) < 0.25:
        return
    if body.mark == "shine":
        yield Disc((x - wide * 0.3, y - high * 0.35), 0.24 * min(wide, high), WHITE, None)
    elif body.mark == "grain":
        count = max(5, min(34, int(wide * high * 3.5)))
        for index in range(count):
            turn, far = index * 2.39996, 0.88 * math.sqrt((index + 0.5) / count)
            spot = (x + far * wide * math.cos(turn), y + far * high * math.sin(turn))
            yield Disc(spot, 0.09, WHITE if dark else LINE, None)
    else:
        yield from _hatched(body, points, (x, y))


def _hatched(body: Body, points: Sequence[Spot], middle: Spot) -> Iterator[Shape]:
    """Lines from foot to end on a body: between its outline and its middle."""
    steps = {"fur": 2, "seam": 2, "scales": 2}[body.mark]
    count = len(points)
    for index in range(count):
        if body.mark != "seam" and index % 2:
            continue
        (x, y), (x2, y2) = points[index], points[(index + 1) % count]
        for step in range(1, steps):
            share = 0.3 * step
            line = tuple(
                (px + share * (middle[0] - px), py + share * (middle[1] - py))
                for px, py in ((x, y), ((x + x2) / 2, (y + y2) / 2))
            )
            yield Path(line, False, False, None, LINE, VEIN_MM)
