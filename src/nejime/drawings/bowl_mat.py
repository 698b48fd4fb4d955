"""The bowl mat: a sheet under the bowl whose rays come out around it in the three directions.

Model: the bowl's outline, its middle, the pin holder and the rays, all at true size and seen from
above, the viewer at the lower edge. A ray starts where its stem stands and is drawn where the bowl
does not cover it. A bowl that is larger than the paper gets the parts of the mat that show the
rays; a sheet is pushed under that edge until the printed line lies below the rim.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from nejime.basis.angles import Point, apart, compass_word, heading
from nejime.basis.sayings import Saying, Words
from nejime.drawings.dimensions import DASHES, WEIGHTS_MM, arc_points, arrow_head
from nejime.drawings.elevation import stem_saying
from nejime.drawings.labels import Board, Label, label_marks
from nejime.drawings.pages import TOOL_PT, Foot, Page, foot_of, usable_mm
from nejime.drawings.pottery import holder_from_above, plan_outline
from nejime.drawings.scene import Ring, Scene, scene
from nejime.drawings.svg import FINE_MM, LINE_MM, SOFT, Mark, Path, Picture, Spot, written
from nejime.drawings.views import PLAN, Projection
from nejime.forms.stems import Piece, Stem
from nejime.forms.vessel import to_edge_cm

FOOT_GAP_MM = 3.0  # [own] white above the words
GOOD_MM = 45.0  # [own] a ray as long as this is easily followed
LEAST_MM = 15.0  # [own] a shorter one is no use
RAY_VALUE = 40.0  # [own] one more ray on a sheet is worth so many millimetres of others
WHOLE_VALUE = 30.0  # [own] and the whole bowl on it
SAME_DEG = 3.0  # [own] rays that differ by less
SAME_CM = 0.5  # [own] and lie so near each other are drawn as one
SIDE_MM = 6.0
STEP_MM = 10.0  # [own] how finely the place of the sheet is tried
MM_PER_CM = 10.0


@dataclass(frozen=True, slots=True)
class Laid:
    """How a sheet lies: its size, where on it the bowl's middle is, and the rays that it shows.

    `field_mm` is the height above the words. `rays` are groups of stems whose rays lie on each
    other, each with its length on the sheet.
    """

    wide_mm: float
    high_mm: float
    field_mm: float
    middle: Spot
    whole: bool
    rays: tuple[tuple[tuple[Stem, ...], float], ...]

    @property
    def projection(self) -> Projection:
        """From above, at true size."""
        return Projection(PLAN, MM_PER_CM, *self.middle)


def bowl_mat(piece: Piece, words: Words, *, page: Page = "a4", text_pt: float = TOOL_PT) -> str:
    """The sheet of the mat that shows most, as SVG; it says which sheet of how many it is."""
    return bowl_mat_sheets(piece, words, page=page, text_pt=text_pt)[0]


def bowl_mat_sheets(
    piece: Piece, words: Words, *, page: Page = "a4", text_pt: float = TOOL_PT
) -> tuple[str, ...]:
    """The mat at true size, as SVG: one sheet, or more where the bowl is larger than the paper.

    A sheet is for a page upright or on its side; its width and height say which.
    """
    shown = scene(piece)
    sheets = laid_out(piece, page, lambda wide: _longest_foot(wide, words, text_pt))
    return tuple(
        _sheet(shown, laid, (number, len(sheets)), words, text_pt)
        for number, laid in enumerate(sheets, start=1)
    )


def _sheet(shown: Scene, laid: Laid, number: tuple[int, int], words: Words, text_pt: float) -> str:
    projection, field = laid.projection, laid.field_mm
    marks = _bowl(shown, projection, laid, field)
    board = Board(laid.wide_mm, field)
    labels = [_front(shown, projection, laid, words, text_pt)]
    for stems, _ in laid.rays:
        start, end = _ray(shown, stems[0], projection, laid.wide_mm, field)
        marks += _ray_marks(stems[0], start, end)
        labels.append(_ray_label(stems, start, end, words, text_pt))
    board.ink_marks(marks)
    for label in labels:
        board.place(label)
    marks += [mark for placed in board.placed for mark in label_marks(placed)]
    held = bool(_holder(shown, projection, laid.wide_mm, field))
    below = _foot(not laid.whole, number, laid.wide_mm, words, text_pt, held=held)
    marks += below.at(laid.high_mm - below.height_mm)
    title = words.say(Saying("drawings.tool.bowl-mat"))
    says = words.say(Saying("drawings.describes.plan"))
    return written(Picture(laid.wide_mm, laid.high_mm, tuple(marks), title, says))


def laid_out(piece: Piece, page: Page, foot_mm: Callable[[float], float]) -> tuple[Laid, ...]:
    """The sheets that are needed to show every ray: each shows as much as it can of the rest.

    `foot_mm` tells how high the words are on a sheet so many millimetres wide.
    """
    shown = scene(piece)
    left = _together(piece.main)
    sheets: list[Laid] = []
    while left:
        laid = _best(shown, left, page, foot_mm)
        done = [stems for stems, _ in laid.rays]
        left = [stems for stems in left if stems not in done]
        sheets.append(laid)
        if not done:  # a ray that no sheet can show
            break
    return tuple(sheets)


def _together(stems: tuple[Stem, ...]) -> list[tuple[Stem, ...]]:
    """Stems whose rays lie on each other, as one."""
    groups: list[list[Stem]] = []
    for stem in stems:
        same = next((group for group in groups if _on_one_line(group[0], stem)), None)
        if same is None:
            groups.append([stem])
        else:
            same.append(stem)
    return [tuple(group) for group in groups]


def _on_one_line(one: Stem, other: Stem) -> bool:
    across, away = heading(one.bearing_deg)
    dx, dy = other.start.x_cm - one.start.x_cm, other.start.y_cm - one.start.y_cm
    beside = abs(dx * away - dy * across)
    return apart(one.bearing_deg, other.bearing_deg) < SAME_DEG and beside < SAME_CM


def _best(
    shown: Scene,
    left: list[tuple[Stem, ...]],
    page: Page,
    foot_mm: Callable[[float], float],
) -> Laid:
    """The way to lay one sheet that shows the whole bowl, or else most of the rays left."""
    half_x, half_y = (half * MM_PER_CM for half in shown.vessel.widest)
    best: tuple[float, Laid] | None = None
    for landscape in (False, True):
        wide, high = usable_mm(page, landscape=landscape)
        field = high - foot_mm(wide)
        for x in _places(wide, half_x):
            for y in _places(field, half_y):
                projection = Projection(PLAN, MM_PER_CM, x, y)
                seen = [(stems, _seen(shown, stems[0], projection, wide, field)) for stems in left]
                rays = tuple((stems, long) for stems, long in seen if long >= LEAST_MM)
                whole = half_x <= min(x, wide - x) and half_y <= min(y, field - y)
                off = math.hypot(x - wide / 2, y - field / 2)
                value = sum(min(long, GOOD_MM) + RAY_VALUE for _, long in rays)
                value += WHOLE_VALUE * whole - 0.02 * off
                if best is None or value > best[0] + 1e-9:
                    best = value, Laid(wide, high, field, (x, y), whole, rays)
    assert best is not None
    return best[1]


def _places(size_mm: float, half_mm: float) -> list[float]:
    """Where the bowl's middle may be: on the sheet, or off it with an edge still on it."""
    reach = int((size_mm / 2 + half_mm) / STEP_MM)
    return [size_mm / 2 + STEP_MM * step for step in range(-reach, reach + 1)]


def _out_cm(shown: Scene, stem: Stem) -> float:
    """How far from where it starts a stem's direction leaves the bowl's outline."""
    half_x, half_y = shown.vessel.widest
    corner = shown.vessel.corner_cm
    rounded = None if corner is None else corner + shown.piece.vessel.wall_cm
    start = (stem.start.x_cm, stem.start.y_cm)
    return to_edge_cm(half_x, half_y, rounded, start, stem.bearing_deg)


def _clip(start: Spot, step: Spot, wide: float, high: float) -> tuple[float, float]:
    """The stretch (from, to; in mm) of a line that lies on the sheet; empty where from > to."""
    low, most = 0.0, math.inf
    for at, way, size in ((start[0], step[0], wide), (start[1], step[1], high)):
        if abs(way) < 1e-9:
            if not 0.0 <= at <= size:
                return 1.0, 0.0
            continue
        one, other = sorted(((0.0 - at) / way, (size - at) / way))
        low, most = max(low, one), min(most, other)
    return low, most


def _stretch(
    shown: Scene, stem: Stem, projection: Projection, wide: float, field: float
) -> tuple[Spot, Spot, float, float]:
    start = projection.at(stem.start)
    across, away = heading(stem.bearing_deg)
    step = (across, -away)
    edge = 2.0
    inner = (start[0] - edge, start[1] - edge)
    low, most = _clip(inner, step, wide - 2 * edge, field - 2 * edge)
    return start, step, max(low, _out_cm(shown, stem) * MM_PER_CM + 1.5), most


def _seen(shown: Scene, stem: Stem, projection: Projection, wide: float, field: float) -> float:
    """How much of a stem's ray is on the sheet and not under the bowl, in mm."""
    _, _, low, most = _stretch(shown, stem, projection, wide, field)
    return max(0.0, most - low)


def _ray(
    shown: Scene, stem: Stem, projection: Projection, wide: float, field: float
) -> tuple[Spot, Spot]:
    (x, y), (dx, dy), low, most = _stretch(shown, stem, projection, wide, field)
    return (x + low * dx, y + low * dy), (x + most * dx, y + most * dy)


def _ray_marks(stem: Stem, start: Spot, end: Spot) -> list[Mark]:
    weight = WEIGHTS_MM[stem.id] * 1.6
    long = math.dist(start, end)
    share = max(0.0, 1 - 4.0 / long)
    stop = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
    dash = tuple(part * 1.8 for part in DASHES[stem.id])
    return [Path((start, stop), width_mm=weight, dash=dash), arrow_head(start, end, 5.0)]


def _ray_label(
    stems: tuple[Stem, ...], start: Spot, end: Spot, words: Words, text_pt: float
) -> Label:
    middle = ((start[0] + 2 * end[0]) / 3, (start[1] + 2 * end[1]) / 3)
    word = Saying(f"drawings.direction.{compass_word(stems[0].bearing_deg)}")
    names = [words.say(stem_saying(stem)) for stem in stems]
    return Label((*names, words.say(word)), middle, text_pt, bold=True)


def _on_sheet(points: Iterable[Spot], wide: float, high: float) -> list[list[Spot]]:
    """The stretches of a closed line that lie on the sheet."""
    ring = [*points]
    stretches: list[list[Spot]] = []
    current: list[Spot] = []
    for point in [*ring, ring[0]]:
        if 0 <= point[0] <= wide and 0 <= point[1] <= high:
            current.append(point)
        elif current:
            stretches.append(current)
            current = []
    if current:
        stretches.append(current)
    return [stretch for stretch in stretches if len(stretch) > 1]


def _bowl(shown: Scene, projection: Projection, laid: Laid, field: float) -> list[Mark]:
    half_x, half_y = shown.vessel.widest
    marks: list[Mark] = []
    outlines = (
        (Ring(0.0, half_x, half_y), LINE_MM, ()),
        (shown.vessel.outside[0], FINE_MM, (1.5, 1.2)),
    )
    for ring, width_mm, dash in outlines:
        points = plan_outline(shown.vessel, projection, ring, 240)
        for stretch in _on_sheet(_dense(points), laid.wide_mm, field):
            marks.append(Path(tuple(stretch), width_mm=width_mm, dash=dash))
    x, y = laid.middle
    if 4.0 < x < laid.wide_mm - 4.0 and 4.0 < y < field - 4.0:
        marks.append(Path(((x - 4.0, y), (x + 4.0, y)), stroke=SOFT))
        marks.append(Path(((x, y - 4.0), (x, y + 4.0)), stroke=SOFT))
    return marks + _holder(shown, projection, laid.wide_mm, field)


def _holder(shown: Scene, projection: Projection, wide: float, field: float) -> list[Mark]:
    """The pin holder, or as much of its outline as is on the sheet."""
    if shown.holder is None:
        return []
    x, y = projection.at(Point(shown.holder.x_cm, shown.holder.y_cm))
    held = shown.holder.holder
    half = max(held.width_cm, held.depth_cm) / 2 * MM_PER_CM
    if half < x < wide - half and half < y < field - half:
        return list(holder_from_above(shown.holder, projection))
    edge = holder_from_above(shown.holder, projection)[0]
    points = edge.points if isinstance(edge, Path) else arc_points((x, y), half, 0.0, 360.0)
    stretches = _on_sheet(_dense(tuple(points)), wide, field)
    return [Path(tuple(stretch), width_mm=FINE_MM) for stretch in stretches]


def _dense(points: tuple[Spot, ...]) -> list[Spot]:
    """The outline with points at most 3 mm apart, so that it can be cut at the sheet's edge."""
    found: list[Spot] = []
    for here, there in zip(points, (*points[1:], points[0]), strict=True):
        steps = max(1, math.ceil(math.dist(here, there) / 3.0))
        for step in range(steps):
            share = step / steps
            found.append(
                (here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1]))
            )
    return found


def _front(shown: Scene, projection: Projection, laid: Laid, words: Words, text_pt: float) -> Label:
    x, y = projection.at(Point(0.0, -shown.vessel.widest[1]))
    x = min(max(x, 12.0), laid.wide_mm - 12.0)
    y = min(max(y + 1.0, 4.0), laid.field_mm - 8.0)
    text = words.say(Saying("drawings.mark.front"))
    return Label((text,), (x, y), text_pt, bold=1, wish=(0.0, 1.0), leads=False)


def _foot(
    part: bool, number: tuple[int, int], wide: float, words: Words, text_pt: float, *, held: bool
) -> Foot:
    title = words.say(Saying("drawings.tool.bowl-mat"))
    keys = [f"bowl-mat-{'part' if part else 'use'}", "bowl-mat-foot", "bowl-mat-holder"]
    use = " ".join(words.say(Saying(f"drawings.tool.{key}")) for key in keys[: 2 + held])
    if number[1] > 1:
        which = Saying("drawings.tool.sheet", number=number[0], all=number[1])
        use = f"{words.say(which)} {use}"
    return foot_of(title, use, words, wide - 2 * SIDE_MM, text_pt, SIDE_MM)


def _longest_foot(wide: float, words: Words, text_pt: float) -> float:
    return _foot(True, (3, 3), wide, words, text_pt, held=True).height_mm + FOOT_GAP_MM
