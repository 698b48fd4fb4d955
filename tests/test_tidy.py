"""What must not be in the project, and what must stand beside every number of the subject.

Patterns are written so that they do not find themselves.
"""

from __future__ import annotations

import ast
import io
import re
import subprocess
import tokenize
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from nejime import __version__
from nejime.basis.sources import sources

ROOT = Path(__file__).parent.parent
ROOMS_WITH_NUMBERS = ("forms", "standing", "season", "composing", "material", "keeping", "lesson")
SOURCE_MARK = re.compile(r"\[([a-z][a-z0-9_-]*)\]")
UNWANTED = {
    "a path of somebody's machine": r"(?<![\w.~-])/(wor[k]|roo[t]|hom[e]|tm[p]|User[s])/",
    "the host of a package registry": (
        r"registr[y]\.[a-z]+\.(org|com)|pyp[i]\.org|pythonhoste[d]\.org|de[b]\.debian\.org"
    ),
    "a paper that is not part of the project": (
        r"DECISION[S]\.md|DECISION[S] \d|HOUS[E]\.md|RULE[S]\.md|\bsee[d] document"
        r"|\bissu[e] #?\d|\bth[e] client\b|\bthi[s] session\b|\bissue[s] show\b"
    ),
}
NOT_SAID = {  # what is said instead
    r"\bload factor": "a margin in plain words",
    r"\bmonte carlo": "nothing",
    r"\bsolver": "nothing",
    r"\brun sheet": "order of the class",
    r"\brule set": "proportions",
    r"\b(right|left)-handed form": "opens to the right / to the left",
    r"\bsubordinate": "helper stems",
    r"\bfocal": "flower at the heart",
    r"\btilt": "lean",
    r"\bbearing": "direction",
    r"(?<!pin )\bholder": "pin holder",
}


def project_files() -> list[Path]:
    """What is in the repository or about to be."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    return [ROOT / name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()]


def unwanted_in(text: str) -> list[str]:
    return [
        f"line {number}: {what}: {line.strip()[:100]}"
        for number, line in enumerate(text.splitlines(), start=1)
        for what, pattern in UNWANTED.items()
        if re.search(pattern, line)
    ]


@pytest.mark.needs("git")
def test_no_file_names_a_machine_a_registry_or_a_foreign_paper() -> None:
    faults = []
    for file in project_files():
        try:
            text = file.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        faults += [f"{file.relative_to(ROOT)}, {fault}" for fault in unwanted_in(text)]
    assert not faults, "\n".join(faults)


@pytest.mark.parametrize(
    "line",
    [
        "open('/" + "home/somebody/class.toml')",
        "npm from https://registry." + "example.org/",
        "as " + "DECISIONS" + ".md says",
    ],
)
def test_unwanted_lines_would_be_found(line: str) -> None:
    assert unwanted_in(f"fine\n{line}\n")[0].startswith("line 2: ")


def unsourced_numbers(code: str) -> Iterator[str]:
    """Constants in capitals with a number in them and no known source in a comment beside them."""
    comments = {
        token.start[0]: token.string
        for token in tokenize.generate_tokens(io.StringIO(code).readline)
        if token.type == tokenize.COMMENT
    }
    for node in ast.walk(ast.parse(code)):
        if not isinstance(node, ast.Assign | ast.AnnAssign) or not node.value:
            continue
        target = node.targets[0] if isinstance(node, ast.Assign) else node.target
        if not (isinstance(target, ast.Name) and target.id.isupper() and has_number(node.value)):
            continue
        beside = range(node.lineno - 1, (node.end_lineno or node.lineno) + 1)
        keys = SOURCE_MARK.findall(" ".join(comments.get(line, "") for line in beside))
        if not keys:
            yield f"line {node.lineno}: {target.id} says no source"
        for key in keys:
            if key not in sources():
                yield f"line {node.lineno}: {target.id}: no source [{key}] in sources.toml"


def has_number(value: ast.expr) -> bool:
    """Whether there is a number other than 0 and 1, which count and sign rather than measure."""
    return any(
        isinstance(node, ast.Constant)
        and type(node.value) in (int, float)
        and node.value not in (0, 1)
        for node in ast.walk(value)
    )


def test_every_number_of_the_subject_says_where_it_comes_from() -> None:
    faults = [
        f"{file.relative_to(ROOT)}, {fault}"
        for room in ROOMS_WITH_NUMBERS
        for file in sorted((ROOT / "src" / "nejime" / room).glob("**/*.py"))
        for fault in unsourced_numbers(file.read_text(encoding="utf-8"))
    ]
    assert not faults, "\n".join(faults)


@pytest.mark.parametrize(
    ("code", "fault"),
    [
        ("COVER_CM = 0.5\n", "line 1: COVER_CM says no source"),
        ("COVER_CM: float = -0.5  # ours\n", "line 1: COVER_CM says no source"),
        ("COVER_CM = 0.5  # [nobody]\n", "line 1: COVER_CM: no source [nobody] in sources.toml"),
        ("A = {\n    'b': 1.5,\n}\n", "line 1: A says no source"),
    ],
)
def test_a_number_without_a_source_would_be_found(code: str, fault: str) -> None:
    assert list(unsourced_numbers(code)) == [fault]


@pytest.mark.parametrize(
    "code",
    [
        "COVER_CM = 0.5  # [own] enough to see\n",
        "# [memory] by kind\nA = {\n    'b': 1.0,\n}\n",
        "A = {\n    'b': 1.0,  # [own]\n}\n",
        "NAMES = ('first', 'second')\n",
        "SIDES = {'left': -1.0, 'right': 1.0}\n",
        "count = 3\n",
    ],
)
def test_a_number_with_a_source_is_accepted(code: str) -> None:
    assert list(unsourced_numbers(code)) == []


NOT_PROSE = re.compile(r"\{[^}]*\}|\[[^]]*\]+|`[^`]*`")
"""Quantities, and keys of a class file that a sentence quotes."""


def texts(table: Any) -> Iterator[str]:
    """Every text in a table, however deep."""
    if isinstance(table, dict):
        for value in table.values():
            yield from texts(value)
    elif isinstance(table, list):
        for value in table:
            yield from texts(value)
    elif isinstance(table, str):
        yield NOT_PROSE.sub("…", table)


def test_sayings_use_the_words_of_the_trade() -> None:
    faults = [
        f"{file.name}: “{text[:60]}”: say {instead}"
        for file in sorted((ROOT / "src/nejime/data/sayings").glob("**/*.toml"))
        for text in texts(tomllib.loads(file.read_text(encoding="utf-8")))
        for word, instead in NOT_SAID.items()
        if re.search(word, text, re.IGNORECASE)
    ]
    assert not faults, "\n".join(faults)


def test_the_package_says_its_version_once_and_the_same() -> None:
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert told["version"] == __version__
