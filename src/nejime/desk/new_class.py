"""Begin a class file: commented, and right as it is."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from nejime.basis.errors import refuse
from nejime.reading.new_class import new_class as text_of

WEEKS_AHEAD = 4  # [own] time to invite people and to order
SATURDAY = 5


def new_class(path: Path, today: dt.date) -> dt.date:
    """Write a first class file, for a Saturday some weeks ahead; its date.

    Raises `InputError` where there is a file already or it cannot be written.
    """
    ahead = today + dt.timedelta(weeks=WEEKS_AHEAD)
    day = ahead + dt.timedelta(days=(SATURDAY - ahead.weekday()) % 7)
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text_of(day))
    except FileExistsError as trouble:
        raise refuse(
            str(path), "desk.file-exists", "desk.file-exists-try", file=str(path)
        ) from trouble
    except OSError as trouble:
        why = trouble.strerror or str(trouble)
        raise refuse(
            str(path), "desk.cannot-write", "desk.cannot-write-try", folder=str(path), why=why
        ) from trouble
    return day
