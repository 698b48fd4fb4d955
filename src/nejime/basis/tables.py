"""The one reader of the tables that come with the package.

Every packaged CSV and TOML file is opened, checked and cached here and nowhere else. A table that
is not as it should be is refused with its file and row (`TableError`): that is a fault of the
package, never of the person who uses it.
"""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Collection
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any


class TableError(Exception):
    """A packaged table that is not as it should be."""

    def __init__(self, file: str, row: int, says: str) -> None:
        self.file, self.row, self.says = file, row, says
        super().__init__(f"{file}, row {row}: {says}")


def _place(name: str) -> Traversable:
    place: Traversable = files("nejime") / "data"
    for part in name.split("/"):
        place = place / part
    return place


def names(folder: str, ending: str) -> tuple[str, ...]:
    """The files of a folder of packaged data, in order, as names for the other functions."""
    return tuple(
        f"{folder}/{file.name}"
        for file in sorted(_place(folder).iterdir(), key=lambda file: file.name)
        if file.name.endswith(ending)
    )


@cache
def read_text(name: str) -> str:
    """A packaged text file, as it is."""
    return _place(name).read_text(encoding="utf-8")


def read_bytes(name: str) -> bytes:
    """A packaged picture, as it is."""
    return _place(name).read_bytes()


@cache
def read_toml(name: str) -> dict[str, Any]:
    """A packaged TOML file. Raises `TableError`."""
    try:
        return tomllib.loads(read_text(name))
    except tomllib.TOMLDecodeError as trouble:
        raise TableError(name, 0, str(trouble)) from trouble


@cache
def read_csv(name: str, columns: tuple[str, ...]) -> tuple[dict[str, str], ...]:
    """The rows of a packaged CSV file whose header must be exactly `columns`.

    Cells are stripped text; an empty cell is an empty string. Raises `TableError`.
    """
    reader = csv.reader(io.StringIO(read_text(name)))
    header = tuple(next(reader, ()))
    if header != columns:
        raise TableError(name, 1, f"the columns are {header}, expected {columns}")
    rows = []
    for number, cells in enumerate(reader, start=2):
        if len(cells) != len(columns):
            raise TableError(name, number, f"{len(cells)} cells, expected {len(columns)}")
        rows.append({column: cell.strip() for column, cell in zip(columns, cells, strict=True)})
    return tuple(rows)


def check_one_of(
    file: str, row: int, value: object, known: Collection[object], column: str = ""
) -> None:
    """Refuse a cell that is not one of those known. Raises `TableError`."""
    if value not in known:
        cell = f"{column} {value!r}".strip()
        raise TableError(file, row, f"{cell} is not one of {', '.join(map(str, known))}")
