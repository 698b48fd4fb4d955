"""Cross-bars for the tall vases of a class, cut from the bare wood that her branches leave.

Model: a vase in which a stem would slip gets one bar from left to right, a little longer than it is
wide inside at that depth, so that it can be wedged. What is left below a woody branch that was cut
to its length is bare wood of the same thickness; what it cannot give must be found.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from nejime.basis.sayings import Saying
from nejime.forms.stems import Piece
from nejime.material.bare import BarePlan, Stick, bare_plan
from nejime.material.buying import Buying
from nejime.plants.table import plant
from nejime.standing.fixing import cross_bar
from nejime.standing.masses import Body

WEDGED_CM = 0.3  # [own] a bar is cut longer than the mouth and trimmed until it sits tight
LEAST_REST_CM = 5.0  # [own] shorter rests are no stick
SAW_CM = 0.3  # [own] what a cut takes, with its trimming


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars wanted, by length: how many of each, whose they are, and how they are cut."""

    lengths_cm: tuple[float, ...]
    counts: tuple[int, ...]
    whose: tuple[tuple[str, ...], ...]
    cut: BarePlan

    @property
    def says(self) -> tuple[Saying, ...]:
        """The bars in words, one sentence a length, and what must still be found."""
        found = [
            Saying("lesson.bars.of", count=count, cut_cm=length_cm, names=names)
            for length_cm, count, names in zip(
                self.lengths_cm, self.counts, self.whose, strict=True
            )
        ]
        if self.cut.sticks:
            found.append(Saying("lesson.bars.rests", count=self.cut.sticks))
        missing = sum(self.cut.missing)
        if missing:
            found.append(Saying("lesson.bars.missing", count=missing))
        return tuple(found)


def bars(pieces: Iterable[tuple[str, Piece, Mapping[str, Body]]], bought: Buying) -> Bars | None:
    """The cross-bars of a class; None where no vase needs one. `pieces`: whose, and of what."""
    whose: dict[int, list[str]] = {}
    for name, piece, bodies in pieces:
        bar = cross_bar(piece, bodies)
        if bar is not None and bar.needed:
            half_cm, _ = piece.vessel.half_at(piece.vessel.inside_cm - bar.depth_cm)
            whose.setdefault(_mm(2 * half_cm + WEDGED_CM), []).append(name)
    if not whose:
        return None
    lengths_mm = sorted(whose, reverse=True)
    counts = [len(whose[each]) for each in lengths_mm]
    return Bars(
        lengths_cm=tuple(each / 10 for each in lengths_mm),
        counts=tuple(counts),
        whose=tuple(tuple(whose[each]) for each in lengths_mm),
        cut=bare_plan(lengths_mm, counts, _rests(bought), _mm(SAW_CM)),
    )


def _rests(bought: Buying) -> list[Stick]:
    """The bare wood below what is cut, as sticks that are all as dear as each other."""
    found: Counter[int] = Counter()
    for use in bought.uses:
        rest_cm = use.length_cm - use.cut_to_cm
        if plant(use.plant).kind == "branch" and rest_cm >= LEAST_REST_CM:
            found[_mm(rest_cm)] += 1
    return [Stick(length_mm, 1, count) for length_mm, count in sorted(found.items())]


def _mm(length_cm: float) -> int:
    return round(10 * length_cm)
