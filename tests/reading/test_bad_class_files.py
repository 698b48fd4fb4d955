"""Class files that are wrong. Each says at its head what is to be told, and on which line.

A line `# expects LINE PLACE KEY`; place `-` is the whole file, line 0 a line that does not exist.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Words
from nejime.reading.class_file import read_class

FOLDER = Path(__file__).parent.parent / "fixtures" / "classes" / "bad"
FILES = sorted(FOLDER.glob("*.toml"))


def faults_of(data: bytes) -> tuple[Fault, ...]:
    with pytest.raises(InputError) as caught:
        read_class("class.toml", data)
    return caught.value.faults


def expected(text: str) -> list[tuple[int, str, str]]:
    rows = [line.split()[2:] for line in text.splitlines() if line.startswith("# expects ")]
    return [(int(line), "" if place == "-" else place, key) for line, place, key in rows]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_fault_is_told_at_once_with_place_and_line(file: Path) -> None:
    found = faults_of(file.read_bytes())
    told = [(fault.line or 0, fault.field, fault.says.key) for fault in found]
    assert sorted(told) == sorted(expected(file.read_text("utf-8")))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_fault_has_words_and_says_what_to_do(file: Path) -> None:
    words = Words()
    for fault in faults_of(file.read_bytes()):
        assert words.say(fault.says).endswith((".", "?", "”", '"', ")")) or "\n" not in words.say(
            fault.says
        )
        remedy = fault.try_instead
        assert (remedy is not None and words.say(remedy)) or fault.says.key.startswith("limits.")


def test_faults_come_in_the_order_of_the_file() -> None:
    lines = [fault.line or 0 for fault in faults_of((FOLDER / "numbers.toml").read_bytes())]
    assert lines == sorted(lines)
