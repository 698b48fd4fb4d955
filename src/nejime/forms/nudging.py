"""A piece after small corrections: a stem lower, longer, turned, left out; the pin holder moved.

Model: a stem is corrected from where it stands now. Its foot stays on the pins, and goes with the
pin holder; in a tall vase it moves along the mouth with its direction. The rim limits the lean as
it does for any stem. What nobody corrected stays as it is.
Frame: the house frame; see `basis.angles`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from nejime.basis.angles import Point, apart, mirrored
from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying
from nejime.forms.leaning import standing_stem
from nejime.forms.placing import place
from nejime.forms.rules import BEARING_TOLERANCE_DEG, MOST_TILT_DEG, TILT_TOLERANCE_DEG, Range
from nejime.forms.stems import Piece, Stem, stem_name
from nejime.forms.tall import at_mouth

Towards = Literal["left", "right", "front", "back"]
TOWARDS_DEG: Mapping[Towards, float] = {  # [own] the house frame
    "left": 270.0,
    "right": 90.0,
    "front": 180.0,
    "back": 0.0,
}
LEAST_CM = 3.0  # [own] as the shortest stem of a class file
MOST_STANDING_DEG = 89.0  # [own] a stem that stands does not come to hang by a correction
MOVED_CM = 0.05  # [own] less than this nobody moves a pin holder


@dataclass(frozen=True, slots=True)
class Nudge:
    """What is corrected of one stem. `lower_deg` and `longer_cm` are negative for higher and
    shorter; it is turned by `turn_deg` the shorter way `towards` a side, and stops there."""

    lower_deg: float = 0.0
    longer_cm: float = 0.0
    towards: Towards | None = None
    turn_deg: float = 0.0
    off: bool = False

    @property
    def moves(self) -> bool:
        """Whether anything is corrected of a stem that stays."""
        return bool(self.lower_deg or self.longer_cm or (self.towards and self.turn_deg))


def nudged(planned: Piece, nudges: Mapping[str, Nudge], holder: str | None = None) -> Piece:
    """The piece with its stems corrected, by stem id, and the pin holder at a place in words.

    Raises `InputError`, at `<stem>.cut_by`, where nothing of a stem would be left.
    """
    on, step = _holder_moved(planned, holder)
    kept = [stem for stem in planned.stems if not nudges.get(stem.id, Nudge()).off]
    faults = [
        Fault(
            f"{stem.id}.cut_by",
            Saying("nudge.too-short", stem=stem_name(stem.id), length_cm=stem.length_cm),
            Saying("nudge.too-short-try", least_cm=LEAST_CM),
        )
        for stem in kept
        if stem.length_cm + nudges.get(stem.id, Nudge()).longer_cm < LEAST_CM
    ]
    if faults:
        raise InputError(faults)
    stems = tuple(_nudged(on, stem, nudges.get(stem.id, Nudge()), step) for stem in kept)
    return replace(on, stems=stems)


def turned_deg(bearing_deg: float, towards: Towards, turn_deg: float) -> float:
    """A bearing turned the shorter way towards a side, at most as far as that side; by the front
    where both ways are equally long."""
    aim = TOWARDS_DEG[towards]
    step = min(turn_deg, apart(bearing_deg, aim))
    ways = [(bearing_deg + step) % 360.0, (bearing_deg - step) % 360.0]
    return min(ways, key=lambda way: (round(apart(way, aim), 6), apart(way, TOWARDS_DEG["front"])))


def _holder_moved(planned: Piece, wanted: str | None) -> tuple[Piece, tuple[float, float]]:
    """The piece with its pin holder at the place, and how far that is from where it was."""
    before = planned.place
    if planned.holder is None or wanted is None or wanted == before.word:
        return replace(planned, remarks=()), (0.0, 0.0)
    after = place(wanted, planned.holder, planned.vessel)
    step = (after.x_cm - before.x_cm, after.y_cm - before.y_cm)
    return replace(planned, place=after, remarks=after.remarks), step


def _nudged(on: Piece, stem: Stem, nudge: Nudge, step: tuple[float, float]) -> Stem:
    if not nudge.moves and math.hypot(*step) < MOVED_CM:
        return stem
    bearing = stem.bearing_deg
    if nudge.towards is not None:
        bearing = turned_deg(bearing, nudge.towards, nudge.turn_deg)
    most = MOST_TILT_DEG if stem.stands_deg >= 90.0 else MOST_STANDING_DEG
    tilt = min(max(stem.stands_deg + nudge.lower_deg, 0.0), most)
    length_cm = stem.length_cm + nudge.longer_cm
    written = bearing if on.opens == "right" else mirrored(bearing)
    found = standing_stem(
        on,
        stem.id,
        stem.role,
        length_cm=length_cm,
        tilt=_around(tilt, TILT_TOLERANCE_DEG),
        bearing=_around(written, BEARING_TOLERANCE_DEG),
        start=_start(on, stem, bearing, step),
        label=stem.label,
        leader=stem.leader,
    )
    return replace(found, bow_cm=stem.bow_cm * length_cm / stem.length_cm)


def _around(aim: float, tolerance: float) -> Range:
    return Range(aim - tolerance, aim, aim + tolerance)


def _start(on: Piece, stem: Stem, bearing_deg: float, step: tuple[float, float]) -> Point:
    if on.holder is None:
        return at_mouth(on.vessel, bearing_deg)
    x, y, z = stem.start
    return Point(x + step[0], y + step[1], z)
