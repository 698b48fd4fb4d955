"""A vessel alone, small, with its numbers: for lists and for the teacher's sheet."""

from __future__ import annotations

from dataclasses import replace

from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.elevation import VESSEL, Wanted, vessel_measures
from nejime.drawings.layout import Figure, Sheet, Subject, fitted
from nejime.drawings.pottery import holder_from_above, pot
from nejime.drawings.scene import HolderShape, VesselShape, vessel_shape
from nejime.drawings.svg import PAPER, Mark, Path, written
from nejime.drawings.views import FRONT, PLAN, Projection
from nejime.forms.holder import Holder
from nejime.forms.vessel import Vessel


def vessel_icon(
    vessel: Vessel,
    words: Words,
    *,
    width_mm: float = 36.0,
    height_mm: float | None = 24.0,
    mm_per_cm: float | None = None,
    text_pt: float = lettering.LEAST_PT,
) -> str:
    """The vessel from the side with width and height, as SVG.

    `mm_per_cm`: draw to this scale, so that vessels side by side can be compared, as long as the
    paper is wide enough.
    """
    shape = vessel_shape(vessel)

    def draw(scale: float) -> Figure:
        used = scale if mm_per_cm is None else min(scale, mm_per_cm)
        return _figure(shape, Projection(FRONT, used), words, text_pt)

    subject = Subject(
        draw,
        words.say(Saying("drawings.title.vessel")),
        words.say(
            Saying(
                "drawings.describes.vessel", width_cm=vessel.width_cm, height_cm=vessel.height_cm
            )
        ),
    )
    return written(fitted(subject, Sheet(width_mm, height_mm, text_pt)))


def _figure(shape: VesselShape, projection: Projection, words: Words, text_pt: float) -> Figure:
    layers = pot(shape, projection)
    wanted = Wanted({}, frozenset(), frozenset((VESSEL,)), text_pt)
    measures = vessel_measures(shape, projection, wanted, words)
    lines = [mark for marks, _ in measures for mark in marks]
    return Figure((*layers.behind, *layers.front, *lines), tuple(label for _, label in measures))


GLAZES = {  # [own] a glaze as a flat colour, pale enough for the lines on it
    "celadon": "#bfd0bd",
    "iron": "#8a6f5b",
    "ash": "#c9c3b5",
    "indigo": "#7d8ca6",
    "rawclay": "#c79a7b",
    "white": "#ffffff",
    "glass": "#e4eef0",
}


def bare_icon(
    vessel: Vessel,
    words: Words,
    *,
    glaze: str = "white",
    width_mm: float = 26.0,
    height_mm: float = 18.0,
) -> str:
    """The vessel from the side without numbers, in the colour of its glaze, as SVG."""
    shape = vessel_shape(vessel)

    def draw(scale: float) -> Figure:
        layers = pot(shape, Projection(FRONT, scale))
        marks = (*layers.behind, *layers.front)
        return Figure(tuple(_glazed(mark, GLAZES[glaze]) for mark in marks))

    subject = Subject(
        draw,
        words.say(Saying("drawings.title.vessel")),
        words.say(
            Saying(
                "drawings.describes.vessel", width_cm=vessel.width_cm, height_cm=vessel.height_cm
            )
        ),
    )
    return written(fitted(subject, Sheet(width_mm, height_mm)))


def _glazed(mark: Mark, colour: str) -> Mark:
    if isinstance(mark, Path) and mark.fill == PAPER:
        return replace(mark, fill=colour)
    return mark


def holder_icon(held: Holder, words: Words, *, width_mm: float = 18.0) -> str:
    """A pin holder from above, as SVG."""
    shape = HolderShape(held, 0.0, 0.0, 0.0)
    subject = Subject(
        lambda scale: Figure(holder_from_above(shape, Projection(PLAN, scale))),
        words.say(Saying("drawings.title.holder")),
        words.say(
            Saying("drawings.describes.holder", width_cm=held.width_cm, depth_cm=held.depth_cm)
        ),
    )
    return written(fitted(subject, Sheet(width_mm, width_mm)))
