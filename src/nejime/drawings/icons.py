"""A vessel alone, small, with its numbers: for lists and for the teacher's sheet."""

from __future__ import annotations

from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.elevation import VESSEL, Wanted, vessel_measures
from nejime.drawings.layout import Figure, Sheet, Subject, fitted
from nejime.drawings.pottery import pot
from nejime.drawings.scene import VesselShape, vessel_shape
from nejime.drawings.svg import written
from nejime.drawings.views import FRONT, Projection
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
