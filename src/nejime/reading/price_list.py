"""A price list: rows of a spreadsheet into shops and back.

Model: the first row names the columns, in any order, and each row below is a bunch. What belongs
to the shop, `delivery`, `minimum`, `days` and `notice_days`, is said in any of its rows. Comma,
semicolon or tab stands between cells, whichever parts most of the first row; empty rows and what
spreadsheets leave behind do not count. Cells are read as the fields of a form are.
Source: RFC 4180, section 2, for commas, quotation marks and line ends; UTF-8 with or without byte
order mark.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from pydantic import Field

from nejime.basis.errors import Fault, InputError
from nejime.basis.places import Path
from nejime.basis.sayings import Saying, texts
from nejime.reading.checking import Filled
from nejime.reading.fields import meant, shown
from nejime.reading.lending import plain
from nejime.reading.supplies import note_bunch
from nejime.reading.tables import BunchTable, Name, ShopTable
from nejime.reading.text import read_bytes
from nejime.reading.typed import Content, field_texts, note_parts, value_of

OF_BUNCH = ("plant", "length", "stems", "price", "least", "most", "thickness", "shoots")
OF_SHOP = ("delivery", "minimum", "days", "notice_days")
COLUMNS = ("shop", *OF_BUNCH, *OF_SHOP)
NEEDED = ("shop", "plant", "length", "stems", "price")
BETWEEN = (",", ";", "\t")
MOST_ROWS = 2000  # [own] of twenty shops, a hundred bunches each
MOST_BUNCHES = 60  # [own] more are not offered by any shop
EXAMPLE = {
    "shop": "the grocery",
    "plant": "Tulip",
    "length": "35 cm",
    "stems": "10",
    "price": "7.99",
    "least": "0",
    "most": "6",
    "thickness": "8 mm",
    "shoots": "",
    "delivery": "0",
    "minimum": "0",
    "days": "Fri, Sat",
    "notice_days": "1",
}
_SEPARATOR_LINE = re.compile(r"sep=(.)\Z", re.IGNORECASE)


class _ShopRow(ShopTable):
    """What a row says of its shop."""

    name: Name = Field(alias="shop")


@dataclass(slots=True)
class _Shop:
    """A shop while its rows are read: what is said of it, with the line, and its bunches."""

    name: str
    said: dict[str, tuple[str, object, int]] = field(default_factory=dict)
    content: Content = field(default_factory=dict)
    bunches: list[Content] = field(default_factory=list)


class _Page(Filled):
    """A price list while it is read: a fault's field is its column, its line that of the row."""

    __slots__ = ("row",)

    def __init__(self, file: str) -> None:
        super().__init__(file, {}, {})
        self.row = 1

    def line(self, path: Path) -> int | None:
        """The line of the row that is being read."""
        return self.row

    def in_order(self) -> list[Fault]:
        """Every fault noted, row by row, within a row in the order of the columns."""
        places = {name: place for place, name in enumerate(COLUMNS)}
        return sorted(self.faults, key=lambda each: (each.line or 0, places.get(each.field, -1)))


def read_price_list(
    file_name: str, data: bytes, unit: str = "cm", decimals: int = 2
) -> tuple[Content, ...]:
    """The shops of a price list as they are kept, in the order of the list.

    `unit`: what a plain length is in. `decimals`: figures after the point of the currency. Raises
    `InputError` with every fault, each with its line and its column as its field.
    """
    page = _Page(file_name)
    rows = _rows(page, _text(file_name, data))
    found = _shops(page, rows, unit, decimals)
    if not page.faults and not found:
        page.wrong((), "reading.price-list.nothing", file=file_name)
    if page.faults:
        raise InputError(page.in_order())
    return tuple(
        {"name": each.name, **each.content, "bunch": each.bunches} for each in found.values()
    )


def _text(file_name: str, data: bytes) -> str:
    """The text; what is refused is told in words for spreadsheets."""
    try:
        return read_bytes(file_name, data).replace("\r", "\n")
    except InputError as trouble:
        raise InputError(_for_spreadsheets(each) for each in trouble.faults) from trouble


def _for_spreadsheets(fault: Fault) -> Fault:
    said = fault.try_instead
    key = said.key.replace("reading.file.", "price-list-file.") if said else ""
    remedy = Saying(key, **said.quantities) if said and key in texts() else said
    return Fault(fault.field, fault.says, remedy, fault.line)


def _rows(page: _Page, text: str) -> list[tuple[int, dict[str, str]]]:
    """The rows below the first, each with its line and what stands in each column."""
    lines = [(line, cells) for line, cells in _cells(page, text) if any(cells)]
    if not lines:
        return []
    page.row, header = lines[0]
    names = _columns(page, header)
    if len(lines) - 1 > MOST_ROWS:
        told = {"count": len(lines) - 1, "most": MOST_ROWS}
        page.wrong((), "reading.price-list.too-many-rows", **told)
    if page.faults:
        return []
    return [(line, _row(page, line, names, cells)) for line, cells in lines[1:]]


def _cells(page: _Page, text: str) -> Iterator[tuple[int, list[str]]]:
    """The cells of each row with the line on which it begins."""
    first, _, rest = text.partition("\n")
    between, skipped = _separator(first), 0
    told = _SEPARATOR_LINE.fullmatch(first.strip())
    if told:  # some spreadsheets say first what stands between cells
        between, skipped, text = told[1], 1, rest
    rows = csv.reader(io.StringIO(text, newline="\n"), delimiter=between, strict=True)
    line = skipped + 1
    try:
        for cells in rows:
            yield line, [each.strip() for each in cells]
            line = skipped + rows.line_num + 1
    except csv.Error as trouble:
        page.row = line
        page.wrong((), "reading.price-list.quotes", trouble=f"({shown(trouble)})")


def _separator(header: str) -> str:
    """What stands between cells: whatever stands most often in the first row."""
    return max(BETWEEN, key=header.count)


def _columns(page: _Page, header: Sequence[str]) -> list[str]:
    """The name of each column as it is known; an empty one for a column without a name."""
    names = ["_".join(each.casefold().replace("_", " ").split()) for each in header]
    known = ", ".join(COLUMNS)
    if not set(names) & set(COLUMNS):
        page.wrong((), "reading.price-list.no-header", known=known)
        return names
    for number, name in enumerate(names):
        if name and name not in COLUMNS:
            other = meant(name, COLUMNS)
            near = "-near" if other != Saying("reading.choose", choices=known) else ""
            typed = shown(header[number])
            told = {"typed": typed, "meant": other, "known": known}
            page.wrong((typed,), f"reading.price-list.unknown-column{near}", **told)
        elif name and name in names[:number]:
            page.wrong((name,), "reading.price-list.column-twice", typed=name)
    missing = [each for each in NEEDED if each not in names]
    if missing:
        told = {"names": ", ".join(missing), "needed": ", ".join(NEEDED)}
        page.wrong((), "reading.price-list.columns-missing", **told)
    return names


def _row(page: _Page, line: int, names: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    """What stands in each column of a row."""
    page.row = line
    for number, cell in enumerate(cells):
        if cell and (number >= len(names) or not names[number]):
            page.wrong((), "reading.price-list.beyond-header", typed=shown(cell))
    pairs = zip(names, cells, strict=False)
    return {name: cell for name, cell in pairs if name and cell}


def _shops(
    page: _Page, rows: Iterable[tuple[int, dict[str, str]]], unit: str, decimals: int
) -> dict[str, _Shop]:
    """The shops by their names as they are compared."""
    found: dict[str, _Shop] = {}
    for line, cells in rows:
        page.row = line
        name = cells.get("shop", "")
        shop = found.setdefault(plain(name), _Shop(" ".join(name.split())))
        _take_shop(page, shop, cells, decimals)
        _take_bunch(page, shop, cells, unit, decimals)
    return found


def _take_shop(page: _Page, shop: _Shop, cells: Mapping[str, str], decimals: int) -> None:
    """Takes what a row says of its shop, and notes what another row says otherwise."""
    told = {key: value_of(key, cells[key]) for key in ("shop", *OF_SHOP) if key in cells}
    table = page.checked(_ShopRow, told, ())
    if table is None:
        return
    for key in OF_SHOP:
        if key not in cells:
            continue
        read = getattr(table, key)
        if isinstance(read, Decimal):
            note_parts(page, (key,), read, decimals)
        typed, same, line = shop.said.setdefault(key, (cells[key], read, page.row))
        if same != read:
            other = {"shop": shop.name, "other": shown(typed), "before": line}
            page.wrong((key,), "reading.price-list.differs", typed=shown(cells[key]), **other)
        shop.content.setdefault(key, told[key])


def _take_bunch(
    page: _Page, shop: _Shop, cells: Mapping[str, str], unit: str, decimals: int
) -> None:
    """Takes a row's bunch; a row that only speaks of its shop has none."""
    bunch = {key: value_of(key, cells[key], unit) for key in OF_BUNCH if key in cells}
    if not bunch:
        return
    table = page.checked(BunchTable, bunch, ())
    if table is None:
        return
    note_parts(page, ("price",), table.price, decimals)
    note_bunch(page, (), table)
    shop.bunches.append({**bunch, "plant": table.plant})
    if len(shop.bunches) == MOST_BUNCHES + 1:
        told = {"count": len(shop.bunches), "most": MOST_BUNCHES, "shop": shop.name}
        page.wrong((), "reading.price-list.too-many-bunches", **told)


def price_list_text(shops: Iterable[Mapping[str, Any]], names: Mapping[str, str]) -> str:
    """The price list of shops as they are kept. `names`: what a plant is called, by its id.

    Every length has its unit, so that it is read alike wherever it is brought in.
    """
    return _csv(row for shop in shops for row in _rows_of(shop, names))


def _rows_of(shop: Mapping[str, Any], names: Mapping[str, str]) -> list[dict[str, str]]:
    told = field_texts(shop, "in")
    rows = []
    for bunch in shop.get("bunch", []):
        own = field_texts(bunch, "in")
        rows.append({**own, "plant": names.get(bunch["plant"], bunch["plant"])})
    rows = rows or [{}]
    rows[0] |= {key: told[key] for key in OF_SHOP if key in told}
    return [{"shop": told.get("name", ""), **row} for row in rows]


def empty_price_list(unit: str = "cm") -> str:
    """A price list with the names of the columns and one row as an example."""
    length = "14 in" if unit == "in" else EXAMPLE["length"]
    return _csv([{**EXAMPLE, "length": length}])


def _csv(rows: Iterable[Mapping[str, str]]) -> str:
    written = io.StringIO(newline="")
    writer = csv.DictWriter(written, COLUMNS, restval="", extrasaction="ignore")
    writer.writeheader()
    writer.writerows(rows)
    return written.getvalue()
