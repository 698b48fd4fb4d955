"""The fixed table of chance numbers from which every verdict is made.

Model: 400 draws of standard normal numbers for each uncertain quantity. In each column the 400
values are the middles of 400 equally likely slices, in an order of their own (a Latin square), so
that medians and tails are even. The table never changes: the same piece always gets the same
word, and a word does not flicker while a stem is dragged.
Source: Latin hypercube sampling, any handbook of simulation.
"""

from __future__ import annotations

from functools import cache
from statistics import NormalDist

import numpy as np

from nejime.standing.bending import Array

SAMPLES = 400  # [own] a chance of 0.95 is then known to about ± 0.01
SEED = 20_000  # [own] any number does; another one changes words at their limits

HOLDER, VESSEL, WATER, FOOT = range(4)
KINDS = 8  # [own] columns shared by the stems of one kind begin here
STEMS = 16  # [own] columns of single stems begin here
PER_STEM = 8  # [own] room for a stem's quantities


@cache
def column(number: int) -> Array:
    """The draws for one quantity: 400 standard normal numbers."""
    slices = (np.arange(SAMPLES) + 0.5) / SAMPLES
    order = np.argsort(np.random.Generator(np.random.PCG64([SEED, number])).random(SAMPLES))
    normal = NormalDist()
    drawn = np.array([normal.inv_cdf(each) for each in slices])[order]
    drawn.flags.writeable = False
    return drawn


def stem_column(stem: int, quantity: int) -> Array:
    """The draws for one quantity of one stem, both counted from 0."""
    return column(STEMS + PER_STEM * stem + quantity)
