"""What is known of a plant in the teacher's words: a range with its unit, and its names."""

from __future__ import annotations

from nejime.basis.sayings import Saying, Words
from nejime.plants.plant import Plant

LAST = 11  # months after the first one: then it is the whole year
FAHRENHEIT = ("in", "both")  # the choices of units with which °F is said, too


def range_said(low: float | None, high: float | None, unit: str, words: Words) -> str:
    """A range, open on a side where an end is None: `March to April`, `4 to 7 days`, `4 °C`."""
    if low == high:
        return _written(low, unit, words)
    if unit == "month" and low is not None and high is not None and (high - low) % 12 == LAST:
        return words.say(Saying("cli.all-year"))
    whole = low is not None and high is not None
    ends = [_written(low, unit, words, bare=whole), _written(high, unit, words)]
    key = "from" if high is None else "to" if low is None else "both"
    return words.say(Saying(f"cli.range-{key}", low=ends[0], high=ends[1]))


def _written(value: float | None, unit: str, words: Words, *, bare: bool = False) -> str:
    """One end; `bare`: without its unit, where that stands at the other end as well."""
    if value is None:
        return ""
    if unit == "month":
        return words.say(Saying(f"month.{value:.0f}"))
    if unit == "c":
        return _degrees(value, words, bare=bare)
    if unit == "d" and not bare:
        return words.say(Saying("cli.days", count=value))
    is_bare = bare and not (unit == "cm" and words.unit != "cm")  # inches stand with their sign
    return words.quantity(f"value_{unit}", value, bare=is_bare)


def _degrees(value_c: float, words: Words, *, bare: bool) -> str:
    number = words.quantity("value", value_c)
    if words.unit not in FAHRENHEIT:
        return number if bare else f"{number} °C"
    said = f"{number} °C"
    return f"{said} ({words.quantity('value', float(round(value_c * 9 / 5 + 32)))} °F)"


def japanese(plant: Plant) -> str:
    """Kanji or kana, and how it is read."""
    return " ".join(part for part in (plant.kanji or plant.kana, plant.romaji) if part)
