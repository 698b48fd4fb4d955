"""How thick a stem is, told by what everybody knows or by a measure."""

from __future__ import annotations

from nejime.basis.units import length_cm
from nejime.standing.masses import THICKNESS_MM


def thickness_mm(typed: str | float) -> float:
    """Millimetres from `pencil`, `little finger`, `8 mm`; a plain number is in centimetres.

    Raises `ValueError` with the text as it was typed.
    """
    if isinstance(typed, str):
        word = "-".join(typed.casefold().replace("-", " ").split())
        if word in THICKNESS_MM:
            return THICKNESS_MM[word]
    return 10 * length_cm(typed)
