"""Whether the pins keep a stem from turning: an order of magnitude, never a verdict.

Model: a stem stands on n pins of its foot's area over the pins' spacing squared. Each pin resists
with the bearing of the stem against it, or with its own bending, whichever is less; and with what
it takes to draw it out, over half the stem's thickness.
Source: nail withdrawal in wood, Wood Handbook, halved for end grain and again for a pointed pin;
the rest estimated. Nobody has measured it on pin holders: read the result within a factor of two.
"""

from __future__ import annotations

import math

from nejime.standing.bending import GRAVITY_M_S2
from nejime.standing.masses import Body, stem_kinds

PITCH_MM = 3.3  # [practice] about 370 pins on a round holder with a pin field of 72 mm
PIN_MM = 1.1  # [own] thickness of a pin
YIELD_MPA = 300.0  # [memory] drawn brass
BITE_MM = {True: 5.0, False: 8.0}  # [own] how deep a pin goes: woody, soft
BEARING_MPA = {True: 25.0, False: 2.0}  # [own] what the stem's tissue bears: woody, soft
WITHDRAWAL_N = {True: 10.0, False: 0.3}  # [woodhandbook2010] G 0.47: 45 N, a quarter; soft [own]
G_PER_N = 1000 / GRAVITY_M_S2
SPLIT_MM = 10.0  # [own] from about 250 N of push on, more than a hand gives


def holds_g_cm(body: Body) -> float:
    """The moment at the foot that the pins resist, in g·cm."""
    woody = stem_kinds()[body.kind].woody
    count = math.pi / 4 * body.thickness_mm**2 / PITCH_MM**2
    bearing = BEARING_MPA[woody] * PIN_MM * BITE_MM[woody] ** 2 / 4
    bending = YIELD_MPA * PIN_MM**3 / 6
    withdrawal = WITHDRAWAL_N[woody] * body.thickness_mm / 2
    return count * (min(bearing, bending) + withdrawal) * G_PER_N / 10


def wants_splitting(body: Body) -> bool:
    """Whether the woody end is so thick that it goes on the pins only when cut and split."""
    return stem_kinds()[body.kind].woody and body.thickness_mm >= SPLIT_MM
