"""The days of the week on which a shop sells: `["friday", "saturday"]`, or the text "Fri, Sat".

Model: a day is its name or its first letters, at least two; `Mon-Fri` is all from one to the
other, also over Sunday. Monday is 0, as in Python's `datetime`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from pydantic import BeforeValidator

from nejime.reading.fields import shown, wrong

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
LEAST_LETTERS = 2  # [own] Tu and Th differ, T does not

_BETWEEN = re.compile(r"[,;/+&\s]+(?:and\s+)?")
_FROM_TO = re.compile(r"\s*(?:[-–—]|\bto\b)\s*")


def weekdays(text: str) -> tuple[int, ...]:
    """The days that a text names, from Monday on. Raises `ValueError` with what is no day."""
    joined = _FROM_TO.sub("-", text.casefold().replace(".", " ").strip())
    found: set[int] = set()
    for word in _BETWEEN.split(joined):
        if word and word != "and":
            found |= _days(word)
    return tuple(sorted(found))


def _days(word: str) -> set[int]:
    ends = [_day(each) for each in word.split("-")]
    if len(ends) > 2:
        raise ValueError(word)
    first, last = ends[0], ends[-1]
    return {(first + step) % 7 for step in range((last - first) % 7 + 1)}


def _day(word: str) -> int:
    plain = word.removesuffix("s") if len(word) > LEAST_LETTERS + 2 else word
    for number, name in enumerate(WEEKDAYS):
        if len(plain) >= LEAST_LETTERS and name.startswith(plain):
            return number
    raise ValueError(word)


def day_names(days: Sequence[int]) -> list[str]:
    """Days by their names, as a class file has them."""
    return [WEEKDAYS[each] for each in days]


def as_list(text: str) -> list[str] | str:
    """What was typed as the list that is kept; as it was where a word of it is no day."""
    try:
        return day_names(weekdays(text))
    except ValueError:
        return text.strip()


def as_text(value: object) -> str:
    """A list that is kept as it stands in a field."""
    if not isinstance(value, list):
        return str(value)
    return ", ".join(str(each).capitalize() for each in value)


def days() -> BeforeValidator:
    """Days of the week, as a list of names or as a text."""

    def check(value: Any) -> tuple[int, ...]:
        words = value if isinstance(value, list) else [value]
        found: set[int] = set()
        for word in words:
            try:
                found |= set(weekdays(word)) if isinstance(word, str) else {_day("")}
            except ValueError as trouble:
                typed = str(trouble) or word
                raise wrong("reading.not-a-weekday", typed=shown(typed)) from None
        return tuple(sorted(found))

    return BeforeValidator(check)
