"""One piece on the arranging table: a design, its vessel and pin holder, and what it is made of.

Model: a design is geometry in shares of a vessel; here it has a vessel, and every stem a plant. So
the same design in another vessel is the same arrangement with another `vessel` and `held`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from nejime.composing.material import LEAF_BLADE
from nejime.forms.arranged import Design, aimed, arranged
from nejime.forms.holder import Holder
from nejime.forms.rules import Rule
from nejime.forms.stems import Piece, Stem
from nejime.forms.vessel import Vessel
from nejime.lesson.bodies import body, role_of
from nejime.material.supply import MaterialRole, Wish
from nejime.plants.table import plant
from nejime.standing.masses import Body

OPEN, IN_BUD = 0.8, 0.25  # [own] how far flowers are drawn open


@dataclass(frozen=True, slots=True)
class Stuff:
    """What a stem is made of, and how it is turned. `roll_deg` turns it about its own line;
    `seed` makes it the very stem that it is. `stage` is how far its flowers are open, 0 to 1. A
    leaf's blade hangs `droop_deg` lower than its stalk. `off` is the line of a branch of her own:
    how far it is off its straight line at even steps, in shares of its length.
    """

    plant: str
    seed: int
    thickness_mm: float | None = None
    roll_deg: float = 0.0
    stage: float = OPEN
    droop_deg: float = 0.0
    off: tuple[float, ...] = ()

    @property
    def in_bud(self) -> bool:
        """Whether its flowers are still closed."""
        return self.stage <= IN_BUD


@dataclass(frozen=True, slots=True)
class Arrangement:
    """A design in a vessel. `stuff` by stem id; `glaze` is the colour that the vessel
    has, `season` the one whose colours the leaves have."""

    design: Design
    vessel: Vessel
    held: Holder | None
    rule: Rule
    stuff: Mapping[str, Stuff] = field(default_factory=dict)
    glaze: str = "celadon"
    season: str = "spring"

    def piece(self) -> Piece:
        """The stems as they stand. Raises `InputError`."""
        return arranged(self.design, self.vessel, self.held, self.rule)

    def aim(self) -> Piece:
        """The three main stems as the form has them. Raises `InputError`."""
        return aimed(self.design, self.vessel, self.held, self.rule)

    def bodies(self, piece: Piece) -> dict[str, Body]:
        """What each stem weighs and how stiff it is, by stem id."""
        return {stem.id: self._body(stem) for stem in piece.stems if stem.id in self.stuff}

    def _body(self, stem: Stem) -> Body:
        stuff = self.stuff[stem.id]
        role: MaterialRole = role_of(stem)  # type: ignore[assignment]
        wish = Wish(role, stuff.plant, thickness_mm=stuff.thickness_mm, in_bud=stuff.in_bud)
        return body(stem, wish, plant(stuff.plant))

    def drawn(self, piece: Piece) -> Piece:
        """The piece as it is drawn: a leaf that bends over goes straight to where its end is."""
        return replace(piece, stems=tuple(self._straight(stem) for stem in piece.stems))

    def _straight(self, stem: Stem) -> Stem:
        droop = self.stuff[stem.id].droop_deg if stem.id in self.stuff else 0.0
        if stem.role != "leaf" or not droop:
            return stem
        lean, bent = math.radians(stem.stands_deg), math.radians(stem.stands_deg + droop)
        stalk, blade = (1 - LEAF_BLADE) * stem.length_cm, LEAF_BLADE * stem.length_cm
        out = stalk * math.sin(lean) + blade * math.sin(bent)
        up = stalk * math.cos(lean) + blade * math.cos(bent)
        return replace(
            stem, length_cm=math.hypot(out, up), stands_deg=math.degrees(math.atan2(out, up))
        )

    def in_vessel(self, vessel: Vessel, held: Holder | None) -> Arrangement:
        """The same design in another vessel."""
        return replace(self, vessel=vessel, held=held)
