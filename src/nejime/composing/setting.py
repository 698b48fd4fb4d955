"""A piece made ready for the checks: its stems and leaves as arrays, its vessel as numbers.

Frame: the house frame. Sizes that thresholds are shares of: the first stem's length and the height
of its end above the water, the vessel's inner half measures, the pin holder's half measure.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from nejime.basis.angles import line
from nejime.basis.sayings import Saying
from nejime.composing.lines import Array, Blades, Flags, Index, Stems, blades, stems
from nejime.composing.material import Material, with_usual
from nejime.composing.seeing import Seat, disc, over_the_wall, square
from nejime.forms.rules import MAIN
from nejime.forms.stems import Piece, Stem, stem_name

RANK = {"first": 0, "second": 1, "third": 2}  # [own] who gives way: the later
RANK_OF_ROLE = {"main": 2, "helper": 3, "heart": 4, "leaf": 5}  # [own]

ALLOWED = (
    "rows",  # stems side by side
    "symmetric",  # left like right
    "flat",  # no depth
    "front-only",  # nothing behind
    "back",  # nothing in front
    "classical",  # all stems leave the water as one: the only one that asks for more
    "holder-middle",
    "open-holder",  # the pins may be seen
    "hide-water",
    "floating",  # flowers and leaves on the water
    "weeping",  # ends that point down
    "all-round",
    "hanging",
)
"""What a piece may be allowed to do, though most may not."""

ALWAYS: Mapping[str, frozenset[str]] = {
    "all-round": frozenset({"all-round", "symmetric"}),
    "hanging": frozenset({"hanging"}),
}
"""What a form allows by itself."""


@dataclass(frozen=True)
class Setting:
    """A piece, its material and its viewer. `allow`: of `ALLOWED`, what this piece may do."""

    piece: Piece
    material: Mapping[str, Material]
    seat: Seat
    allow: frozenset[str]

    @cached_property
    def lines(self) -> tuple[Stem, ...]:
        """Every stem that is a line: all but the leaves at the foot."""
        return tuple(stem for stem in self.piece.stems if stem.role != "leaf")

    def called(self, stem_id: str) -> Saying:
        """What a stem is called in a sentence about this piece."""
        return called(self.piece, stem_id)

    @cached_property
    def leaves(self) -> tuple[Stem, ...]:
        """The leaves at the foot."""
        return tuple(stem for stem in self.piece.stems if stem.role == "leaf")

    @cached_property
    def made_of(self) -> tuple[Material, ...]:
        """The material of `lines`."""
        return tuple(self.material[stem.id] for stem in self.lines)

    @cached_property
    def rank(self) -> Index:
        """Who gives way: the higher number."""
        return np.array([RANK.get(stem.id, RANK_OF_ROLE[stem.role]) for stem in self.lines])

    @cached_property
    def place(self) -> Mapping[str, int]:
        """Where a stem is in `lines`, by its id."""
        return {stem.id: at for at, stem in enumerate(self.lines)}

    @cached_property
    def mains(self) -> Index:
        """Where the three main stems are in `lines`."""
        return np.array([self.place[stem] for stem in MAIN])

    @cached_property
    def pairs(self) -> tuple[Index, Index]:
        """All pairs of `lines`."""
        one, other = np.triu_indices(len(self.lines), 1)
        return one, other

    @cached_property
    def grass(self) -> Flags:
        """Which of `lines` are grass, whose lines may cross."""
        return np.array([each.kind == "grass" for each in self.made_of])

    @cached_property
    def main_cm(self) -> float:
        """Length of the first stem."""
        return self.piece.stem("first").length_cm

    @cached_property
    def high_cm(self) -> float:
        """Height over the water of the highest main end."""
        return max(max(stem.above_water_cm for stem in self.piece.main), 0.1 * self.main_cm)

    @cached_property
    def rim_cm(self) -> float:
        """Height of the rim above the table."""
        return self.piece.vessel.height_cm

    @cached_property
    def water_z_cm(self) -> float:
        """Height of the water above the table."""
        return self.piece.vessel.base_cm + self.piece.water_cm

    @cached_property
    def half_cm(self) -> tuple[float, float]:
        """Half the inner measures at the rim."""
        return self.piece.vessel.width_cm / 2, self.piece.vessel.depth_cm / 2

    @cached_property
    def middle_cm(self) -> Array:
        """The middle of the pin holder, or of the mouth."""
        return np.array([self.piece.place.x_cm, self.piece.place.y_cm])

    @cached_property
    def holder_half_cm(self) -> tuple[float, float]:
        """Half the pin holder's measures; the mouth's where there is none."""
        held = self.piece.holder
        return self.half_cm if held is None else (held.width_cm / 2, held.depth_cm / 2)

    @cached_property
    def eye(self) -> Array:
        """The usual eye."""
        return self.seat.eye(self.rim_cm)

    @cached_property
    def holder_points(self) -> Array:
        """Samples (q, 3) of the tops of the pins."""
        held = self.piece.holder
        if held is None:
            return np.zeros((0, 3))
        flat = square() if held.rectangular else disc()
        top = self.piece.vessel.base_cm + held.height_cm
        return raised(flat * np.array(self.holder_half_cm) + self.middle_cm, top)

    @cached_property
    def water_points(self) -> Array:
        """Samples (q, 3) of the water that is seen over the wall and is not over the pins."""
        vessel = self.piece.vessel
        if vessel.tall:
            return np.zeros((0, 3))
        half = vessel.half_at(self.piece.water_cm)
        flat = (disc() if vessel.round_plan else square()) * np.array(half)
        points = raised(flat, self.water_z_cm)
        return points[self.seen_over_wall(points, self.eye)]

    def seen_over_wall(self, points: Array, eye: Array) -> Flags:
        """Which points inside the vessel an eye sees over its wall."""
        vessel = self.piece.vessel
        return over_the_wall(points, eye, self.rim_cm, self.half_cm, vessel.round_plan)

    @cached_property
    def holder_seen(self) -> tuple[tuple[Array, Array], ...]:
        """For each of the four eyes: the eye, and the samples of the pins it sees over the wall."""
        return tuple(self._sees_pins(eye) for eye in self.seat.eyes(self.rim_cm))

    @cached_property
    def holder_aside(self) -> tuple[tuple[Array, Array], ...]:
        """The same for the neighbours' eyes."""
        return tuple(self._sees_pins(eye) for eye in self.seat.sides(self.rim_cm))

    def _sees_pins(self, eye: Array) -> tuple[Array, Array]:
        return eye, self.holder_points[self.seen_over_wall(self.holder_points, eye)]

    @cached_property
    def aims_apart_deg(self) -> float:
        """The angle in space between second and third as the form has them."""
        form = self.piece.form
        second, third = (
            np.array(line(form.lean(each).tilt_deg.aim, form.lean(each).bearing_deg.aim))
            for each in ("second", "third")
        )
        return math.degrees(math.acos(float(np.clip(second @ third, -1.0, 1.0))))

    @cached_property
    def stems(self) -> Stems:
        """`lines` in space."""
        column = numbers(self.lines)
        made = self.made_of
        return stems(
            **column,
            half_cm=np.array([each.thickness_mm / 20 for each in made]),
            head_cm=np.array([each.head_cm / 2 for each in made]),
            foliage_cm=np.array([each.foliage_cm for each in made]),
            bow_cm=np.array([stem.bow_cm for stem in self.lines]),
        )

    @cached_property
    def blades(self) -> Blades:
        """`leaves` in space."""
        made = [self.material[stem.id] for stem in self.leaves]
        return blades(
            **numbers(self.leaves),
            droop_deg=np.array([each.droop_deg for each in made]),
            blade_cm=np.array([each.blade_cm for each in made]),
            width_cm=np.array([each.blade_width_cm for each in made]),
        )


def setting(
    piece: Piece,
    material: Mapping[str, Material] | None = None,
    *,
    seat: Seat | None = None,
    allow: frozenset[str] = frozenset(),
) -> Setting:
    """A piece made ready. Stems of unknown material are of the usual one for their role."""
    return Setting(
        piece,
        with_usual(piece, material),
        seat or Seat(),
        allow | ALWAYS.get(piece.form.name, frozenset()),
    )


def called(piece: Piece, stem_id: str) -> Saying:
    """What a stem is called in a sentence: without its number where it is the only one."""
    kind, _, number = stem_id.partition("-")
    if not number:
        return stem_name(stem_id)
    alike = sum(stem.id.startswith(f"{kind}-") for stem in piece.stems)
    return Saying(f"composing.stem.{kind}", count=alike, number=number)


def numbers(chosen: tuple[Stem, ...]) -> dict[str, Array]:
    """Where stems start, how long they are, how they lean and where they point."""
    return {
        "start_cm": np.array([stem.start for stem in chosen], dtype=float).reshape(-1, 3),
        "length_cm": np.array([stem.length_cm for stem in chosen], dtype=float),
        "tilt_deg": np.array([stem.stands_deg for stem in chosen], dtype=float),
        "bearing_deg": np.array([stem.bearing_deg for stem in chosen], dtype=float),
    }


def raised(flat: Array, height_cm: float) -> Array:
    """Points of a plan (q, 2) at a height: (q, 3)."""
    return np.concatenate([flat, np.full((len(flat), 1), height_cm)], axis=-1)
