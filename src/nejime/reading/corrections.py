"""What a teacher said of rows from memory, as it is kept, into corrections and back.

Model: the document holds a list `rows`; each names its row, the day, and her own ends of the range,
neither of them where she confirmed it. A row may stand once.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Mapping
from typing import Any

from nejime.basis.errors import InputError, refuse
from nejime.plants.plant import UNIT_OF
from nejime.plants.review import FACTS, Correction, RowKey
from nejime.reading.ranges import LIMITS

TEXTS = ("table", "about", "what", "place", "source")
MOST_LETTERS = 200  # [own] no cell of a table is longer


def read_corrections(content: Mapping[str, Any]) -> tuple[Correction, ...]:
    """The corrections of a document. Raises `InputError` where it is not as we write it."""
    rows = content.get("rows", [])
    if not isinstance(rows, list):
        raise _broken()
    found = tuple(_correction(each) for each in rows)
    if len({each.row for each in found}) < len(found):
        raise _broken()
    return found


def written_corrections(corrections: Iterable[Correction]) -> dict[str, Any]:
    """The document that says so."""
    return {"rows": [_written(each) for each in corrections]}


def _correction(told: Any) -> Correction:
    if not isinstance(told, dict):
        raise _broken()
    texts = {name: told[name] for name in TEXTS if isinstance(told.get(name), str)}
    if len(texts) < len(TEXTS) or any(len(each) > MOST_LETTERS for each in texts.values()):
        raise _broken()
    key = RowKey(**texts, low=_number(told, "was_low"), high=_number(told, "was_high"))
    try:
        on = dt.date.fromisoformat(told["on"])
    except (KeyError, TypeError, ValueError):
        raise _broken() from None
    made = Correction(key, on, _number(told, "low"), _number(told, "high"))
    if not (made.confirms or _is_possible(made)):
        raise _broken()
    return made


def _is_possible(said: Correction) -> bool:
    """Whether her numbers could have been typed for such a row; of other tables we cannot know."""
    unit = UNIT_OF.get(said.row.what, "") if said.row.table == FACTS else ""
    if not unit:
        return True
    ends = [each for each in (said.low, said.high) if each is not None]
    if unit == "month":
        return len(ends) == 2 and all(each in range(1, 13) for each in ends)
    least, most = LIMITS[unit]
    return sorted(ends) == ends and all(least <= each <= most for each in ends)


def _number(told: Mapping[str, Any], name: str) -> float | None:
    value = told.get(name)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _broken()
    try:
        number = float(value)
    except OverflowError:
        raise _broken() from None
    if not math.isfinite(number):
        raise _broken()
    return number


def _written(said: Correction) -> dict[str, Any]:
    numbers = {
        "was_low": said.row.low,
        "was_high": said.row.high,
        "low": said.low,
        "high": said.high,
    }
    return {
        **{name: getattr(said.row, name) for name in TEXTS},
        **{name: value for name, value in numbers.items() if value is not None},
        "on": said.on.isoformat(),
    }


def _broken() -> InputError:
    return refuse("rows", "ranges.broken", "ranges.broken-try")
