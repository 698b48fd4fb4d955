"""What was made beside what was meant, stem by stem: what can be said of each.

Model: a difference is *near* where the whole 95 % interval lies within what a lesson allows, and
*off* where it is more than the lesson's tolerance, more than `LEAST_DEG` or `LEAST_CM`, and more
than half the interval. What is neither is not said. A difference's effect is how far it moves the
stem's end: of two lines l₁, l₂ from one foot the distance of the ends is, squared,
    (l₁ − l₂)² + 4·l₁·l₂·(sin²(Δlean/2) + sin lean₁ · sin lean₂ · sin²(Δdirection/2)),
so that length, lean and direction each have their part.
Frame: the house frame; directions clockwise from above.
Source: tolerances of a lesson in `forms.rules`; the distance by the haversine rule of spherical
trigonometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from nejime.basis.angles import shorter_way
from nejime.forms.rules import BEARING_TOLERANCE_DEG, LENGTH_TOLERANCE, TILT_TOLERANCE_DEG
from nejime.forms.stems import Piece, Stem
from nejime.photo.answer import Interval, Line, Measured, MeasuredStem
from nejime.photo.upright import in_picture_deg

LEAST_DEG = 5.0  # [own] a teacher does not speak of less
LEAST_CM = 1.5  # [own] nor of this
LEVEL_DEG = 90.0  # a line that leans more in a picture ends lower in it than it begins
SEEN_SHARE = LENGTH_TOLERANCE  # a turn that moves the end by less of the length is not said

Kind = Literal["lean", "direction", "lean-direction", "length", "picture"]


@dataclass(frozen=True, slots=True)
class Difference:
    """What a number is, what was meant, and `by` how much it is more.

    Of a direction `by` is the shorter way round, positive clockwise. `effect_cm` is how far the
    stem's end is moved by it.
    """

    made: Interval
    aim: float
    by: float
    tolerance: float
    least: float
    effect_cm: float

    @property
    def near(self) -> bool:
        """Whether it surely is within what a lesson allows."""
        return abs(self.by) + self.made.half <= self.tolerance + 1e-9

    @property
    def off(self) -> bool:
        """Whether it can be said that it is not as planned."""
        return abs(self.by) > max(self.tolerance, self.least, self.made.half)


@dataclass(frozen=True, slots=True)
class StemCompared:
    """One stem beside its plan. `in_picture` only where no line in space is known; `view` is the
    picture from which it was taken. `grew`: it is longer by no more than its plant grows."""

    id: str
    made: MeasuredStem
    aim: Stem
    lean: Difference | None = None
    direction: Difference | None = None
    length: Difference | None = None
    in_picture: Difference | None = None
    view: int = 0
    grew: bool = False

    @property
    def near(self) -> bool:
        """Whether all that is known of it is surely within what a lesson allows."""
        known = [each for each in (self.lean, self.direction, self.length) if each is not None]
        return self.lean is not None and all(each.near for each in known)

    @property
    def away_cm(self) -> float | None:
        """How far its end is from where it was meant, seen from its foot."""
        known = [each for each in (self.lean, self.direction, self.length) if each is not None]
        if self.lean is None:
            return None if self.in_picture is None else self.in_picture.effect_cm
        return math.sqrt(sum(each.effect_cm**2 for each in known))


@dataclass(frozen=True, slots=True)
class Change:
    """Something to change of one stem, and how far it moves the stem's end."""

    kind: Kind
    stem: str
    effect_cm: float


def known_line(stem: MeasuredStem) -> Line | None:
    """The stem's line in space where it is known and nothing else is possible."""
    return stem.line if stem.status == "measured" else None


def stem_compared(
    made: MeasuredStem,
    aim: Stem,
    measured: Measured,
    *,
    turn_deg: float = 0.0,
    share: float = 1.0,
    grows_cm: float = 0.0,
) -> StemCompared:
    """One stem beside its plan, a turn of the whole piece and its scale taken out; `grows_cm` is
    how much its plant grows after it was cut, at most."""
    line = known_line(made)
    if line is None:
        return _in_picture(made, aim, measured)
    meant_cm = share * aim.length_cm
    mean_cm = math.sqrt(line.length_cm.value * meant_cm)
    lean_by = line.tilt_deg.value - aim.stands_deg
    turned = shorter_way(line.bearing_deg.value - aim.bearing_deg - turn_deg)
    round_cm = mean_cm * math.sqrt(reach_share(line.tilt_deg.value) * reach_share(aim.stands_deg))
    longer_cm = line.length_cm.value - meant_cm
    direction = Difference(
        line.bearing_deg,
        (aim.bearing_deg + turn_deg) % 360.0,
        turned,
        BEARING_TOLERANCE_DEG,
        LEAST_DEG,
        _chord(round_cm, turned),
    )
    grew = 0.0 < longer_cm <= grows_cm
    return StemCompared(
        id=made.id,
        made=made,
        aim=aim,
        lean=Difference(
            line.tilt_deg,
            aim.stands_deg,
            lean_by,
            TILT_TOLERANCE_DEG,
            LEAST_DEG,
            _chord(mean_cm, lean_by),
        ),
        direction=direction if _matters(direction, mean_cm, round_cm) else None,
        length=None
        if grew
        else Difference(
            line.length_cm,
            meant_cm,
            longer_cm,
            LENGTH_TOLERANCE * meant_cm,
            LEAST_CM,
            abs(longer_cm),
        ),
        grew=grew,
    )


def _matters(direction: Difference, mean_cm: float, round_cm: float) -> bool:
    """Whether a stem leans enough to have a direction: an upright one points nowhere."""
    most_cm = max(direction.effect_cm, _chord(round_cm, direction.tolerance))
    return most_cm >= SEEN_SHARE * mean_cm


def reach_share(angle_deg: float) -> float:
    """How far a stem of this lean reaches out, over its length."""
    return max(0.0, math.sin(math.radians(angle_deg)))


def _chord(radius_cm: float, angle_deg: float) -> float:
    return 2.0 * radius_cm * abs(math.sin(math.radians(angle_deg) / 2.0))


def _in_picture(made: MeasuredStem, aim: Stem, measured: Measured) -> StemCompared:
    """A stem of which only the lean in a picture is known, beside the plan in that picture.

    What is meant to rise and ends lower in the picture than it begins comes towards the camera:
    its lean in the picture says nothing of its own.
    """
    for view, lean in enumerate(made.picture_lean_deg):
        if lean is None:
            continue
        meant = in_picture_deg(aim.start, aim.end, measured.cameras[view])
        if meant is None:
            continue
        if max(abs(lean.value), abs(meant)) > LEVEL_DEG >= aim.stands_deg:
            continue
        by = shorter_way(lean.value - meant)
        effect = _chord(aim.length_cm, by)
        found = Difference(lean, meant, by, TILT_TOLERANCE_DEG, LEAST_DEG, effect)
        return StemCompared(made.id, made, aim, in_picture=found, view=view)
    return StemCompared(made.id, made, aim)


def changes_of(stem: StemCompared) -> list[Change]:
    """What of one stem can be said to be otherwise than planned; lean and direction together."""
    found = []
    lean = stem.lean if stem.lean is not None and stem.lean.off else None
    turn = stem.direction if stem.direction is not None and stem.direction.off else None
    if lean is not None and turn is not None:
        both = math.hypot(lean.effect_cm, turn.effect_cm)
        found.append(Change("lean-direction", stem.id, both))
    elif lean is not None:
        found.append(Change("lean", stem.id, lean.effect_cm))
    elif turn is not None:
        found.append(Change("direction", stem.id, turn.effect_cm))
    if stem.length is not None and stem.length.off:
        found.append(Change("length", stem.id, stem.length.effect_cm))
    if stem.in_picture is not None and stem.in_picture.off:
        found.append(Change("picture", stem.id, stem.in_picture.effect_cm))
    return found


def weighed_mean(values: Sequence[float], weights: Sequence[float]) -> float:
    """A mean with weights; of equal weights where they are all nothing."""
    total = sum(weights)
    if total <= 0.0:
        return sum(values) / len(values)
    return sum(value * weight for value, weight in zip(values, weights, strict=True)) / total


def pairs(measured: Measured, plan: Piece) -> list[tuple[Line, Stem]]:
    """The lines that are known in space, each with its plan."""
    aims = {stem.id: stem for stem in plan.stems}
    found = []
    for made in measured.stems:
        line = known_line(made)
        if line is not None and made.id in aims:
            found.append((line, aims[made.id]))
    return found
