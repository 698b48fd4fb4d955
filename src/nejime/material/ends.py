"""Ends of stems and who gets which: lengths are nested.

Model: whatever end serves a stem serves every shorter one of the same kind. So needs and ends,
both sorted, fit if each end is as long as the need at its place; and the longest need may take any
end that fits it. A stem tapers evenly from its cut end to its end.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nejime.material.supply import Bunch, GardenBranch
from nejime.material.wanted import StemWanted

Source = Bunch | GardenBranch
END_MM = 2.0  # [own] how thick a stem is where it ends


@dataclass(frozen=True, slots=True)
class End:
    """An end with the wood below it: what one stem of a piece can be cut from.

    `part` is 0 for the branch's own end, and counts its side shoots from the cut end upwards.
    `length_cm` is the most that can be had. A `natural` one keeps the side shoots on its upper
    part.
    """

    source: Source
    length_cm: float
    part: int = 0
    natural: bool = True

    @property
    def plant(self) -> str:
        """The plant's id."""
        return self.source.plant

    @property
    def paid(self) -> bool:
        """Whether it is bought."""
        return isinstance(self.source, Bunch)

    @property
    def taper_mm_cm(self) -> float | None:
        """How much thicker it is, a centimetre farther from its end; None where nobody said."""
        thickness_mm = self.source.thickness_mm
        if thickness_mm is None:
            return None
        return max(0.0, thickness_mm - END_MM) / self.source.length_cm


def least_cut_cm(end: End, wanted: StemWanted) -> float | None:
    """The shortest length to which an end, if it is long enough, may be cut for a stem.

    None where it cannot serve: another plant, stripped where side shoots are wanted, or too thin
    or too thick wherever it may be cut. Where nobody said how thick it is, it is let pass.
    """
    if end.plant not in wanted.plants or (wanted.with_shoots and not end.natural):
        return None
    taper = end.taper_mm_cm
    if taper is None or not wanted.has_window:
        return wanted.least_cm
    low_cm, high_cm = wanted.least_cm, wanted.most_cm
    if wanted.thinnest_mm is not None and wanted.thinnest_mm > END_MM:
        low_cm = max(low_cm, _where_cm(wanted.thinnest_mm, taper))
    if wanted.thickest_mm is not None:
        high_cm = min(high_cm, _where_cm(wanted.thickest_mm, taper))
    return low_cm if low_cm <= high_cm else None


def _where_cm(thickness_mm: float, taper_mm_cm: float) -> float:
    """How far from its end a stem has a thickness."""
    return (thickness_mm - END_MM) / taper_mm_cm if taper_mm_cm else float("inf")


def serves(end: End, wanted: StemWanted) -> bool:
    """Whether a stem can be cut from an end."""
    least_cm = least_cut_cm(end, wanted)
    return least_cm is not None and end.length_cm >= least_cm


def suffice(needs_cm: Iterable[float], ends: Iterable[End]) -> bool:
    """Whether there is an end for each need, at least as long."""
    needs = sorted(needs_cm, reverse=True)
    lengths = sorted((end.length_cm for end in ends), reverse=True)
    return len(needs) <= len(lengths) and all(
        need <= length for need, length in zip(needs, lengths, strict=False)
    )


def given_out(needs_cm: Sequence[float], ends: Iterable[End]) -> list[End]:
    """One end for each need, in the order of the needs; the ends must `suffice`.

    The longest need comes first and takes the shortest end that fits, of those that are paid for
    if it can, so that the garden keeps its branches.
    """
    free = sorted(ends, key=lambda end: (not end.paid, end.length_cm, -end.part))
    found: dict[int, End] = {}
    for need in sorted(range(len(needs_cm)), key=lambda need: -needs_cm[need]):
        place = next(at for at, end in enumerate(free) if end.length_cm >= needs_cm[need])
        found[need] = free.pop(place)
    return [found[need] for need in range(len(needs_cm))]
