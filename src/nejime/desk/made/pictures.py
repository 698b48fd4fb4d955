"""Working pictures: held in memory while somebody marks them, kept only where she asks for it.

Model: a picture that was chosen is made small and clean (`photo.picture`) and held under a name
that cannot be guessed; the program forgets the oldest, and all of them when it stops. A kept
picture is a document of its own, apart from the marks, and never leaves this machine with them.
"""

from __future__ import annotations

import base64
import binascii
import secrets
import threading
from collections import OrderedDict
from dataclasses import dataclass

from nejime.desk.shelf import Shelf

KIND = "made-picture-"
"""And its name: a kind of its own for each, so that it is found without reading the others."""
MOST_HELD = 36  # [own] two pictures each of a class of fourteen, and some; about 30 MB
TOKEN_BYTES = 12


@dataclass(frozen=True, slots=True)
class Working:
    """A working picture as JPEG, and which part of the whole picture it shows, in its pixels.

    `box`: left, top, width, height.
    """

    jpeg: bytes
    box: tuple[float, float, float, float]


class Pictures:
    """The working pictures of this run of the program, by name."""

    def __init__(self, most: int = MOST_HELD) -> None:
        self._most = most
        self._held: OrderedDict[str, Working] = OrderedDict()
        self._lock = threading.Lock()

    def hold(self, working: Working, name: str = "") -> str:
        """Hold a picture, under a name of its own unless it has one; its name."""
        name = name or secrets.token_hex(TOKEN_BYTES)
        with self._lock:
            self._held[name] = working
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return name

    def get(self, name: str) -> Working | None:
        """The picture of a name; None where it is not held any more."""
        with self._lock:
            found = self._held.get(name)
            if found is not None:
                self._held.move_to_end(name)
            return found

    def forget(self, name: str) -> None:
        """Let go of a picture."""
        with self._lock:
            self._held.pop(name, None)


def found(shelf: Shelf, pictures: Pictures, name: str) -> Working | None:
    """A picture that is held or kept; None where it is neither."""
    working = pictures.get(name)
    if working is None and (working := kept(shelf, name)) is not None:
        pictures.hold(working, name)  # it is asked for with every mark
    return working


def kept(shelf: Shelf, name: str) -> Working | None:
    """A kept picture; None where there is none of this name."""
    for each in shelf.all(KIND + name):
        try:
            jpeg = base64.b64decode(each.content["jpeg"], validate=True)
            left, top, wide, high = each.content["box"]
        except (binascii.Error, KeyError, TypeError, ValueError):
            return None
        return Working(jpeg, (left, top, wide, high))
    return None


def is_kept(shelf: Shelf, name: str) -> bool:
    """Whether a picture is kept."""
    return bool(shelf.all(KIND + name))


def keep(shelf: Shelf, pictures: Pictures, name: str) -> bool:
    """Keep a picture that is held; False where it is not held any more."""
    if is_kept(shelf, name):
        return True
    working = pictures.get(name)
    if working is None:
        return False
    lay_down(shelf, name, working)
    return True


def lay_down(shelf: Shelf, name: str, working: Working) -> None:
    """A picture into the records."""
    content = {"jpeg": base64.b64encode(working.jpeg).decode(), "box": list(working.box)}
    shelf.add(KIND + name, name, content)


def let_go(shelf: Shelf, name: str) -> None:
    """A kept picture is wiped from the records; while the program runs it is still shown."""
    for each in (*shelf.all(KIND + name), *shelf.removed(KIND + name)):
        shelf.erase(each.id)
