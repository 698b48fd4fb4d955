"""What the class before leaves over, for the next one."""

from __future__ import annotations

import datetime as dt
from typing import Any

from nejime.basis.errors import InputError
from nejime.desk.known_plants import own_plants
from nejime.desk.shelf import Kept, Shelf
from nejime.desk.taught import day_of, known_rules
from nejime.lesson.supplying import supplying
from nejime.material.programme import Limits
from nejime.reading.class_file import read_class_tree

KIND = "class"
SOON = Limits(money_s=2.0, wood_s=1.0)  # [own] a page does not wait longer
KEPT_DAYS = 10  # [own] few cut stems are any good after so long


def class_before(shelf: Shelf, kept: Kept) -> Kept | None:
    """The class before this one, if it is near enough for its stems to be used."""
    day = day_of(kept)
    if day is None:
        return None
    earlier = [
        (other, each)
        for each in shelf.all(KIND)
        if each.id != kept.id and (other := day_of(each)) is not None and other <= day
    ]
    near = [pair for pair in earlier if day - pair[0] <= dt.timedelta(days=KEPT_DAYS)]
    return max(near, key=lambda pair: (pair[0], pair[1].id))[1] if near else None


def left_over(shelf: Shelf, kept: Kept) -> list[dict[str, Any]]:
    """What a class leaves over by its plan, as rows of a class file's `[[garden]]`."""
    rules = known_rules()
    try:
        lesson = read_class_tree("", kept.content, rules, own_plants(shelf))
        bought = supplying(lesson, rules, lesson.starts.date(), limits=SOON).bought
    except InputError:
        return []
    return [
        {
            "name": lesson.title,
            "plant": each.bunch.plant,
            "length": each.bunch.length_cm,
            "count": each.count,
            "from": "left over",
        }
        for each in bought.left_over
    ]
