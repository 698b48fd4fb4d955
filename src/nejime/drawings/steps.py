"""The piece as it grows: one small drawing for each thing that is done.

Model: every step shows the whole piece at the same scale and in the same place: what is new is
dark, what already stands is light. The first step looks down on the pin holder in the vessel, with
its distances from the rim.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from nejime.basis.angles import Point
from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.dimensions import dimension
from nejime.drawings.elevation import (
    DARK,
    LEANS,
    LENGTHS,
    LIGHT,
    NAMES,
    Wanted,
    described,
    side_figure,
)
from nejime.drawings.labels import Label
from nejime.drawings.layout import Figure, Sheet, bounds, fitted
from nejime.drawings.plan import stem_line
from nejime.drawings.pottery import plan_outline, pot_from_above
from nejime.drawings.scene import Look, Scene, Standing, scene
from nejime.drawings.svg import FINE_MM, HAIR_MM, PAPER, SOFT, Disc, Mark, Path, written
from nejime.drawings.views import FRONT, PLAN, Projection
from nejime.forms.stems import Piece

INSET_MM = 15.0  # [own] width of the small plan beside a step
INSET_GAP_MM = 3.0  # [own]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that is done: what is said of it, its stems by id, and its drawing."""

    id: str
    says: Saying
    stems: tuple[str, ...]
    svg: str


def steps(
    piece: Piece,
    looks: Mapping[str, Look] | None,
    words: Words,
    *,
    width_mm: float = 50.0,
    text_pt: float = lettering.LEAST_PT,
) -> tuple[Step, ...]:
    """The steps of a piece: holder, three main stems, helper stems, flower at the heart, leaves."""
    shown = scene(piece, looks)
    made = [_holder_step(shown, words, width_mm, text_pt)] if shown.holder else []
    before: list[str] = []
    for step_id, new in _groups(shown):
        made.append(_stem_step(shown, step_id, new, tuple(before), words, width_mm, text_pt))
        before += [each.stem.id for each in new]
    return tuple(made)


def _groups(shown: Scene) -> list[tuple[str, tuple[Standing, ...]]]:
    """What is put in together: each main stem alone, then helpers, heart, leaves."""
    groups = [(each.stem.id, (each,)) for each in shown.stems if each.stem.role == "main"]
    for role in ("helper", "heart", "leaf"):
        same = tuple(each for each in shown.stems if each.stem.role == role)
        if same:
            groups.append((role, same))
    return groups


def _holder_step(shown: Scene, words: Words, width_mm: float, text_pt: float) -> Step:
    says = Saying("drawings.step.holder", place=shown.piece.place.word)
    picture = fitted(
        lambda scale: _holder_figure(shown, Projection(PLAN, scale), words, text_pt),
        Sheet(width_mm, None, text_pt),
        words.say(says),
        words.say(Saying("drawings.describes.plan")),
    )
    return Step("holder", says, (), written(picture))


def _holder_figure(shown: Scene, projection: Projection, words: Words, text_pt: float) -> Figure:
    """The holder from above, with its distances from the nearer walls of the rim."""
    marks: list[Mark] = list(pot_from_above(shown, projection))
    labels: list[Label] = []
    for start, stop, way_cm, wish in rim_distances(shown):
        text = words.say(Saying("drawings.mark.measure", measure_cm=way_cm))
        lines, label = dimension(projection.at(start), projection.at(stop), text, wish, text_pt)
        marks += lines
        labels.append(label)
    return Figure(tuple(marks), tuple(labels))


def rim_distances(
    shown: Scene,
) -> list[tuple[Point, Point, float, tuple[float, float]]]:
    """From the holder's edge straight to the inner rim: to its nearer side, and to the front.

    Each as two points, the distance, and the direction in which its number may stand. In the
    middle of a vessel both sides are the same and only one is given.
    """
    held = shown.holder
    if held is None:
        return []
    vessel = shown.piece.vessel
    found = []
    side = 270.0 if held.x_cm <= 0 else 90.0
    front = 180.0 if held.y_cm <= 0 else 0.0
    for bearing_deg in (side, front):
        across = {90.0: 1.0, 270.0: -1.0}.get(bearing_deg, 0.0)
        away = {0.0: 1.0, 180.0: -1.0}.get(bearing_deg, 0.0)
        start = Point(
            held.x_cm + across * held.holder.width_cm / 2,
            held.y_cm + away * held.holder.depth_cm / 2,
        )
        way = vessel.to_rim_cm(start.x_cm, start.y_cm, bearing_deg)
        stop = Point(start.x_cm + way * across, start.y_cm + way * away)
        wish = (0.0, -1.0) if across else (1.0, 0.0)
        found.append((start, stop, way, wish))
    return found


def _stem_step(
    shown: Scene,
    step_id: str,
    new: Sequence[Standing],
    before: tuple[str, ...],
    words: Words,
    width_mm: float,
    text_pt: float,
) -> Step:
    ids = tuple(each.stem.id for each in new)
    tones = dict.fromkeys(before, LIGHT) | dict.fromkeys(ids, DARK)
    shows = frozenset((NAMES, LENGTHS, LEANS)) if len(new) == 1 else frozenset((NAMES, LENGTHS))
    wanted = Wanted(tones, frozenset(ids), shows, text_pt)
    says = Saying(f"drawings.step.{step_id}", count=len(new))
    picture = fitted(
        lambda scale: _step_figure(shown, Projection(FRONT, scale), wanted, words),
        Sheet(width_mm, None, text_pt),
        words.say(says),
        described((each.stem for each in new), words, "drawings.describes.views"),
    )
    return Step(step_id, says, ids, written(picture))


def _step_figure(shown: Scene, projection: Projection, wanted: Wanted, words: Words) -> Figure:
    """The front view, the new stems dark, with a small plan of the new stems under it."""
    figure = side_figure(shown, projection, wanted, words)
    everything = Wanted({each.stem.id: DARK for each in shown.stems}, frozenset(), frozenset())
    frame = bounds(side_figure(shown, projection, everything, words).marks)
    corners = ((frame[0], frame[1]), (frame[2], frame[3]))
    keep = Path(corners, stroke=None)
    inset = _inset(shown, wanted, frame)
    return Figure((keep, *figure.marks, *inset), figure.labels)


def _inset(shown: Scene, wanted: Wanted, frame: tuple[float, float, float, float]) -> list[Mark]:
    """A small plan: the rim, the new stems as arrows, and where the viewer sits."""
    new = [each for each in shown.stems if each.stem.id in wanted.said]
    xs = [-shown.vessel.widest[0], shown.vessel.widest[0], *(each.end.x_cm for each in shown.stems)]
    ys = [-shown.vessel.widest[1], shown.vessel.widest[1], *(each.end.y_cm for each in shown.stems)]
    scale = INSET_MM / max(max(xs) - min(xs), max(ys) - min(ys))
    x_mm = (frame[0] + frame[2]) / 2 - scale * (max(xs) + min(xs)) / 2
    y_mm = frame[3] + INSET_GAP_MM + scale * max(ys)
    projection = Projection(PLAN, scale, x_mm, y_mm)
    rim = plan_outline(shown.vessel, projection, shown.vessel.rim, 20)
    marks: list[Mark] = [
        Path(
            rim,
            curved=shown.vessel.corner_cm is None,
            closed=True,
            fill=PAPER,
            stroke=SOFT,
            width_mm=FINE_MM,
        )
    ]
    if shown.holder is not None:
        held = shown.holder
        centre = projection.at(Point(held.x_cm, held.y_cm))
        marks.append(Disc(centre, held.holder.width_cm / 2 * scale, stroke=SOFT))
    for each in new:
        marks += stem_line(each, projection)
    seat = projection.at(Point(0.0, min(ys)))
    marks.append(Disc((seat[0], seat[1] + 2.2), 0.8, width_mm=HAIR_MM * 2))
    return marks
