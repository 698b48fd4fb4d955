"""Several threads and several programs on one file, and programs that are killed."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path
from threading import Barrier

from nejime.records import Conflict, Document, Store, open_store

TRIES = 10
HANDS = 4


def program(code: str, *words: object) -> subprocess.Popen[str]:
    """Another Python, with the words as its arguments."""
    return subprocess.Popen(
        [sys.executable, "-W", "error", "-c", code, *map(str, words)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def together(act: Callable[[int], object]) -> list[object]:
    """What several threads give that all begin at once."""
    start = Barrier(HANDS)

    def one(number: int) -> object:
        start.wait()
        return act(number)

    with ThreadPoolExecutor(HANDS) as threads:
        return list(threads.map(one, range(HANDS)))


def test_of_threads_that_save_at_once_one_is_first(store: Store) -> None:
    piece = store.add("piece", "a", {})
    for version in range(1, TRIES + 1):
        outcomes = together(
            lambda hand, base=version: store.save(piece.id, {"by": [base, hand]}, base)
        )
        won = [outcome for outcome in outcomes if isinstance(outcome, Document)]
        lost = [outcome for outcome in outcomes if isinstance(outcome, Conflict)]
        assert (len(won), len(lost)) == (1, HANDS - 1)
        assert all(conflict.theirs == won[0] for conflict in lost)
        assert store.get(piece.id) == won[0]


def test_no_job_is_taken_twice(store: Store) -> None:
    asked = {store.ask("print", {"class": number}).id for number in range(HANDS * TRIES)}
    taken: list[int] = []
    for _ in range(TRIES):
        jobs = together(lambda _: store.take())
        taken += [job.id for job in jobs if job]
    assert len(taken) == len(set(taken))
    assert set(taken) == asked


def test_threads_that_ask_for_the_only_one_get_the_same(store: Store) -> None:
    found = together(lambda hand: store.only("settings", "", {"by": hand}))
    assert len({repr(document) for document in found}) == 1


SAVES_WHEN_TOLD = """
import sys
from nejime.records import Conflict, open_store
with open_store(sys.argv[1]) as store:
    for line in sys.stdin:
        base = int(line)
        outcome = store.save(int(sys.argv[2]), {"by": [base, sys.argv[3]]}, base)
        print("conflict" if isinstance(outcome, Conflict) else "saved", flush=True)
"""


def test_of_programs_that_save_at_once_one_is_first(store: Store, path: Path) -> None:
    piece = store.add("piece", "a", {})
    programs = [program(SAVES_WHEN_TOLD, path, piece.id, hand) for hand in range(2)]
    for base in range(1, TRIES + 1):
        for each in programs:
            assert each.stdin is not None
            each.stdin.write(f"{base}\n")
            each.stdin.flush()
        said = sorted(each.stdout.readline().strip() for each in programs if each.stdout)
        assert said == ["conflict", "saved"]
    for each in programs:
        each.communicate(timeout=30)
        assert each.returncode == 0
    assert store.get(piece.id).version == TRIES + 1


SAVES_UNTIL_KILLED = """
import sys
from nejime.records import open_store
store = open_store(sys.argv[1])
piece = store.add("piece", "a", {"x": 0})
while True:
    piece = store.save(piece.id, {"x": piece.version, "much": "." * 3000}, piece.version)
    print(piece.version, flush=True)
"""


def test_what_was_said_to_be_saved_outlives_a_killed_program(path: Path) -> None:
    for least in (1, 5, 20):
        killed = program(SAVES_UNTIL_KILLED, path)
        assert killed.stdout is not None
        said = [int(killed.stdout.readline()) for _ in range(least)]
        killed.kill()
        rest, _ = killed.communicate(timeout=30)
        said += [int(line) for line in rest.splitlines(keepends=True) if line.endswith("\n")]
        with open_store(path) as store:
            piece = store.all("piece")[0]
            kept = {each.number: each.content["x"] for each in store.versions(piece.id)}
        assert piece.version - said[-1] in (0, 1)  # one may be saved and not yet said
        assert all(kept[version] == version - 1 for version in said)
        with closing(sqlite3.connect(path)) as file:
            assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            assert file.execute("PRAGMA foreign_key_check").fetchall() == []


OPENS_WHEN_TOLD = """
import sys
from nejime.records import open_store
sys.stdin.readline()
with open_store(sys.argv[1]) as store:
    store.only("settings", "", {})
    print(len(store.all("settings")), store.library_id)
"""


def test_programs_that_open_a_new_file_at_once_make_one_library(path: Path) -> None:
    programs = [program(OPENS_WHEN_TOLD, path) for _ in range(HANDS)]
    for each in programs:
        assert each.stdin is not None
        each.stdin.write("\n")
        each.stdin.flush()
    assert [each.communicate(timeout=60)[0] for each in programs] == ["1 1\n"] * HANDS
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("SELECT count(*) FROM libraries").fetchall() == [(1,)]
