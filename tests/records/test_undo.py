"""Undo and redo: by hand, and against a plain tree."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from nejime.records import Conflict, Document, Store, open_store


def write(store: Store, document: Document, x: int) -> Document:
    outcome = store.save(document.id, {"x": x}, document.version)
    assert isinstance(outcome, Document)
    return outcome


@pytest.mark.source("hand", "1 → 2 → 3; two undone; 4 from 1; undone to 1; redo goes to 4, not 2")
def test_redo_goes_to_the_newest_and_the_older_branch_is_kept(store: Store) -> None:
    piece = store.add("piece", "a", {"x": 10})
    write(store, write(store, piece, 20), 30)
    assert store.undo(piece.id).content == {"x": 20}
    first = store.undo(piece.id)
    assert (first.content, first.can_undo, first.can_redo) == ({"x": 10}, False, True)
    branch = write(store, first, 40)
    assert (branch.version, branch.can_undo, branch.can_redo) == (4, True, False)
    assert store.redo(piece.id) == branch
    store.undo(piece.id)
    assert store.redo(piece.id).version == branch.version
    parents = [(version.number, version.parent) for version in store.versions(piece.id)]
    assert parents == [(4, 1), (3, 2), (2, 1), (1, None)]
    assert store.go_to(piece.id, 3).content == {"x": 30}
    assert store.undo(piece.id).content == {"x": 20}


def test_undo_is_kept_over_closing(store: Store, path: Path) -> None:
    piece = write(store, store.add("piece", "a", {"x": 1}), 2)
    undone = store.undo(piece.id)
    store.close()
    with open_store(path) as again:
        assert again.get(piece.id) == undone
        assert again.redo(piece.id).content == {"x": 2}


def test_a_page_that_did_not_see_an_undo_is_in_conflict(store: Store) -> None:
    piece = write(store, store.add("piece", "a", {"x": 1}), 2)
    undone = store.undo(piece.id)
    assert store.save(piece.id, {"x": 3}, base=piece.version) == Conflict(undone)


def test_a_hundred_steps_back_and_forth(store: Store) -> None:
    piece = store.add("piece", "a", {"x": 0})
    for x in range(1, 101):
        piece = write(store, piece, x)
    for x in reversed(range(100)):
        assert store.undo(piece.id).content == {"x": x}
    for x in range(1, 101):
        assert store.redo(piece.id).content == {"x": x}


class Leaf:
    """A version in the plain tree."""

    def __init__(self, x: int, parent: Leaf | None) -> None:
        self.x, self.parent, self.children = x, parent, list[Leaf]()
        if parent:
            parent.children.append(self)


class AgainstATree(RuleBasedStateMachine):
    """The store does what a tree of objects with a finger on one of them does."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.store = open_store(Path(self.folder.name) / "kept.sqlite")
        self.piece = self.store.add("piece", "a", {"x": 0})
        self.finger = Leaf(0, None)
        self.leaves = [self.finger]

    def teardown(self) -> None:
        self.store.close()
        self.folder.cleanup()

    @rule(x=st.integers(0, 3))
    def save(self, x: int) -> None:
        self.piece = write(self.store, self.piece, x)
        if x != self.finger.x:
            self.finger = Leaf(x, self.finger)
            self.leaves.append(self.finger)

    @rule()
    def undo(self) -> None:
        self.piece = self.store.undo(self.piece.id)
        self.finger = self.finger.parent or self.finger

    @rule()
    def redo(self) -> None:
        self.piece = self.store.redo(self.piece.id)
        self.finger = self.finger.children[-1] if self.finger.children else self.finger

    @rule(data=st.data())
    def go_to(self, data: st.DataObject) -> None:
        number = data.draw(st.integers(1, len(self.leaves)))
        self.piece = self.store.go_to(self.piece.id, number)
        self.finger = self.leaves[number - 1]

    @precondition(lambda self: len(self.leaves) > 1)
    @rule(x=st.integers(4, 6), data=st.data())
    def save_from_elsewhere(self, x: int, data: st.DataObject) -> None:
        others = [number for number in range(1, len(self.leaves) + 1) if number != self.at()]
        base = data.draw(st.sampled_from(others))
        if x != self.finger.x:
            assert self.store.save(self.piece.id, {"x": x}, base) == Conflict(self.piece)

    @rule()
    def open_again(self) -> None:
        self.store.close()
        self.store = open_store(Path(self.folder.name) / "kept.sqlite")

    def at(self) -> int:
        return self.leaves.index(self.finger) + 1

    @invariant()
    def the_same(self) -> None:
        held = self.store.get(self.piece.id)
        assert held == self.piece
        assert (held.version, held.content) == (self.at(), {"x": self.finger.x})
        assert held.can_undo == (self.finger.parent is not None)
        assert held.can_redo == bool(self.finger.children)
        kept = [version.content["x"] for version in self.store.versions(held.id)]
        assert kept == [leaf.x for leaf in reversed(self.leaves)]


TestAgainstATree = AgainstATree.TestCase
TestAgainstATree.settings = settings(max_examples=12, stateful_step_count=20, deadline=None)
