"""Helper stems, the flower at the heart and the leaves at the foot, at simple stated places.

Model: each has a place of its own, told from the main stems: whom it follows, what share of that
stem's length it has, and how far it turns from it. Helper stems are shorter than the main stem
that they follow; flowers stand low between the first and the third; leaves bend over the pins.
Where a better place can be found for a piece, that is for another room: these are the lesson's.
Source: half the length of the stem that is followed, varying lengths, always shorter: common
practice. The exact turns are ours: of round numbers, ones with which no form in a dish
raises a finding of composition.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from nejime.basis.angles import Point, heading, mirrored
from nejime.forms.leaning import standing_stem
from nejime.forms.rules import BEARING_TOLERANCE_DEG, TILT_TOLERANCE_DEG, Range
from nejime.forms.stems import Piece, Role, Stem
from nejime.forms.tall import at_mouth


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one supporting stem stands. `bearing_deg` is for the piece that opens to the right;
    None follows the leader's, turned by `turn_deg`. `step` is how far its foot stands out from the
    holder's middle, over the holder's half measure; less than 0 to the other side."""

    leader: str
    share: float
    tilt_deg: float
    turn_deg: float
    step: float


HELPERS = (  # [own] the first follow the main stems, shorter and a little turned
    Spot("first", 0.80, 8.0, 70.0, 0.40),
    Spot("second", 0.65, 3.0, 45.0, 0.50),
    Spot("third", 0.55, -20.0, -35.0, 0.60),
    Spot("first", 0.35, 17.0, -55.0, 0.45),
    Spot("second", 0.35, -5.0, -25.0, 0.40),
    Spot("third", 0.35, -40.0, 30.0, 0.60),
)
HEARTS = (  # [own] low in the middle, turned to the viewer, each one lower than the one before
    Spot("second", 0.65, -20.0, -105.0, 0.20),
    Spot("third", 1.05, -20.0, 20.0, 0.45),
    Spot("third", 0.40, -30.0, 85.0, 0.75),
)
LEAVES = (  # [own] stalks that rise from behind the middle, so that the blades bend over the pins
    Spot("third", 0.65, -50.0, 115.0, 0.0),
    Spot("third", 0.65, -45.0, 55.0, -0.35),
    Spot("third", 0.55, -45.0, -60.0, -0.70),
    Spot("third", 0.55, -60.0, -50.0, 0.10),
    Spot("third", 0.50, -65.0, 115.0, 0.80),
)
MOST = {"helper": len(HELPERS), "heart": len(HEARTS), "leaf": len(LEAVES)}
_SPOTS: dict[Role, tuple[Spot, ...]] = {"helper": HELPERS, "heart": HEARTS, "leaf": LEAVES}
_IDS: dict[Role, str] = {"helper": "sub", "heart": "heart", "leaf": "leaf"}


def with_supporting(piece: Piece, *, helpers: int = 0, hearts: int = 0, leaves: int = 0) -> Piece:
    """The piece with supporting stems added, at most as many as there are places (`MOST`)."""
    counts: dict[Role, int] = {"helper": helpers, "heart": hearts, "leaf": leaves}
    added = [
        _stem(piece, role, number, spot)
        for role, count in counts.items()
        for number, spot in enumerate(_SPOTS[role][:count], start=1)
    ]
    return replace(piece, stems=piece.stems + tuple(added))


def _stem(piece: Piece, role: Role, number: int, spot: Spot) -> Stem:
    leader = piece.stem(spot.leader)
    lean = piece.form.lean(spot.leader)
    tilt = min(max(5.0, lean.tilt_deg.aim + spot.tilt_deg), 85.0)
    bearing = (lean.bearing_deg.aim + spot.turn_deg) % 360.0
    return standing_stem(
        piece,
        f"{_IDS[role]}-{number}",
        role,
        length_cm=leader.length_cm * spot.share,
        tilt=Range(max(0.0, tilt - TILT_TOLERANCE_DEG), tilt, tilt + TILT_TOLERANCE_DEG),
        bearing=Range(bearing - BEARING_TOLERANCE_DEG, bearing, bearing + BEARING_TOLERANCE_DEG),
        start=_start(piece, spot, bearing),
        leader=spot.leader,
    )


def _start(piece: Piece, spot: Spot, bearing_deg: float) -> Point:
    turned = bearing_deg if piece.opens == "right" else mirrored(bearing_deg)
    if piece.holder is None:
        return at_mouth(piece.vessel, turned)
    across, away = heading(turned)
    step = spot.step * piece.holder.half_along_cm(across, away)
    return Point(
        piece.place.x_cm + step * across,
        piece.place.y_cm + step * away,
        piece.vessel.base_cm + piece.holder.foot_height_cm,
    )
