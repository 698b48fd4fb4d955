"""Writing a folder of papers: all at once, or not at all.

Files are first written beside their place; then those of the last run make way and the new ones
move in. If anything goes wrong on the way, everything is put back. What somebody else laid into
the folder stays: only files that the last `plan.json` names are replaced or removed.
"""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path

from nejime.basis.errors import InputError, refuse

MANIFEST = "plan.json"


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Replace what the last run wrote in `folder` by `files`; `plan.json` must be among them.

    Raises `InputError` where a file of the same name is not ours, or the folder cannot be written.
    """
    made = _missing(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        ours = _written_before(folder)
        strange = [name for name in files if name not in ours and (folder / name).exists()]
        if strange:
            raise refuse("--out", "desk.not-ours", "desk.not-ours-try", files=tuple(strange))
        _exchange(folder, files, ours | set(files))
    except BaseException as trouble:
        for each in made:
            with suppress(OSError):
                each.rmdir()
        if isinstance(trouble, OSError):
            raise _cannot_write(folder, trouble) from trouble
        raise


def check_folder(name: str) -> Path:
    """The folder of that name, before any work is done for it. Raises `InputError`."""
    if not name.strip():
        raise refuse("--out", "desk.no-out", "desk.no-out-try")
    folder = Path(name)
    for each in (folder, *folder.parents):
        if os.path.isfile(each):  # noqa: PTH113 - unlike Path's, no trouble where one may not look
            raise refuse("--out", "desk.not-a-folder", "desk.not-a-folder-try", folder=str(each))
    return folder


def _missing(folder: Path) -> list[Path]:
    """The folder and those around it that are still to be made, the innermost first."""
    return [each for each in (folder, *folder.parents) if not os.path.exists(each)]  # noqa: PTH110


def _cannot_write(folder: Path, trouble: OSError) -> InputError:
    why = trouble.strerror or str(trouble)
    return refuse(
        "--out", "desk.cannot-write", "desk.cannot-write-try", folder=str(folder), why=why
    )


def _written_before(folder: Path) -> set[str]:
    """The names in the last run's `plan.json`; a strange one there names nothing."""
    try:
        named = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))["files"]
        return {str(name) for name in named if _inside(folder, str(name))} | {MANIFEST}
    except FileNotFoundError:
        return set()
    except (ValueError, KeyError, TypeError):
        return set()


def _inside(folder: Path, name: str) -> bool:
    place = (folder / name).resolve()
    return place != folder.resolve() and folder.resolve() in place.parents


def _exchange(folder: Path, files: Mapping[str, bytes], leaving: Iterable[str]) -> None:
    workshop = Path(tempfile.mkdtemp(prefix=".nejime-", dir=folder))
    new, old = workshop / "new", workshop / "old"
    try:
        for name, content in files.items():
            (new / name).parent.mkdir(parents=True, exist_ok=True)
            (new / name).write_bytes(content)
        _swap(folder, new, old, files, leaving)
    finally:
        shutil.rmtree(workshop, ignore_errors=True)
    _remove_empty(folder, leaving)


def _swap(
    folder: Path, new: Path, old: Path, files: Mapping[str, bytes], leaving: Iterable[str]
) -> None:
    """Move the old files out and the new ones in; on any trouble, back again."""
    moved: list[tuple[Path, Path]] = []
    try:
        for name in leaving:
            if (folder / name).is_file():
                _move(folder / name, old / name, moved)
        for name in files:
            _move(new / name, folder / name, moved)
    except BaseException:
        for source, target in reversed(moved):
            if target.exists():
                target.replace(source)
        raise


def _move(source: Path, target: Path, moved: list[tuple[Path, Path]]) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    moved.append((source, target))  # noted first: whoever is stopped in between knows of it
    source.replace(target)


def _remove_empty(folder: Path, names: Iterable[str]) -> None:
    for name in names:
        for above in (folder / name).parents:
            if above == folder:
                break
            with suppress(OSError):
                above.rmdir()
