"""The piece from the front, from the right, or from the teacher's side.

Model: parallel projection to scale; see `views` and `pottery`. Lengths and leans that are written
are true ones; on paper a stem that comes towards the viewer is shorter and more upright.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nejime.basis.angles import Point, compass_word
from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.dimensions import DASHES, dimension, lean_arc, line_kind, meets
from nejime.drawings.labels import Label
from nejime.drawings.layout import Figure, Sheet, Subject, bounds, fitted
from nejime.drawings.material import DARK, Tone, material_marks, tip
from nejime.drawings.pottery import HIDDEN_DASH, pot, through_the_wall
from nejime.drawings.scene import Scene, Standing, VesselShape
from nejime.drawings.svg import FINE_MM, HAIR_MM, INK, SOFT, Mark, Path, Spot, written
from nejime.drawings.views import SIDES, Projection, Side
from nejime.forms.stems import Stem

NAMES = "names"
LENGTHS = "lengths"
LEANS = "leans"
HEIGHTS = "heights"
VESSEL = "vessel"
USUAL: dict[Side, frozenset[str]] = {  # [own] what is written where, so that no view is crowded
    "front": frozenset((NAMES, LENGTHS, LEANS, VESSEL)),
    "right": frozenset((NAMES, HEIGHTS)),
    "teacher": frozenset((NAMES, LENGTHS, LEANS)),
}
ARC_SHARES = (0.5, 0.36, 0.25, 0.18)  # [own] radius of the arcs over the longest stem on paper
TOGETHER_MM = 3.5  # [own] feet nearer than this share one upright line


@dataclass(frozen=True, slots=True)
class Wanted:
    """What of a scene is drawn and written: stems by id in a tone, and what is said of which."""

    tones: dict[str, Tone]
    said: frozenset[str]
    shows: frozenset[str]
    size_pt: float = lettering.LEAST_PT


def stem_saying(stem: Stem) -> Saying:
    """A stem's name as it is written on a drawing, with what the tradition calls it."""
    kind, _, number = stem.id.partition("-")
    name = Saying(f"drawings.stem.{kind}", number=number)
    if stem.label is None:
        return Saying("drawings.mark.plain-stem", stem=name)
    return Saying("drawings.mark.stem", stem=name, romaji=stem.label.romaji, kanji=stem.label.kanji)


def described(stems: Iterable[Stem], words: Words, last: str) -> str:
    """What a drawing shows, for those who cannot see it."""
    told = [
        words.say(
            Saying(
                "drawings.describes.stem",
                stem=stem_saying(stem),
                length_cm=stem.length_cm,
                lean_deg=stem.stands_deg,
                direction=Saying(f"drawings.direction.{compass_word(stem.bearing_deg)}"),
            )
        )
        for stem in stems
    ]
    return " ".join([*told, words.say(Saying(last))])


def elevation(
    scene: Scene,
    side: Side,
    words: Words,
    *,
    width_mm: float = 80.0,
    height_mm: float | None = None,
    text_pt: float = lettering.LEAST_PT,
    shows: frozenset[str] | None = None,
) -> str:
    """The piece from a side as SVG, `width_mm` wide. `shows`: some of names, lengths, leans, …"""
    wanted = Wanted(
        {each.stem.id: DARK for each in scene.stems},
        frozenset(each.stem.id for each in scene.stems if each.stem.role == "main"),
        USUAL[side] if shows is None else shows,
        text_pt,
    )
    subject = Subject(
        lambda scale: side_figure(scene, Projection(SIDES[side], scale), wanted, words),
        words.say(Saying(f"drawings.title.{side}")),
        described((each.stem for each in scene.stems), words, "drawings.describes.views"),
    )
    return written(fitted(subject, Sheet(width_mm, height_mm, text_pt)))


def side_figure(scene: Scene, projection: Projection, wanted: Wanted, words: Words) -> Figure:
    """Everything that is seen from a side, from the farthest to the nearest."""
    drawn = [each for each in scene.stems if each.stem.id in wanted.tones]
    layers = pot(scene.vessel, projection)
    marks: list[Mark] = list(layers.behind)
    outside = [each for each in drawn if over_the_wall(scene, each, projection)]
    for each in in_order(drawn, projection, wanted):
        if each not in outside:
            marks += material_marks(each, each.look, projection, wanted.tones[each.stem.id])
    marks += layers.front
    marks += through_the_wall(scene, projection)
    marks += [_foot_through(scene, each, projection) for each in drawn]
    for each in in_order(outside, projection, wanted):
        skip = first_outside(scene, each)
        marks += material_marks(each, each.look, projection, wanted.tones[each.stem.id], skip)
    return _with_words(scene, projection, wanted, words, drawn, tuple(marks))


def in_order(stems: Iterable[Standing], projection: Projection, wanted: Wanted) -> list[Standing]:
    """The farthest first, as the middle of a stem tells; what is new lies over what is light."""
    return sorted(
        stems,
        key=lambda each: (
            wanted.tones[each.stem.id] == DARK,
            projection.nearness_cm(each.curve[2 * len(each.curve) // 3]),
        ),
    )


def first_outside(scene: Scene, standing: Standing) -> int:
    """Index of the first point of a stem's curve that is no longer inside the vessel."""
    for index, point in enumerate(standing.curve):
        if not scene.vessel.holds(point) and point.z_cm > scene.vessel.inside[0].z_cm:
            return max(0, index - 1)
    return 0


def over_the_wall(scene: Scene, standing: Standing, projection: Projection) -> bool:
    """Whether a stem hangs down outside the wall, on the side of the eye."""
    after = standing.curve[first_outside(scene, standing) :]
    low = [point for point in after if point.z_cm < scene.vessel.rim.z_cm]
    return any(projection.nearness_cm(point) > 0 for point in low)


def _foot_through(scene: Scene, standing: Standing, projection: Projection) -> Mark:
    """The part of a stem inside the vessel, faint and dashed: it is behind the wall."""
    rim = scene.vessel.rim.z_cm
    inside = [point for point in standing.curve if scene.vessel.holds(point)]
    outside = [point for point in standing.curve if not scene.vessel.holds(point)]
    if inside and outside and outside[0].z_cm > rim > inside[-1].z_cm:
        inside.append(_between(inside[-1], outside[0], rim))
    spots = [projection.at(point) for point in inside] or [projection.at(standing.curve[0])]
    if len(spots) == 1:
        spots = spots * 2
    return Path(tuple(spots), stroke=SOFT, width_mm=FINE_MM, dash=HIDDEN_DASH)


def _between(low: Point, high: Point, z_cm: float) -> Point:
    share = (z_cm - low.z_cm) / (high.z_cm - low.z_cm)
    return Point(
        low.x_cm + share * (high.x_cm - low.x_cm),
        low.y_cm + share * (high.y_cm - low.y_cm),
        z_cm,
    )


# What is written


def _with_words(
    scene: Scene,
    projection: Projection,
    wanted: Wanted,
    words: Words,
    drawn: Sequence[Standing],
    marks: tuple[Mark, ...],
) -> Figure:
    said = [each for each in drawn if each.stem.id in wanted.said]
    more: list[Mark] = []
    labels: list[Label] = []
    if VESSEL in wanted.shows:
        for measure, label in vessel_measures(scene.vessel, projection, wanted, words):
            more += measure
            labels.append(label)
    if LEANS in wanted.shows:
        lines, arcs = _leans(said, projection, wanted, words)
        more += lines
        labels += arcs
    for each in said:
        text = _words_of(each.stem, wanted, words)
        if text:
            labels.append(_at_end(each, projection, text, wanted.size_pt))
    if HEIGHTS in wanted.shows:
        lines, heights = _heights(scene, said, projection, wanted, words, bounds(marks))
        more += lines
        labels += heights
    return Figure((*marks, *more), tuple(labels))


def _words_of(stem: Stem, wanted: Wanted, words: Words) -> tuple[str, ...]:
    lines = []
    if NAMES in wanted.shows:
        lines.append(words.say(stem_saying(stem)))
    if LENGTHS in wanted.shows:
        lines.append(words.say(Saying("drawings.mark.length", length_cm=stem.length_cm)))
    return tuple(lines)


def _at_end(
    standing: Standing, projection: Projection, text: tuple[str, ...], size_pt: float
) -> Label:
    end, wish = tip(standing, projection)
    return Label(text, end, size_pt, bold=1, wish=wish)


def vessel_measures(
    vessel: VesselShape, projection: Projection, wanted: Wanted, words: Words
) -> list[tuple[tuple[Mark, ...], Label]]:
    """Dimension lines for the inside width at the rim and the height."""
    k = projection.mm_per_cm
    x, y = projection.x_mm, projection.y_mm
    half = projection.half_cm(vessel.mouth.half_x_cm, vessel.mouth.half_y_cm) * k
    widest = projection.half_cm(*vessel.widest) * k
    below = y + vessel.stand_cm * k + 3.2
    beside = x + widest + 3.0

    def text(measure_cm: float) -> str:
        return words.say(Saying("drawings.mark.measure", measure_cm=measure_cm))

    return [
        dimension(
            (x - half, below), (x + half, below), text(2 * half / k), (0.0, 1.0), wanted.size_pt
        ),
        dimension(
            (beside, y),
            (beside, y - vessel.rim.z_cm * k),
            text(vessel.rim.z_cm),
            (1.0, 0.0),
            wanted.size_pt,
        ),
    ]


def _leans(
    said: Sequence[Standing], projection: Projection, wanted: Wanted, words: Words
) -> tuple[list[Mark], list[Label]]:
    """Arcs from the upright; the steepest stem has the widest arc, so that they do not meet."""
    marks: list[Mark] = []
    labels: list[Label] = []
    starts = [projection.at(each.stem.start) for each in said]
    if not starts:
        return marks, labels
    shared = _shared(starts)
    long_mm = max(
        math.dist(projection.at(each.stem.start), projection.at(each.end)) for each in said
    )
    order = sorted(said, key=lambda each: (each.stem.stands_deg, each.stem.id))
    tallest: dict[Spot, float] = {}
    for rank, each in enumerate(order):
        start, end = projection.at(each.stem.start), projection.at(each.end)
        centre = shared or start
        radius = long_mm * ARC_SHARES[min(rank, len(ARC_SHARES) - 1)]
        radius = min(radius, 0.8 * math.dist(centre, end))
        to_deg = meets(centre, radius, start, end)
        dash = DASHES[line_kind(each.stem.id, each.stem.role)]
        marks.append(Path((start, end), stroke=INK, width_mm=HAIR_MM, dash=dash))
        if to_deg is None or abs(to_deg) < 2.0:
            continue
        text = words.say(Saying("drawings.mark.lean", lean_deg=each.stem.stands_deg))
        lines, label = lean_arc(centre, radius, to_deg, text, wanted.size_pt)
        marks += lines
        labels.append(label)
        tallest[centre] = max(tallest.get(centre, 0.0), radius)
    for (x, y), radius in tallest.items():
        upright = ((x, y), (x, y - radius - 2.0))
        marks.append(Path(upright, stroke=SOFT, width_mm=HAIR_MM, dash=(0.6, 0.8)))
    return marks, labels


def _shared(starts: Sequence[Spot]) -> Spot | None:
    """One centre for all arcs, where the feet stand close together on paper."""
    x = sum(spot[0] for spot in starts) / len(starts)
    y = sum(spot[1] for spot in starts) / len(starts)
    near = all(math.dist(spot, (x, y)) < TOGETHER_MM for spot in starts)
    return (x, y) if near else None


def _heights(
    scene: Scene,
    said: Sequence[Standing],
    projection: Projection,
    wanted: Wanted,
    words: Words,
    box: tuple[float, float, float, float],
) -> tuple[list[Mark], list[Label]]:
    """A line at the side with the height of every end above the table."""
    marks: list[Mark] = []
    labels: list[Label] = []
    k = projection.mm_per_cm
    x = box[2] + 3.0
    table = projection.y_mm
    for each in said:
        end = projection.at(each.end)
        marks.append(
            Path(
                ((end[0] + 1.0, end[1]), (x, end[1])),
                stroke=SOFT,
                width_mm=HAIR_MM,
                dash=(0.6, 0.8),
            )
        )
        high = (table - end[1]) / k
        text = words.say(Saying("drawings.mark.measure", measure_cm=high))
        labels.append(Label((text,), (x, end[1]), wanted.size_pt, wish=(1.0, 0.0)))
    if said:
        top = min(projection.at(each.end)[1] for each in said)
        marks.append(Path(((x, table), (x, top)), width_mm=HAIR_MM))
        for y in (table, *(projection.at(each.end)[1] for each in said)):
            marks.append(Path(((x - 0.7, y), (x + 0.7, y)), width_mm=HAIR_MM * 1.8))
    return marks, labels
