"""The class file that somebody begins with: commented, and right as it is."""

from __future__ import annotations

import datetime as dt

from nejime.basis import tables

FILE = "new-class.toml"
DATE = "{date}"


def new_class(date: dt.date) -> str:
    """The text of a first class file, for a class on a date."""
    return tables.read_text(FILE).replace(DATE, f"{date:%Y-%m-%d}")
