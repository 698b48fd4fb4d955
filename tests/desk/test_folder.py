"""A folder of papers is exchanged all at once or not at all, and her own notes stay."""

import errno
import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.desk import folder as desk_folder
from nejime.desk.folder import write_folder


def _files(**contents):
    named = {f"{name}.pdf": text.encode() for name, text in contents.items()}
    manifest = json.dumps({"files": sorted(named)}).encode()
    return named | {"plan.json": manifest}


def _state(folder):
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_the_last_runs_files_make_way_and_her_notes_stay(tmp_path):
    write_folder(tmp_path, _files(ada="one", ben="one"))
    (tmp_path / "my notes.txt").write_text("buy string")
    write_folder(tmp_path, _files(ada="two", cleo="two"))
    assert _state(tmp_path) == _files(ada="two", cleo="two") | {"my notes.txt": b"buy string"}


def test_a_file_that_is_not_ours_is_never_replaced(tmp_path):
    (tmp_path / "ada.pdf").write_text("my own")
    before = _state(tmp_path)
    with pytest.raises(InputError) as refused:
        write_folder(tmp_path, _files(ada="one"))
    assert refused.value.faults[0].says.key == "desk.not-ours"
    assert _state(tmp_path) == before


def test_folders_in_the_folder_come_and_go(tmp_path):
    deep = {"handouts/ada.pdf": b"1", "plan.json": b'{"files": ["handouts/ada.pdf"]}'}
    write_folder(tmp_path, deep)
    write_folder(tmp_path, _files(ben="two"))
    assert _state(tmp_path) == _files(ben="two")
    assert not (tmp_path / "handouts").exists()


@pytest.mark.parametrize("named", ["../outside.txt", "/outside.txt", ".", ""])
def test_a_manifest_cannot_name_files_outside(tmp_path, named):
    outside = tmp_path / "outside.txt"
    outside.write_text("stays")
    inside = tmp_path / "papers"
    inside.mkdir()
    (inside / "plan.json").write_text(json.dumps({"files": [named]}))
    write_folder(inside, _files(ada="one"))
    assert outside.read_text() == "stays"


def test_a_file_where_the_folder_should_be_is_told(tmp_path):
    (tmp_path / "papers").write_text("a file")
    with pytest.raises(InputError) as refused:
        write_folder(tmp_path / "papers", _files(ada="one"))
    assert refused.value.faults[0].says.key == "desk.cannot-write"


@pytest.mark.parametrize("step", range(12))
def test_trouble_at_any_step_leaves_everything_as_it_was(tmp_path, monkeypatch, step):
    """The disk is full at the nth write or move: before or after, never between."""
    write_folder(tmp_path, _files(ada="one", ben="one"))
    before, count = _state(tmp_path), 0
    writes, moves = Path.write_bytes, Path.replace

    def full(act):
        def acts(self, *arguments):
            nonlocal count
            count += 1
            if count - 1 == step:
                raise OSError(errno.ENOSPC, "No space left on device")
            return act(self, *arguments)

        return acts

    monkeypatch.setattr(Path, "write_bytes", full(writes))
    monkeypatch.setattr(Path, "replace", full(moves))
    after = _files(ada="two", cleo="two")
    try:
        write_folder(tmp_path, after)
    except InputError as refused:
        told = refused.faults[0].says
        assert (told.key, told.quantities["why"]) == (
            "desk.cannot-write",
            "No space left on device",
        )
        assert _state(tmp_path) == before
    else:
        assert count <= step
        assert _state(tmp_path) == after


NAMES = st.sets(st.sampled_from("abcdef"), max_size=4)


@given(st.lists(NAMES, min_size=1, max_size=4))
@settings(max_examples=30)
def test_after_any_runs_the_folder_holds_the_last_one(tmp_path_factory, runs):
    here = tmp_path_factory.mktemp("papers")
    for number, names in enumerate(runs):
        wanted = _files(**dict.fromkeys(names, f"{number}"))
        write_folder(here, wanted)
        assert _state(here) == wanted
    assert desk_folder.MANIFEST == "plan.json"
