"""Money for each person, in the smallest unit of a currency.

Model: what everything costs over the people who come, rounded up so that it is covered. What the
demonstration and the spares cost is part of the material and so is shared by all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nejime.basis.errors import refuse


@dataclass(frozen=True, slots=True)
class Cost:
    """One line of the account: `what` as it is called, for all people together."""

    what: str
    total_minor: int


@dataclass(frozen=True, slots=True)
class PerHead:
    """What a class costs, and each person's share, rounded up; `over_minor` is left then."""

    costs: tuple[Cost, ...]
    people: int
    total_minor: int
    each_minor: int
    over_minor: int


def per_head(material_minor: int, people: int, extras: Sequence[Cost] = ()) -> PerHead:
    """Each person's share of the material and of whatever else is bought (holders, paper, room).

    Raises `InputError` where nobody comes or an amount is negative.
    """
    costs = (Cost("material", material_minor), *extras)
    if people < 1:
        raise refuse("people", "lesson.money.nobody", "lesson.money.nobody-try")
    for cost in costs:
        if cost.total_minor < 0:
            raise refuse(cost.what, "lesson.money.negative", what=cost.what)
    total = sum(cost.total_minor for cost in costs)
    each = -(-total // people)
    return PerHead(costs, people, total, each, each * people - total)
