"""The piece as it grows: one small drawing for each thing that is done.

Model: every step shows the whole piece at the same scale and in the same place: what is new is
dark, what already stands is light. The first step looks down on the pin holder in the vessel, with
its distances from the rim.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial

from nejime.basis.angles import Point
from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.dimensions import dimension
from nejime.drawings.elevation import (
    LEANS,
    LENGTHS,
    NAMES,
    Wanted,
    described,
    side_figure,
)
from nejime.drawings.labels import Board, Label
from nejime.drawings.layout import (
    PAD_MM,
    Box,
    Figure,
    Sheet,
    Subject,
    bounds,
    fitted,
    fitted_together,
    moved,
)
from nejime.drawings.material import DARK, LIGHT
from nejime.drawings.plan import stem_line, viewer
from nejime.drawings.pottery import plan_outline, pot_from_above
from nejime.drawings.scene import Look, Scene, Standing, scene
from nejime.drawings.svg import FINE_MM, PAPER, SOFT, WASH, Disc, Mark, Path, written
from nejime.drawings.views import FRONT, PLAN, Projection
from nejime.forms.stems import Piece

INSET_MM = (10.0, 16.0)  # [own] width of the small plan beside a step, least and most
INSET_SHARE = 0.3  # [own] its width over that of the paper
INSET_GAP_MM = 1.5  # [own]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that is done: what is said of it, its stems by id, and its drawing."""

    id: str
    says: Saying
    stems: tuple[str, ...]
    svg: str


@dataclass(frozen=True, slots=True)
class _Group:
    """What is put in together, and what stands already."""

    id: str
    new: tuple[Standing, ...]
    before: tuple[str, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(each.stem.id for each in self.new)

    @property
    def says(self) -> Saying:
        return Saying(f"drawings.step.{self.id}", count=len(self.new))


def steps(
    piece: Piece,
    looks: Mapping[str, Look] | None,
    words: Words,
    *,
    width_mm: float = 50.0,
    height_mm: float | None = None,
    text_pt: float = lettering.LEAST_PT,
) -> tuple[Step, ...]:
    """The steps of a piece: holder, three main stems, helper stems, flower at the heart, leaves."""
    shown = scene(piece, looks)
    sheet = Sheet(width_mm, height_mm, text_pt)
    groups = _groups(shown)
    stage = lru_cache(partial(_stage, shown, words, sheet))
    subjects = [_subject(shown, group, stage, words, sheet) for group in groups]
    pictures = fitted_together(subjects, sheet) if subjects else ()
    stems = tuple(
        Step(group.id, group.says, group.ids, written(picture))
        for group, picture in zip(groups, pictures, strict=True)
    )
    return (*_holder_step(shown, words, sheet), *stems)


def _groups(shown: Scene) -> list[_Group]:
    """Each main stem alone, then helper stems, flower at the heart, leaves at the foot."""
    together: list[tuple[str, tuple[Standing, ...]]] = [
        (each.stem.id, (each,)) for each in shown.stems if each.stem.role == "main"
    ]
    for role in ("helper", "heart", "leaf"):
        same = tuple(each for each in shown.stems if each.stem.role == role)
        if same:
            together.append((role, same))
    groups: list[_Group] = []
    before: tuple[str, ...] = ()
    for name, new in together:
        groups.append(_Group(name, new, before))
        before += groups[-1].ids
    return groups


# The pin holder


def _holder_step(shown: Scene, words: Words, sheet: Sheet) -> tuple[Step, ...]:
    if shown.holder is None:
        return ()
    says = Saying("drawings.step.holder", place=shown.piece.place.word)
    subject = Subject(
        lambda scale: _holder_figure(shown, Projection(PLAN, scale), words, sheet.text_pt),
        words.say(says),
        words.say(Saying("drawings.describes.plan")),
    )
    return (Step("holder", says, (), written(fitted(subject, sheet))),)


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


# The stems


@dataclass(frozen=True, slots=True)
class _Stage:
    """What all steps share at a scale: the view, the frame of the whole piece, the small plan."""

    projection: Projection
    frame: Box
    inset: Projection


def _stage(shown: Scene, words: Words, sheet: Sheet, scale: float) -> _Stage:
    projection = Projection(FRONT, scale)
    everything = Wanted({each.stem.id: LIGHT for each in shown.stems}, frozenset(), frozenset())
    whole = side_figure(shown, projection, everything, words).marks
    frame = bounds(whole)
    return _Stage(projection, frame, _inset_place(shown, whole, frame, sheet))


def _subject(
    shown: Scene, group: _Group, stage: Callable[[float], _Stage], words: Words, sheet: Sheet
) -> Subject:
    tones = dict.fromkeys(group.before, LIGHT) | dict.fromkeys(group.ids, DARK)
    one = len(group.new) == 1
    shows = frozenset((NAMES, LENGTHS, LEANS) if one else (NAMES, LENGTHS))
    wanted = Wanted(tones, frozenset(group.ids), shows, sheet.text_pt)
    return Subject(
        lambda scale: _step_figure(shown, stage(scale), wanted, words),
        words.say(group.says),
        described((each.stem for each in group.new), words, "drawings.describes.views"),
    )


def _step_figure(shown: Scene, stage: _Stage, wanted: Wanted, words: Words) -> Figure:
    """The front view, the new stems dark, with a small plan of the new stems beside it."""
    figure = side_figure(shown, stage.projection, wanted, words)
    left, top, right, bottom = stage.frame
    # An unseen line from corner to corner keeps every step in the same frame.
    keep = Path(((left, top), (right, bottom)), stroke=None)
    return Figure((*figure.marks, keep, *_inset(shown, wanted, stage.inset)), figure.labels)


def _extent(shown: Scene) -> tuple[float, float, float, float]:
    """Left, right, front and back of the whole piece from above, in cm."""
    half_x, half_y = shown.vessel.widest
    xs = [-half_x, half_x, *(each.end.x_cm for each in shown.stems)]
    ys = [-half_y, half_y, *(each.end.y_cm for each in shown.stems)]
    return min(xs), max(xs), min(ys), max(ys)


def _inset_size(shown: Scene, sheet: Sheet) -> tuple[float, float, float]:
    """Width and height of the small plan with the viewer's sign, and its scale."""
    left, right, front, back = _extent(shown)
    side = min(max(INSET_SHARE * sheet.width_mm, INSET_MM[0]), INSET_MM[1])
    scale = side / max(right - left, back - front)
    return (right - left) * scale, (back - front) * scale + 3.2, scale


def _inset_place(shown: Scene, whole: Sequence[Mark], frame: Box, sheet: Sheet) -> Projection:
    """The projection of the small plan: beside the piece where there is room, else below it."""
    wide, high, scale = _inset_size(shown, sheet)
    left, top, right, bottom = frame
    shift_x, shift_y = sheet.width_mm / 2 - (left + right) / 2, PAD_MM - top
    board = Board(sheet.width_mm, bottom - top + 2 * PAD_MM)
    board.ink_marks([moved(mark, shift_x, shift_y) for mark in whole])
    gap = INSET_GAP_MM
    corner = sheet.width_mm if shown.piece.opens == "right" else 0.0
    found = board.free_place(wide + 2 * gap, high + 2 * gap, (corner, 0.3 * board.height_mm))
    if found is None:
        x, y = (left + right - wide) / 2, bottom + 2 * gap
    else:
        x, y = found[0] + gap - shift_x, found[1] + gap - shift_y
    least_x, _, _, back = _extent(shown)
    return Projection(PLAN, scale, x - least_x * scale, y + back * scale)


def _inset(shown: Scene, wanted: Wanted, projection: Projection) -> list[Mark]:
    """A small plan: the rim, the new stems as arrows, and where the viewer sits."""
    new = [each for each in shown.stems if each.stem.id in wanted.said]
    left, right, front, back = _extent(shown)
    corners = [(left, back), (right, back), (right, front), (left, front)]
    seat = projection.at(Point(0.0, front))
    area = [projection.at(Point(x, y)) for x, y in corners]
    area[2:2] = [(area[2][0], seat[1] + 3.0), (area[3][0], seat[1] + 3.0)]
    rim = plan_outline(shown.vessel, projection, shown.vessel.rim, 20)
    marks: list[Mark] = [
        Path(tuple(area[:4]), closed=True, fill=PAPER, stroke=None),
        Path(
            rim,
            curved=shown.vessel.corner_cm is None,
            closed=True,
            fill=PAPER,
            stroke=SOFT,
            width_mm=FINE_MM,
        ),
    ]
    if shown.holder is not None:
        held = shown.holder
        centre = projection.at(Point(held.x_cm, held.y_cm))
        half = held.holder.width_cm / 2 * projection.mm_per_cm
        marks.append(Disc(centre, half, fill=WASH, stroke=None))
    for each in new:
        marks += stem_line(each, projection)
    marks += viewer((seat[0], seat[1] + 1.6), 0.55, 1.0)
    return marks
