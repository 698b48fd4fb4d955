"""Vessels and pin holders to lend: what there is, how many, and who has asked for which.

Model: a thing is asked for by its name; capitals and spaces do not count. Who asks for more than
there are is told at the first place that is left without.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from nejime.basis.places import Path
from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder
from nejime.forms.vessel import Vessel
from nejime.reading.checking import Sheet
from nejime.reading.fields import meant, shown
from nejime.reading.tables import LentHolderTable, LentVesselTable
from nejime.reading.vessels import made_holder, made_vessel

Thing = TypeVar("Thing", Vessel, Holder)


@dataclass(slots=True)
class Stock(Generic[Thing]):
    """Things of one kind to lend.

    `names` are all that the file gives, also of things whose numbers cannot be, so that nobody is
    told twice of one fault.
    """

    names: Mapping[str, str]
    things: dict[str, tuple[Thing, int]] = field(default_factory=dict)
    asked: dict[str, list[Path]] = field(default_factory=dict)

    def lent(self, sheet: Sheet, name: str, at: Path) -> Thing | None:
        """The thing of that name, noted as asked for; None, with a fault, if there is none."""
        word = plain(name)
        if word not in self.names:
            known = tuple(self.names.values())
            remedy = meant(name, known) if known else Saying("reading.nothing-to-lend")
            sheet.wrong(at, "reading.not-lent", name=shown(name), meant=remedy)
            return None
        self.asked.setdefault(word, []).append(at)
        return self.things[word][0] if word in self.things else None

    def note_shortage(self, sheet: Sheet) -> None:
        """Notes what is asked for more often than it is there."""
        for word, places in self.asked.items():
            count = self.things[word][1] if word in self.things else len(places)
            if len(places) > count:
                sheet.wrong(
                    places[count],
                    "reading.lent-too-often",
                    name=self.names[word],
                    count=count,
                    asked=len(places),
                )

    @property
    def all(self) -> tuple[tuple[Thing, int], ...]:
        """Each thing and how many there are."""
        return tuple(self.things.values())


def plain(name: str) -> str:
    """A name as it is compared."""
    return " ".join(name.casefold().split())


def names(tables: Iterable[tuple[Path, Any]]) -> Iterable[tuple[Path, str]]:
    """The names in a list of tables as they were typed, and where each table stands."""
    for at, value in tables:
        name = value.get("name") if isinstance(value, dict) else None
        if isinstance(name, str) and plain(name):
            yield at, name


def note_same_names(sheet: Sheet, tables: Sequence[tuple[Path, Any]]) -> None:
    """Notes every name that stands a second time in a list."""
    first: dict[str, Path] = {}
    for at, name in names(tables):
        before = first.setdefault(plain(name), at)
        if before != at:
            sheet.wrong(
                (*at, "name"),
                "reading.name-twice",
                name=shown(name.strip()),
                before=sheet.line((*before, "name")),
            )


def vessels_to_lend(sheet: Sheet) -> Stock[Vessel]:
    """The `[[vessel]]` tables."""
    tables = sheet.tables("vessel")
    note_same_names(sheet, tables)
    stock: Stock[Vessel] = Stock({plain(name): shown(name) for _, name in names(tables)})
    for at, value in tables:
        table = sheet.checked(LentVesselTable, value, at)
        made = made_vessel(sheet, table, at) if table else None
        if table and made:
            stock.things[plain(table.name)] = (made, table.count)
    return stock


def holders_to_lend(sheet: Sheet) -> Stock[Holder]:
    """The `[[holder]]` tables."""
    tables = sheet.tables("holder")
    note_same_names(sheet, tables)
    stock: Stock[Holder] = Stock({plain(name): shown(name) for _, name in names(tables)})
    for at, value in tables:
        table = sheet.checked(LentHolderTable, value, at)
        made = made_holder(sheet, table, at) if table else None
        if table and made:
            stock.things[plain(table.name)] = (made, table.count)
    return stock
