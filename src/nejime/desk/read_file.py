"""Opening what a teacher wrote: the bytes of a file, or what is wrong with it, in plain words."""

from __future__ import annotations

from pathlib import Path

from nejime.basis.errors import refuse
from nejime.reading.text import MOST_BYTES, check_size, read_bytes


def read_file(path: Path, most_bytes: int | None = None) -> bytes:
    """The bytes of a file. Raises `InputError`, also for a file too large, before reading it."""
    most = MOST_BYTES if most_bytes is None else most_bytes
    try:
        if path.is_dir():
            raise refuse(str(path), "desk.is-folder", "desk.cannot-read-try", file=str(path))
        check_size(str(path), path.stat().st_size, most)
        with path.open("rb") as file:  # what a device holds, no size tells
            data = file.read(most + 1)
        check_size(str(path), len(data), most)
        return data
    except FileNotFoundError as trouble:
        raise refuse(str(path), "desk.no-file", "desk.cannot-read-try", file=str(path)) from trouble
    except (OSError, ValueError) as trouble:  # ValueError: a name that no file can have
        why = getattr(trouble, "strerror", None) or str(trouble)
        raise refuse(
            str(path), "desk.cannot-read", "desk.cannot-read-try", file=str(path), why=why
        ) from trouble


def read_own_rules(folder: Path) -> dict[str, str]:
    """A teacher's own proportions: the text of every TOML file in a folder, by file name.

    Raises `InputError`, also where there is no such folder.
    """
    if not folder.is_dir():
        raise refuse(str(folder), "desk.no-folder", "desk.cannot-read-try", file=str(folder))
    files = sorted(folder.glob("*.toml"))
    return {str(file): read_bytes(str(file), read_file(file)) for file in files}
