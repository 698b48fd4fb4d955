"""On which line of a TOML file each value stands.

Model: one pass over the text of a file that the TOML reader has already accepted, so that nothing
is checked here; only keys, brackets, strings and line ends are told apart. A place in the file is
a tuple of keys and of positions in lists, counted from 0: `("person", 2, "vessel", "width")`.
Source: TOML 1.0.0, the sections on keys, tables and arrays.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left
from collections.abc import Mapping

Path = tuple[str | int, ...]

_BLANK = re.compile(r"[ \t]*")
_GAP = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}|'
    r"'''.*?'{3,5}|"
    r'"(?:[^"\\\n]|\\.)*"|'
    r"'[^'\n]*'",
    re.DOTALL,
)
_PLAIN = re.compile(r"[^,\]}#\n]*")


def lines_of(text: str) -> Mapping[Path, int]:
    """The line, counted from 1, of every table, key and list item of a readable TOML text."""
    return _Scan(text).lines


def path_text(path: Path) -> str:
    """A place as people read it; things in a list are counted from 1: `person[3].vessel.width`."""
    words = ""
    for part in path:
        if isinstance(part, int):
            words += f"[{part + 1}]"
        else:
            words += f".{part}" if words else part
    return words


class _Scan:
    """The pass over the text: where it is, which table is open, and what it has found."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.ends = [found.start() for found in re.finditer("\n", text)]
        self.lines: dict[Path, int] = {}
        self.lengths: dict[Path, int] = {}
        table: Path = ()
        self.skip(_GAP)
        while self.at < len(text):
            if text[self.at] == "[":
                table = self.header()
            else:
                self.pair(table)
            self.skip(_GAP)

    def skip(self, what: re.Pattern[str]) -> str:
        found = what.match(self.text, self.at)
        if found is None:
            return ""
        self.at = found.end()
        return found[0]

    def note(self, path: Path) -> None:
        self.lines.setdefault(path, bisect_left(self.ends, self.at) + 1)

    def header(self) -> Path:
        """`[table]` or `[[list of tables]]`; a list's name stands for its last table."""
        in_list = self.text.startswith("[[", self.at)
        start = self.at
        self.at += 2 if in_list else 1
        keys = self.keys()
        self.at, after = start, self.at
        path: Path = ()
        for key in keys[:-1]:
            path = self.last((*path, key))
            self.note(path)
        path = (*path, keys[-1])
        if in_list:
            self.note(path)
            self.lengths[path] = self.lengths.get(path, 0) + 1
        path = self.last(path)
        self.note(path)
        self.at = after + (2 if in_list else 1)
        return path

    def last(self, path: Path) -> Path:
        return (*path, self.lengths[path] - 1) if path in self.lengths else path

    def keys(self) -> list[str]:
        """The parts of a dotted key."""
        found = []
        while True:
            self.skip(_BLANK)
            found.append(self.key())
            self.skip(_BLANK)
            if not self.text.startswith(".", self.at):
                return found
            self.at += 1

    def key(self) -> str:
        if self.text[self.at] in "\"'":
            return str(tomllib.loads(f"key = {self.skip(_STRING)}")["key"])
        return self.skip(_BARE_KEY)

    def pair(self, table: Path) -> None:
        """`key = value`, the key perhaps dotted."""
        start = self.at
        keys = self.keys()
        self.at, after = start, self.at
        path = table
        for key in keys:
            path = (*path, key)
            self.note(path)
        self.at = after + 1
        self.skip(_BLANK)
        self.value(path)

    def value(self, path: Path) -> None:
        opening = self.text[self.at]
        if opening in "\"'":
            self.skip(_STRING)
        elif opening == "[":
            self.items(path)
        elif opening == "{":
            self.inline(path)
        else:
            self.skip(_PLAIN)

    def items(self, path: Path) -> None:
        """`[one, two]`"""
        self.at += 1
        number = 0
        while True:
            self.skip(_GAP)
            if self.text[self.at] == ",":
                self.at += 1
            elif self.text[self.at] == "]":
                self.at += 1
                return
            else:
                self.note((*path, number))
                self.value((*path, number))
                number += 1

    def inline(self, path: Path) -> None:
        """`{ key = value, key = value }`"""
        self.at += 1
        while True:
            self.skip(_GAP)
            if self.text[self.at] == ",":
                self.at += 1
            elif self.text[self.at] == "}":
                self.at += 1
                return
            else:
                self.pair(path)
