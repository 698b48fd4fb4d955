"""Everything that is seen of a stem, the farthest first.

Model: painter's rule. What is attached behind its stem is painted before it, the rest after it;
within both, organs go by their distance from the eye, and so do the parts of an organ. White or
palest grey areas hide what is behind them. Wood is one brush stroke with an uneven edge, a green
stem has two edges, petals are white, leaves palest grey, needles and stamens lines.
Frame: paper millimetres at the scale given, y down, around the stem's start.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from nejime.drawings.ink.outlines import SAME_MM, Array, Sampled, edges, once, sampled, silhouettes
from nejime.drawings.ink.pose import CURVE, pose, stance
from nejime.drawings.ink.strokes import axis_shapes
from nejime.drawings.path_data import GRAIN_MM
from nejime.drawings.scene import Standing
from nejime.drawings.skeleton.growing import skeleton
from nejime.drawings.skeleton.organs import Body, Organ, Part, Thread
from nejime.drawings.skeleton.stem import Placed
from nejime.drawings.skeleton.surface import FUNNEL, PALM, Blade
from nejime.drawings.svg import LINE, PLANT_MM, WASHED, WHITE, Disc, Growth, Path, Spot
from nejime.drawings.views import View

WHOLE = 1e3  # more than any depth within a flower
FINE_MM = 5.0  # [own] a part smaller than this on paper is drawn with fewer points
VEINS_MM = 4.0  # [own] and one smaller than this without inner lines
PLAIN_MM = 3.0  # [own] a flower, bud or berry shorter than this is drawn larger than true
MOST = 1.6  # [own] by so much at most
HIDDEN = 0.42  # [own] share of a head's depth, from behind, that cannot be seen
FEW_MM = 7.0  # [own] a head smaller than this shows every third stamen
SPECK_MM = 0.55  # [own] a whole organ smaller than this is a dot
TINY_MM = 2.0  # [own] a part smaller than this has straight edges
SPECK_WIDE_MM = 0.18  # [own] a grain on a flower's heart
MANY = 12  # [own] stamens of which a small head shows a third
BLUNT = frozenset(("strap", "spoon", "obovate", "round", "fringed"))  # sheets with a round end
EDGE_ON = 0.3  # [own] sine of the angle under which a palm's fingers are not told apart
HIDES = 0.45  # [own] cosine of the angle to the viewer from which petals hide what is behind
KNOB_MM = 0.14  # [own] half the size of the least anther that is drawn
HAIR_MM = 0.1  # [own] needles, stamens, veins
BROAD_MM = 11.0  # [own] a part larger than this is drawn with more points
DIRECTIONS = (7, 9, 14)  # [own] of a silhouette, by how finely it is drawn

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
    ways = (frames @ turn.T) * scales[:, None, None]
    near = at[:, 2] + 0.5 * organ.reach_cm * ways[:, 0, 2]
    layers = np.where(near < feet[:, 2] - 0.05 * mm_per_cm, 0, 2).tolist()
    nears = near.tolist()
    size = float(scales.mean()) * mm_per_cm
    facing = ways[:, 0, 2] / (scales * mm_per_cm)
    parts = organ.parts[:1] if organ.reach_cm * size < SPECK_MM else organ.parts
    florets = _Florets(parts, ways, at) if any(part.group for part in parts) else None
    mouth = any(_trumpet(part.form) for part in parts)
    for batch in _batches(parts):
        held = _held(batch, ways, at)
        if isinstance(batch[0].form, Thread) and not batch[0].group:
            drawn = _stamens(batch, held, size, organ.reach_cm * size < FEW_MM)
            over = WHOLE * 2 * np.sign(facing) if mouth else 0.0 * facing
        else:
            drawn = _sheets(batch, held, size)
            over = WHOLE * np.sign(facing) if _trumpet(batch[0].form) else 0.0 * facing
        unseen = _unseen(organ, batch[0], facing)
        for which, part, depth, shapes in drawn:
            if unseen[which] or (florets and part.group and florets.hidden(part, which)):
                continue
            if florets and part.group:  # a floret is painted whole
                depth = florets.nears[part.group][which] + depth * 1e-3
            yield _Seen((layers[which], nears[which], depth + float(over[which])), shapes)


def _batches(parts: Sequence[Part]) -> list[list[Part]]:
    """Parts that differ only in their places; stamens in one, whatever their lengths."""
    found: dict[Hashable, list[Part]] = {}
    for part in parts:
        form = part.form
        alike: Hashable = form
        if isinstance(form, Thread):
            alike = (len(form.points), form.thickness_cm, form.knob_cm, bool(part.group))
        found.setdefault((alike, part.tissue, part.veins), []).append(part)
    return list(found.values())


@dataclass(frozen=True, slots=True)
class _Held:
    """Places of a batch in all organs of a kind: (organs, parts, …) in paper millimetres."""

    ways: Array
    at: Array


def _held(batch: Sequence[Part], ways: Array, at: Array) -> _Held:
    own = np.asarray([[part.frame.x, part.frame.y, part.frame.z] for part in batch])
    own *= np.asarray([part.scale for part in batch])[:, None, None]
    feet = np.asarray([part.frame.at for part in batch])
    return _Held(
        np.einsum("nij,kjd->knid", own, ways), np.einsum("nj,kjd->knd", feet, ways) + at[:, None]
    )


def _unseen(organ: Organ, part: Part, facing: Array) -> list[bool]:
    """Whether the petals hide a part: the calyx from the front, the heart from behind."""
    if organ.kind == "flower" and not part.group and not isinstance(part.form, Blade):
        behind = part.frame.at[0] < 0
        hidden: list[bool] = ((facing > HIDES) if behind else (facing < -HIDES)).tolist()
        return hidden
    return [False] * len(facing)


def _blunt(form: Blade | Body | Thread) -> bool:
    return isinstance(form, Blade) and form.shape in BLUNT


def _trumpet(form: Blade | Body | Thread) -> bool:
    return isinstance(form, Blade) and form.shape == FUNNEL and form.high - form.low == 2


class _Florets:
    """The florets of a head: how near each is, and which of them those before it hide."""

    def __init__(self, parts: Sequence[Part], ways: Array, at: Array) -> None:
        self.nears: dict[int, list[float]] = {}
        for part in parts:
            if part.group and part.group not in self.nears:
                place = np.asarray(part.frame.at)
                self.nears[part.group] = (ways[:, :, 2] @ place + at[:, 2]).tolist()
        all_ = np.asarray(list(self.nears.values()))
        low, high = all_.min(axis=0), all_.max(axis=0)
        self._least: list[float] = (low + HIDDEN * (high - low)).tolist()

    def hidden(self, part: Part, which: int) -> bool:
        """Whether the floret of this part cannot be seen in one of the heads."""
        return self.nears[part.group][which] < self._least[which]


def _plain(organ: Organ, mm_per_cm: float) -> float:
    """How much larger than true a small flower, bud or berry is drawn, so that it is seen."""
    form = organ.parts[-1].form
    if organ.parts[-1].tissue == "leaf" or (isinstance(form, Thread) and not form.knob_cm):
        return 1.0
    if isinstance(form, Body) and form.width_cm < 0.1 * form.length_cm:
        return 1.0
    return float(max(1.0, min(MOST, (PLAIN_MM / (organ.reach_cm * mm_per_cm)) ** 0.6)))


Drawn = tuple[int, Part, float, tuple[Shape, ...]]  # in which organ, which part, how near, what


def _sheets(batch: Sequence[Part], held: _Held, size: float) -> Iterator[Drawn]:
    """Sheets and round bodies of one form."""
    part = batch[0]
    size *= sum(each.scale for each in batch) / len(batch)
    known = sampled(part.form, part.veins, _level(part.form, size))
    count = len(batch)
    ways, at = held.ways.reshape(-1, 3, 3), held.at.reshape(-1, 1, 3)
    spots = known.points @ ways + at
    depths = spots[:, :, 2].mean(axis=1).tolist()
    lines: list[Any] = []
    if known.size_cm * size > VEINS_MM * (1.8 if part.veins == "palm" else 1.0):
        lines = [(line @ ways + at)[:, :, :2].tolist() for line in known.lines]
    towards = (ways[:, 0, 2] > 0).tolist()
    flat = spots[:, :, :2]
    drawn = _part_shapes(part, known, flat, lines, size, towards)
    if isinstance(part.form, Blade) and part.form.shape == PALM:
        edge_on = np.abs(ways[:, 2, 2]) < EDGE_ON * np.linalg.norm(ways[:, 2], axis=1)
        drawn = _slivers(part, flat, edge_on, drawn)
    for index, shapes in drawn:
        yield index // count, batch[index % count], depths[index], shapes


def _slivers(
    part: Part, spots: Array, edge_on: Array, drawn: Iterable[tuple[int, tuple[Shape, ...]]]
) -> Iterator[tuple[int, tuple[Shape, ...]]]:
    """Palms; of one that is seen from its edge only what it covers, without fingers and veins."""
    rings, which = silhouettes(spots, DIRECTIONS[1])
    fill, edge = _tissue(part)
    for index, shapes in drawn:
        if not edge_on[index]:
            yield index, shapes
            continue
        points, _ = once(rings[index].tolist(), which[index].tolist())
        if len(points) > 2:
            yield index, (Path(points, False, True, fill, edge, PLANT_MM),)


def _level(form: Blade | Body | Thread, size: float) -> int:
    """How finely a form is drawn at its size on paper: 0, 1 or 2."""
    long = 1.0 if isinstance(form, Thread) else form.length_cm
    return 2 if long * size > BROAD_MM else 1 if long * size > FINE_MM else 0


def _stamens(batch: Sequence[Part], held: _Held, size: float, few: bool) -> Iterator[Drawn]:
    """Stamens or needles of one organ: all lines, then what sits on them."""
    step = 3 if few and len(batch) > MANY else 1
    form = batch[0].form
    points = np.asarray(
        [part.form.points for part in batch[::step] if isinstance(part.form, Thread)]
    )
    spots = np.einsum("nmi,knid->knmd", points, held.ways[:, ::step]) + held.at[:, ::step, None]
    depths = spots[..., 2].mean(axis=(1, 2)).tolist()
    assert isinstance(form, Thread)
    width = max(HAIR_MM, min(0.3, form.thickness_cm * size))
    knob = form.knob_cm * size / 2
    for index, threads in enumerate(spots[..., :2].tolist()):
        shapes: list[Shape] = [
            Path(tuple((x, y) for x, y in line), len(line) > 2, False, None, LINE, width)
            for line in threads
        ]
        if knob > KNOB_MM:
            shapes += [_knob(line[-1], max(0.14, knob), batch[0].tissue) for line in threads]
        yield index, batch[0], depths[index], tuple(shapes)


def _knob(at: Sequence[float], radius_mm: float, tissue: str) -> Shape:
    """An anther: a dot, which is a line without length; a pale one has an edge."""
    x, y = at
    if tissue == "pale":
        return Disc((x, y), radius_mm, WHITE, LINE, HAIR_MM)
    return Path(((x, y), (x + GRAIN_MM, y)), False, False, None, LINE, round(2 * radius_mm, 1))


def _part_shapes(
    part: Part,
    known: Sampled,
    spots: Array,
    lines: Sequence[Any],
    size: float,
    towards: Sequence[bool],
) -> Iterator[tuple[int, tuple[Shape, ...]]]:
    form = part.form
    fill, edge = _tissue(part)
    straight = known.size_cm * size < TINY_MM or (isinstance(form, Blade) and form.shape == PALM)
    which: Any = None
    if known.rows > 0:
        outlines = edges(spots, known.rows).tolist()
        corners = frozenset((0,) if _blunt(form) else (0, known.rows - 1))
    elif known.rows < 0:
        outlines, corners = spots.tolist(), known.corners
    else:
        rings, found = silhouettes(spots, DIRECTIONS[_level(form, size)])
        outlines, which = rings.tolist(), found.tolist()
        corners = frozenset()
    if known.mouth:
        yield from enumerate(_trumpets(part, known, spots, outlines, towards, lines))
        return
    smooth = isinstance(form, Blade) and form.shape == FUNNEL
    for index, outline in enumerate(outlines):
        if which:
            points, sharp = once(outline, which[index])
            corners = frozenset() if smooth else sharp
        else:
            points = tuple([(x, y) for x, y in outline])
        if len(points) < 3:
            continue
        area = Path(points, not straight, True, fill, edge, PLANT_MM, (), corners)
        more: list[Shape] = [
            Path(tuple([(x, y) for x, y in line[index]]), True, False, None, LINE, HAIR_MM)
            for line in lines
        ]
        if isinstance(form, Body) and form.mark:
            more += _marked(form, points, part.tissue == "dark")
        yield index, (area, *more)


def _trumpets(
    part: Part,
    known: Sampled,
    spots: Array,
    rings: Sequence[Sequence[Spot]],
    towards: Sequence[bool],
    inner: Sequence[Any],
) -> Iterator[tuple[Shape, ...]]:
    """A trumpet: its wall and its rim, and which of them hides the other."""
    fill, edge = _tissue(part)
    for index, rim in enumerate(spots[:, -known.mouth :].tolist()):
        wall = Path(_loop(rings[index]), True, True, fill, edge, PLANT_MM)
        mouth = Path(_loop(rim), True, True, WASHED, edge, PLANT_MM)
        streaks = [
            Path(tuple((x, y) for x, y in line[index]), True, False, None, LINE, HAIR_MM)
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
            yield _speck(spot, WHITE if dark else LINE)
    else:
        yield from _hatched(body, points, (x, y))


def _speck(at: Spot, colour: str) -> Path:
    return Path((at, (at[0] + GRAIN_MM, at[1])), False, False, None, colour, SPECK_WIDE_MM)


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
            yield Path(line, False, False, None, LINE, HAIR_MM)
