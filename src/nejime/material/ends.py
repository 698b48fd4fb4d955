"""Ends of one plant and who gets which: lengths are nested.

Model: whatever end serves a stem serves every shorter one. So needs and ends, both sorted, fit if
each end is as long as the need at its place; and the longest need may take any end that fits it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nejime.material.supply import Bunch, GardenBranch

Source = Bunch | GardenBranch


def suffice(needs_cm: Iterable[float], ends: Iterable[Source]) -> bool:
    """Whether there is an end for each need, at least as long."""
    needs = sorted(needs_cm, reverse=True)
    lengths = sorted((end.length_cm for end in ends), reverse=True)
    return len(needs) <= len(lengths) and all(
        need <= length for need, length in zip(needs, lengths, strict=False)
    )


def given_out(needs_cm: Sequence[float], ends: Iterable[Source]) -> list[Source]:
    """One end for each need, in the order of the needs; the ends must `suffice`.

    The longest need comes first and takes the shortest end that fits, of those that are paid for
    if it can, so that the garden keeps its branches.
    """
    free = sorted(ends, key=lambda end: (isinstance(end, GardenBranch), end.length_cm))
    found: dict[int, Source] = {}
    for need in sorted(range(len(needs_cm)), key=lambda need: -needs_cm[need]):
        place = next(at for at, end in enumerate(free) if end.length_cm >= needs_cm[need])
        found[need] = free.pop(place)
    return [found[need] for need in range(len(needs_cm))]
