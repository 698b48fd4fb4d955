"""Flowers that harm others in one bucket or one piece: narcissus that has not stood alone.

Model: a fresh cut of narcissus lets out slime for a day. Until it has stood alone for as long as
its treatment says, it is kept from all other flowers but Dutch iris, which lasts no shorter beside
it.
Source: roses drink less and leaves of tulips yellow beside one daffodil (doorn1998); iris lasts
longer (doorn2004); other flowers and the hours: common practice, `data/conditioning.csv`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping

from nejime.basis.sayings import Saying
from nejime.keeping.carrying import ALONE
from nejime.keeping.clock import elapsed_min, later
from nejime.keeping.conditioning import Step, treatment
from nejime.keeping.tasks import Task
from nejime.plants.plant import Plant

UNHARMED = ("dutch-iris",)  # doorn2004


def mixing(plants: Iterable[Plant], alone_min: Mapping[str, float]) -> tuple[Saying, ...]:
    """A warning for each plant that comes to others too early.

    `alone_min`: for how many minutes each plant that should stand alone has stood so, by its id; 0
    where it is not in there.
    """
    known = tuple(plants)
    others = tuple(
        each.english
        for each in known
        if each.kind == "flower" and _alone(each) is None and each.id not in UNHARMED
    )
    found = []
    for each in known:
        step = _alone(each)
        least = step.least_min if step else None
        if others and least is not None and alone_min.get(each.id, 0.0) < least:
            says = Saying(
                "keeping.mixing.narcissus",
                narcissus=each.english,
                others=others,
                hours=f"{least / 60:g}",
            )
            found.append(says)
    return tuple(found)


def stood_alone_min(tasks: Iterable[Task], now: dt.datetime) -> dict[str, float]:
    """How long each plant that is kept before a class can still stand in water from `now` on.

    What has begun before `now` counts only if it was done: that is not known, so it does not.
    """
    found: dict[str, float] = {}
    for task in tasks:
        if task.kind == "hold":
            begins = max(task.begins, now, key=lambda at: at.astimezone(dt.UTC))
            left = max(0.0, elapsed_min(begins, later(task.begins, task.minutes)))
            found[task.plant] = min(found.get(task.plant, left), left)
    return found


def _alone(plant: Plant) -> Step | None:
    """The step in which it stands alone; None where it need not."""
    return next((step for step in treatment(plant).steps if step.name == ALONE), None)
