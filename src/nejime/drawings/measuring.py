"""How a vessel is measured: a drawing for the card that goes out with the invitation.

Model: a usual vessel of the shape, from the side, with a line for each measure that is asked for:
width inside at the rim, height outside, the flat part of the floor inside, the foot. An oval or a
rectangle is also shown from above, with width and depth.
"""

from __future__ import annotations

from nejime.basis.angles import Point
from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.dimensions import dimension
from nejime.drawings.labels import Label
from nejime.drawings.layout import Figure, Sheet, Subject, bounds, fitted
from nejime.drawings.pottery import HIDDEN_DASH, plan_outline, pot
from nejime.drawings.scene import VesselShape, vessel_shape
from nejime.drawings.svg import FINE_MM, HAIR_MM, LINE_MM, SOFT, Mark, Path, Spot, written
from nejime.drawings.views import FRONT, PLAN, Projection
from nejime.forms.vessel import Shape, Vessel, vessel

USUAL: dict[Shape, Vessel] = {  # [own] a likely one of each shape
    "round": vessel("round", 28.0, 6.0),
    "oval": vessel("oval", 30.0, 6.0, depth_cm=20.0),
    "rectangle": vessel("rectangle", 34.0, 5.5, depth_cm=20.0, corner_radius_cm=1.5),
    "bowl": vessel("bowl", 18.0, 8.0, wall="curved"),
    "footed": vessel("footed", 20.0, 12.0, wall="curved"),
    "vase": vessel("vase", 9.0, 24.0),
}
APART_MM = 6.5  # [own] from one dimension line to the next


def how_to_measure(
    shape: Shape,
    words: Words,
    *,
    width_mm: float = 80.0,
    height_mm: float | None = None,
    text_pt: float = lettering.LEAST_PT,
) -> str:
    """A vessel of this shape with the measures to take, as SVG."""
    drawn = vessel_shape(USUAL[shape])
    subject = Subject(
        lambda scale: _figure(shape, drawn, scale, words, text_pt),
        words.say(Saying("drawings.title.measure")),
        words.say(Saying("drawings.describes.measure")),
    )
    return written(fitted(subject, Sheet(width_mm, height_mm, text_pt)))


def _figure(shape: Shape, drawn: VesselShape, scale: float, words: Words, text_pt: float) -> Figure:
    projection = Projection(FRONT, scale)
    layers = pot(drawn, projection)
    marks: list[Mark] = [*layers.behind, *layers.front]
    labels: list[Label] = []
    for lines, label in _from_the_side(shape, drawn, projection, words, text_pt):
        marks += lines
        labels.append(label)
    if shape in ("oval", "rectangle"):
        more, said = _from_above(drawn, scale, bounds(marks)[3], words, text_pt)
        marks += more
        labels += said
    return Figure(tuple(marks), tuple(labels))


def _said(words: Words, measure: str) -> str:
    return words.say(Saying(f"drawings.measure.{measure}"))


def _from_the_side(
    shape: Shape, drawn: VesselShape, projection: Projection, words: Words, text_pt: float
) -> list[tuple[tuple[Mark, ...], Label]]:
    k = projection.mm_per_cm
    rim, half = -drawn.rim.z_cm * k, drawn.mouth.half_x_cm * k
    widest = drawn.widest[0] * k
    above = rim - APART_MM
    found = [
        _with_guides(
            (-half, above),
            (half, above),
            (rim, rim),
            _said(words, "mouth" if shape == "vase" else "width"),
            (0.0, -1.0),
            text_pt,
        ),
        dimension(
            (widest + 4.0, 0.0), (widest + 4.0, rim), _said(words, "height"), (1.0, 0.0), text_pt
        ),
    ]
    below = 4.5
    if shape != "vase":
        floor, low = drawn.inside[0].half_x_cm * k, -drawn.inside[0].z_cm * k
        marks, label = _with_guides(
            (-floor, below), (floor, below), (low, low), _said(words, "floor"), (0.0, 1.0), text_pt
        )
        line = Path(((-floor, low), (floor, low)), stroke=SOFT, width_mm=FINE_MM, dash=HIDDEN_DASH)
        found.append(((line, *marks), label))
        below += APART_MM + lettering.height_mm(1, text_pt)
    foot = drawn.outside[0].half_x_cm * k
    found.append(
        _with_guides(
            (-foot, below), (foot, below), (0.0, 0.0), _said(words, "foot"), (0.0, 1.0), text_pt
        )
    )
    return found


def _with_guides(
    start: Spot, stop: Spot, ends_y: tuple[float, float], text: str, wish: Spot, text_pt: float
) -> tuple[tuple[Mark, ...], Label]:
    """A level dimension line with fine dashed guides from what it measures."""
    lines, label = dimension(start, stop, text, wish, text_pt)
    guides = tuple(
        Path(((spot[0], y), spot), stroke=SOFT, width_mm=HAIR_MM, dash=(0.6, 0.8))
        for spot, y in zip((start, stop), ends_y, strict=True)
    )
    return (*guides, *lines), label


def _from_above(
    drawn: VesselShape, scale: float, top_mm: float, words: Words, text_pt: float
) -> tuple[list[Mark], list[Label]]:
    half_x, half_y = drawn.mouth.half_x_cm, drawn.mouth.half_y_cm
    line = lettering.height_mm(1, text_pt)
    y = top_mm + line + APART_MM + drawn.rim.half_y_cm * scale
    projection = Projection(PLAN, scale, 0.0, y)
    curved = drawn.corner_cm is None
    marks: list[Mark] = [
        Path(
            plan_outline(drawn, projection, ring),
            curved=curved,
            closed=True,
            width_mm=width_mm,
        )
        for ring, width_mm in ((drawn.rim, LINE_MM), (drawn.mouth, FINE_MM))
    ]
    across, wide = dimension(
        projection.at(Point(-half_x, 0.0)),
        projection.at(Point(half_x, 0.0)),
        _said(words, "width-short"),
        (0.0, -1.0),
        text_pt,
    )
    x = half_x * 0.55
    deep, depth = dimension(
        projection.at(Point(x, -half_y)),
        projection.at(Point(x, half_y)),
        _said(words, "depth"),
        (1.0, 0.0),
        text_pt,
    )
    return [*marks, *across, *deep], [wide, depth]
