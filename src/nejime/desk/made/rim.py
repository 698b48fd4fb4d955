"""The rim as it was marked, drawn back over the picture, and what is not right with the marks.

Model: an ellipse through the points. Points that leave more than a quarter of the rim bare say
little about how it lies.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.photo.ellipse import fitted_ellipse
from nejime.photo.rim_marks import WIDEST_GAP_DEG, odd_mark, widest_gap_deg

LEAST_POINTS = 6
OFF_SHARE = 0.04  # [own] of the rim's half width in the picture; a finger is nearer
OUTLINE_POINTS = 72
Marks = Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True)
class SeenRim:
    """The outline in pixels, empty where there are too few points; what to say of the points."""

    outline: list[list[float]]
    says: tuple[Saying, ...]


def seen_rim(rim: Marks, width: float, height: float, *, rectangle: bool) -> SeenRim:
    """What the points of a rim, or its corners, show."""
    if rectangle:
        return SeenRim([list(each) for each in rim] if len(rim) > 1 else [], ())
    if len(rim) < LEAST_POINTS:
        return SeenRim([], ())
    try:
        ellipse = fitted_ellipse([(x, y) for x, y in rim])
    except InputError as trouble:
        return SeenRim([], tuple(fault.says for fault in trouble.faults))
    outline = [[round(float(x), 1), round(float(y), 1)] for x, y in ellipse.points(OUTLINE_POINTS)]
    return SeenRim(outline, (*_gap(rim), *_off(rim)))


def _gap(rim: Marks) -> tuple[Saying, ...]:
    """A word where the points leave more than a quarter of the rim bare."""
    return (Saying("made.rim-gap"),) if widest_gap_deg(rim) > WIDEST_GAP_DEG else ()


def _off(rim: Marks) -> tuple[Saying, ...]:
    """The point without which the others fit best, by its number, where it does not fit them."""
    odd = odd_mark(rim)
    return (Saying("made.rim-off", number=odd[0] + 1),) if odd and odd[1] > OFF_SHARE else ()
