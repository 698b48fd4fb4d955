"""Documents and their versions, by hand; the tree of versions is in test_undo.py."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nejime.records import Conflict, Document, Missing, Store, open_store


def saved(outcome: Document | Conflict) -> Document:
    assert isinstance(outcome, Document)
    return outcome


def test_what_is_added_is_found_again(store: Store) -> None:
    added = store.add("piece", "Quince in the blue bowl", {"stems": [1.5, None, "枝"]})
    assert store.get(added.id) == added
    assert (added.kind, added.name, added.version) == ("piece", "Quince in the blue bowl", 1)
    assert added.content == {"stems": [1.5, None, "枝"]}
    assert not added.can_undo
    assert not added.can_redo
    assert added.library_id == store.library_id


def test_it_is_there_after_closing_and_opening(store: Store, path: Path) -> None:
    added = store.add("vessel", "blue", {"width_cm": 30})
    store.close()
    with open_store(path) as again:
        assert again.get(added.id) == added


def test_a_list_has_one_kind_and_begins_with_the_last_changed(store: Store) -> None:
    first, second = store.add("piece", "a", {}), store.add("piece", "b", {})
    store.add("vessel", "c", {})
    assert [each.name for each in store.all("piece")] == ["b", "a"]
    store.save(first.id, {"x": 1}, first.version)
    assert [each.id for each in store.all("piece")] == [first.id, second.id]


def test_what_is_not_there_is_missing(store: Store) -> None:
    for act in (store.get, store.undo, store.redo, store.versions, store.remove, store.restore):
        with pytest.raises(Missing, match="no document 7"):
            act(7)
    with pytest.raises(Missing):
        store.save(7, {}, 1)
    with pytest.raises(Missing):
        store.copy(7, "b")
    piece = store.add("piece", "a", {})
    with pytest.raises(Missing, match="no version 2"):
        store.go_to(piece.id, 2)


def test_a_stale_save_shows_what_the_other_made_and_keeps_both_out_of_harm(store: Store) -> None:
    piece = store.add("piece", "a", {"lean_deg": 10})
    theirs = saved(store.save(piece.id, {"lean_deg": 15}, base=1))
    assert store.save(piece.id, {"lean_deg": 20}, base=1, name="mine") == Conflict(theirs)
    assert store.get(piece.id) == theirs
    assert saved(store.save(piece.id, {"lean_deg": 20}, base=2)).version == 3


def test_equal_content_makes_no_version(store: Store) -> None:
    piece = store.add("piece", "a", {"one": 1, "two": {"three": [3]}})
    again = store.save(piece.id, {"two": {"three": [3]}, "one": 1}, piece.version)
    assert again == piece
    assert len(store.versions(piece.id)) == 1


def test_a_save_sent_twice_is_no_conflict(store: Store) -> None:
    piece = store.add("piece", "a", {})
    once = store.save(piece.id, {"x": 1}, base=1)
    assert store.save(piece.id, {"x": 1}, base=1) == once


@pytest.mark.source("hand", "RFC 8259, section 3: a number is not a literal name, so 1 ≠ true")
def test_one_and_true_are_not_equal_content(store: Store) -> None:
    piece = store.add("piece", "a", {"x": 1})
    assert saved(store.save(piece.id, {"x": True}, base=1)).version == 2


def test_a_name_changes_without_a_version(store: Store) -> None:
    piece = store.add("piece", "a", {})
    assert store.rename(piece.id, "b").name == "b"
    assert saved(store.save(piece.id, {}, base=1, name="c")).name == "c"
    assert len(store.versions(piece.id)) == 1
    both = saved(store.save(piece.id, {"x": 1}, base=1, name="d"))
    assert (both.name, both.version) == ("d", 2)


def test_a_copy_goes_its_own_way(store: Store) -> None:
    piece = store.add("piece", "a", {"x": 1})
    piece = saved(store.save(piece.id, {"x": 2}, base=1))
    twin = store.copy(piece.id, "b")
    assert (twin.kind, twin.name, twin.version, twin.content) == ("piece", "b", 1, {"x": 2})
    store.save(twin.id, {"x": 3}, base=1)
    assert store.get(piece.id) == piece


def test_removed_is_off_the_list_and_comes_back_as_it_was(store: Store) -> None:
    piece = store.add("piece", "a", {"x": 1})
    gone = store.remove(piece.id)
    assert gone.removed_at is not None
    assert store.remove(piece.id) == gone
    assert store.all("piece") == ()
    assert store.removed("piece") == (gone,)
    assert store.get(piece.id) == gone
    assert store.restore(piece.id) == piece
    assert store.all("piece") == (piece,)
    assert store.removed("piece") == ()


def test_of_settings_there_is_one(store: Store) -> None:
    made = store.only("settings", "", {"unit": "cm"})
    assert store.only("settings", "", {"unit": "in"}) == made
    assert len(store.all("settings")) == 1


def test_one_library_does_not_see_the_other(store: Store) -> None:
    piece = store.add("piece", "a", {})
    store.name_library("Main Street")
    assert store.library_name == "Main Street"
    store.library_id += 1
    assert store.all("piece") == ()
    with pytest.raises(Missing):
        store.get(piece.id)


def test_a_copy_of_the_content_is_given_out(store: Store) -> None:
    piece = store.add("piece", "a", {"stems": []})
    piece.content["stems"].append("mine alone")
    assert store.get(piece.id).content == {"stems": []}


@pytest.mark.parametrize("number", [float("inf"), float("nan")])
@pytest.mark.source("hand", "RFC 8259, section 6: infinity and NaN are not permitted")
def test_numbers_that_json_lacks_are_refused_and_nothing_is_kept(
    store: Store, number: float
) -> None:
    with pytest.raises(ValueError, match="JSON"):
        store.add("piece", "a", {"x": number})
    assert store.all("piece") == ()


JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters()),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(st.text(st.characters()), JSON, max_size=4))
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_json_comes_back_as_it_was_given(store: Store, content: dict[str, Any]) -> None:
    back = store.add("piece", "a", content).content
    assert repr(back) == repr(content)  # repr: order, -0.0, 1 and 1.0 as well


def test_moments_are_those_of_the_clock(store: Store) -> None:
    piece = store.add("piece", "a", {})
    assert piece.changed_at == datetime(2026, 3, 1, 9, 0, 1, tzinfo=UTC)
    store.undo(piece.id)
    assert store.get(piece.id) == piece
    later = saved(store.save(piece.id, {"x": 1}, base=1))
    assert later.changed_at > piece.changed_at
    assert [version.at for version in store.versions(piece.id)] == [
        later.changed_at,
        piece.changed_at,
    ]


@pytest.mark.source("hand", "SQLite's whole numbers end at 2^63 - 1")
@pytest.mark.parametrize("number", [2**63 - 1, 2**63, 10**30])
def test_a_number_too_large_is_no_document(store: Store, number: int) -> None:
    for act in (store.get, store.undo, store.redo, store.remove, store.restore):
        with pytest.raises(Missing):
            act(number)
    with pytest.raises(Missing):
        store.save(number, {}, 1)


def test_what_is_erased_is_gone_with_all_it_ever_was(store: Store, path: Path) -> None:
    made = store.add("picture", "one", {"says": "a-face-" * 200})
    store.save(made.id, {"says": "another"}, made.version)
    other = store.add("picture", "two", {"says": "stays"})
    store.erase(made.id)
    with pytest.raises(Missing):
        store.get(made.id)
    with pytest.raises(Missing):
        store.erase(made.id)
    assert [each.id for each in (*store.all("picture"), *store.removed("picture"))] == [other.id]
    store.close()
    left = b"".join(each.read_bytes() for each in path.parent.iterdir())
    assert b"a-face-" not in left
    assert b"stays" in left
