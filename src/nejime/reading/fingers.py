"""How thick a stem is, told by what everybody knows.

Source: the words and their measures are ours, from things at hand.
"""

from __future__ import annotations

from nejime.basis.units import length_cm

FINGER_MM = {  # [own] at the cut end
    "matchstick": 2.0,
    "drinking-straw": 5.0,
    "pencil": 7.0,
    "little-finger": 12.0,
    "thumb": 18.0,
}


def thickness_mm(typed: str | float) -> float:
    """Millimetres from `pencil`, `little finger`, `8 mm`; a plain number is in centimetres.

    Raises `ValueError` with the text as it was typed.
    """
    if isinstance(typed, str):
        word = "-".join(typed.casefold().replace("-", " ").split())
        if word in FINGER_MM:
            return FINGER_MM[word]
    return 10 * length_cm(typed)
