"""Sentences as keys with quantities, and the one place where they become words.

A pure room returns a key with quantities, `Saying("forms.pins-dry", water_cm=2.0, pins_cm=2.2)`.
`Words` turns it into text in a language and in the units that the reader uses. The texts are in
`data/sayings/<language>/`, one file a room.

In a text, `{name}` is replaced by the quantity `name`:

* a name that ends in a unit (`_cm`, `_g`, `_ml`, `_deg`, `_c`, `_min`, `_minor` …, see
  `units.plain`) is written with that unit; `{reach_cm:bare}` leaves the unit out;
* a `Saying` is rendered in its turn; several are joined ("a, b and c");
* anything else is written as it is.

A saying with the quantity `count` may have two texts, `<key>.one` and `<key>.many`.
"""

from __future__ import annotations

import string
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, Literal

from nejime.basis import tables, units

UnitChoice = Literal["cm", "in", "both"]


class Saying:
    """A sentence to be said later: a key and the quantities that go into it."""

    __slots__ = ("key", "quantities")
    key: str
    quantities: Mapping[str, object]

    def __init__(self, key: str, /, **quantities: object) -> None:
        object.__setattr__(self, "key", key)
        object.__setattr__(self, "quantities", quantities)

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError("a saying does not change")

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, Saying)
            and self.key == other.key
            and self.quantities == other.quantities
        )

    def __hash__(self) -> int:
        return hash((self.key, tuple(sorted(self.quantities))))

    def __repr__(self) -> str:
        return f"Saying({self.key!r}, {dict(self.quantities)!r})"


class UnknownSaying(LookupError):
    """A key without a text, or a text that asks for a quantity which was not given."""


def _flattened(table: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, str]]:
    for name, value in table.items():
        key = f"{above}{name}"
        if isinstance(value, str):
            yield key, value
        else:
            yield from _flattened(value, f"{key}.")


@cache
def texts(language: str = "en") -> Mapping[str, str]:
    """Every text of a language by its key."""
    found: dict[str, str] = {}
    for file in tables.names(f"sayings/{language}", ".toml"):
        found.update(_flattened(tables.read_toml(file)))
    return found


class Words(string.Formatter):
    """Renders sayings in one language and one choice of units.

    `unit` is `cm`, `in` or `both` (centimetres first, inches in brackets); `currency` is the sign
    or code written before an amount, `decimals` the number of its decimal places.
    """

    def __init__(
        self,
        language: str = "en",
        unit: UnitChoice = "cm",
        currency: str = "",
        decimals: int = 2,
    ) -> None:
        self.language = language
        self.unit = unit
        self.currency = currency
        self.decimals = decimals

    def say(self, saying: Saying) -> str:
        """The saying as text. Raises `UnknownSaying`."""
        known = texts(self.language)
        key = saying.key
        if saying.quantities.get("count") == 1 and f"{key}.one" in known:
            key = f"{key}.one"
        elif f"{key}.many" in known:
            key = f"{key}.many"
        if key not in known:
            raise UnknownSaying(f"no text for {saying.key!r} in {self.language!r}")
        try:
            return self.vformat(known[key], (), saying.quantities)
        except KeyError as missing:
            raise UnknownSaying(f"{saying.key!r} asks for the quantity {missing}") from None

    def get_field(self, field_name: str, args: Any, kwargs: Any) -> tuple[object, str]:
        """Quantities are looked up by their whole name; the name decides how they are written."""
        return (field_name, kwargs[field_name]), field_name

    def format_field(self, value: Any, format_spec: str) -> str:
        """A quantity with its name, as `get_field` found it, in words."""
        name, quantity = value
        return self.quantity(name, quantity, bare=format_spec == "bare")

    def quantity(self, name: str, value: object, *, bare: bool = False) -> str:
        """A quantity written as its name's unit asks."""
        if isinstance(value, Saying):
            return self.say(value)
        if isinstance(value, tuple | list):
            return self.together([self.quantity(name, each, bare=bare) for each in value])
        if isinstance(value, int | float) and not isinstance(value, bool):
            return self._number(name, value, bare)
        return str(value)

    def _number(self, name: str, value: float, bare: bool) -> str:
        ending = name.rpartition("_")[2]
        if ending == "cm":
            return units.length(value, self.unit, bare=bare)
        if ending == "c":
            return units.temperature(value, self.unit, bare=bare)
        if ending == "minor":
            return units.money(round(value), self.currency, self.decimals)
        return units.plain(value, ending, bare=bare)

    def together(self, items: list[str]) -> str:
        """Several things in one sentence: "a", "a and b", "a, b and c"."""
        if len(items) < 2:
            return "".join(items)
        last = texts(self.language)["basis.and"]
        return f"{', '.join(items[:-1])} {last} {items[-1]}"
