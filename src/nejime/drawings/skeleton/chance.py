"""Chance that is the same everywhere: a seed in, the same numbers out, in any language.

Model: mulberry32, a generator of 32-bit whole numbers, so that a browser draws the same plant from
the same seed. A seed is made of names by FNV-1a, so that one more stem changes no other.
Source: from memory: mulberry32 (public domain); FNV-1a with its published constants.
"""

from __future__ import annotations

WORD = 0xFFFFFFFF  # 32 bits
FNV_OFFSET = 0x811C9DC5  # [memory] FNV-1a, 32 bits
FNV_PRIME = 0x01000193  # [memory]
STEP = 0x6D2B79F5  # [memory] mulberry32


def seed_of(*names: str) -> int:
    """A seed for whatever has these names."""
    found = FNV_OFFSET
    for byte in "|".join(names).encode():
        found = ((found ^ byte) * FNV_PRIME) & WORD
    return found


class Chance:
    """One row of numbers from one seed."""

    def __init__(self, seed: int) -> None:
        self._state = seed & WORD

    def share(self) -> float:
        """The next number, from 0 up to but not including 1."""
        self._state = (self._state + STEP) & WORD
        t = self._state
        t = ((t ^ (t >> 15)) * (t | 1)) & WORD
        t ^= (t + (((t ^ (t >> 7)) * (t | 61)) & WORD)) & WORD
        return ((t ^ (t >> 14)) & WORD) / 4294967296.0

    def between(self, low: float, high: float) -> float:
        """A number in a range."""
        return low + (high - low) * self.share()

    def near(self, value: float, spread: float) -> float:
        """A value and at most this share of it more or less."""
        return value * (1.0 + spread * (2.0 * self.share() - 1.0))

    def sign(self) -> float:
        """One or minus one."""
        return 1.0 if self.share() < 0.5 else -1.0
