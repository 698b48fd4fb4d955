"""Water: whether it covers the pins, how much to pour, what the whole weighs.

Model: the volume of the vessel up to the level, less what holder and stems take up.
Source: closed forms of volumes (`forms.vessel`); density of water 1 g/ml.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder
from nejime.forms.stems import Piece
from nejime.forms.vessel import Vessel
from nejime.standing.loads import Bodied, loads, material
from nejime.standing.masses import Body, inside_cm

HOLDER_G_CM3 = 9.5  # [own] lead plate and brass pins together
CARRY_G = 3000.0  # [own] more than this is carried with two hands, or filled where it stands
LOW_SHARE = 2 / 3  # [own] a tall vase is topped up when a third has gone


@dataclass(frozen=True, slots=True)
class Water:
    """The water of a piece. `cover_cm` and `lowest_cm` are 0 where there are no pins."""

    level_cm: float
    cover_cm: float
    lowest_cm: float
    pour_ml: float
    total_g: float
    remarks: tuple[Saying, ...]

    @property
    def covers(self) -> bool:
        """Whether the pins are covered as they should be."""
        return self.level_cm >= self.cover_cm

    @property
    def heavy(self) -> bool:
        """Whether the filled piece is too heavy to be carried lightly."""
        return self.total_g > CARRY_G


def holder_ml(held: Holder | None, level_cm: float) -> float:
    """What a pin holder takes up under water of a level above the floor."""
    return 0.0 if held is None else held.mass.g / HOLDER_G_CM3 * under_water(held, level_cm)


def under_water(held: Holder, level_cm: float) -> float:
    """The share of a pin holder that is under water."""
    return min(1.0, max(0.0, level_cm / held.height_cm))


def carried(held: Holder, level_cm: float) -> float:
    """What is left of a holder's weight in water, as a share."""
    return 1.0 - under_water(held, level_cm) / HOLDER_G_CM3


def poured_ml(vessel: Vessel, held: Holder | None, level_cm: float, stems_ml: float = 0.0) -> float:
    """Water that fills a vessel to a level with its holder and stems in it."""
    return max(0.0, vessel.volume_ml(level_cm) - holder_ml(held, level_cm) - stems_ml)


def stems_ml(piece: Piece, made_of: tuple[Body, ...], level_cm: float) -> float:
    """What the stems take up under water."""
    floor = piece.vessel.base_cm
    volume = 0.0
    for stem, body in zip(piece.stems, made_of, strict=True):
        # From the lower end along the stem's line up to the water.
        lean = stem.stands_deg if piece.holder else _inner_tilt_deg(stem.start, stem.foot)
        rise = max(0.0, floor + level_cm - stem.foot.z_cm)
        inside = rise / max(math.cos(math.radians(lean)), 0.1)
        longest = inside_cm(stem) if piece.holder is None else stem.length_cm
        volume += math.pi / 4 * (body.thickness_mm / 10) ** 2 * min(inside, longest)
    return volume


def _inner_tilt_deg(start: tuple[float, ...], foot: tuple[float, ...]) -> float:
    across = math.hypot(start[0] - foot[0], start[1] - foot[1])
    return math.degrees(math.atan2(across, start[2] - foot[2]))


def lowest_cm(piece: Piece) -> float:
    """The level at which it is high time to pour: pins laid bare, or a third gone."""
    if piece.holder is not None:
        return min(piece.holder.height_cm, piece.water_cm)
    return LOW_SHARE * piece.water_cm


def water(piece: Piece, known: Bodied) -> Water:
    """The water that a piece needs and what comes of it."""
    made_of = material(piece, known)
    level, held = piece.water_cm, piece.holder
    pour = poured_ml(piece.vessel, held, level, stems_ml(piece, made_of, level))
    stems_g = float(loads(piece, known, drawn=False).g.sum()) if piece.stems else 0.0
    total = piece.vessel.mass.g + pour + stems_g + (held.mass.g if held else 0.0)
    cover = held.cover_cm if held else 0.0
    said = [Saying("standing.pour", pour_ml=round(pour, -1 if pour < 1000 else -2))]
    if level < cover:
        said.append(_too_shallow(piece, cover))
    if total > CARRY_G:
        said.append(Saying("standing.heavy", total_kg=total / 1000))
    return Water(level, cover, lowest_cm(piece), pour, total, tuple(said))


def _too_shallow(piece: Piece, cover_cm: float) -> Saying:
    if piece.vessel.most_water_cm >= cover_cm:
        return Saying("standing.more-water", cover_cm=cover_cm)
    return Saying("standing.pins-stay-dry", most_cm=piece.vessel.most_water_cm, cover_cm=cover_cm)
