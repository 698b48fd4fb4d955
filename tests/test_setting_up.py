"""The two commands set themselves up, and say in plain words what stands in the way."""

from __future__ import annotations

import ast
import errno
import importlib.util
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parent.parent
COMMANDS = ("start.py", "check.py")
READ_BY_OLD_PYTHON = (*COMMANDS, "setting_up.py")
CLOSED_PORT = "http://127.0.0.1:9/simple"

# What pip and npm print in such cases, shortened.
NO_CONNECTION = (
    "WARNING: Retrying (Retry(total=0)) after connection broken by 'NewConnectionError(...)'\n"
    "ERROR: No matching distribution found for numpy"
)
NO_FONTS = "npm error code ECONNREFUSED\nnejime: the fonts for the papers could not be fetched"
NO_WHEEL = "ERROR: No matching distribution found for numpy==2.4.6"
FULL = "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A copy of what setting up looks at, in a folder whose name has a space."""
    copy = tmp_path / "my flowers"
    shutil.copytree(ROOT / "src", copy / "src", ignore=shutil.ignore_patterns("fonts"))
    for name in (*READ_BY_OLD_PYTHON, "pyproject.toml", "constraints.txt", "hatch_build.py"):
        shutil.copy(ROOT / name, copy)
    return copy


@pytest.fixture
def setting_up(project: Path) -> Any:
    spec = importlib.util.spec_from_file_location("setting_up", project / "setting_up.py")
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def run(project: Path, command: str, **variables: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-B", str(project / command)],
        env=variables,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("name", READ_BY_OLD_PYTHON)
def test_an_old_python_can_read_far_enough(name: str) -> None:
    ast.parse((ROOT / name).read_text(encoding="utf-8"), feature_version=(3, 4))


@pytest.mark.parametrize("command", COMMANDS)
def test_an_old_python_is_told_so(project: Path, command: str) -> None:
    (project / "sitecustomize.py").write_text("import sys\nsys.version_info = (3, 8, 2)\n")
    outcome = run(project, command, PYTHONPATH=str(project))
    assert outcome.returncode == 1
    assert "needs Python 3.11 or newer, and this is Python 3.8" in outcome.stderr
    assert f"python3.11 {command}" in outcome.stderr
    assert "Traceback" not in outcome.stderr


@pytest.mark.parametrize("command", COMMANDS)
def test_a_python_without_venv_is_told_so(project: Path, command: str) -> None:
    (project / "sitecustomize.py").write_text(
        "import importlib.util as util\n"
        "find = util.find_spec\n"
        "util.find_spec = lambda name, *rest: None if name == 'ensurepip' else find(name, *rest)\n"
    )
    outcome = run(project, command, PYTHONPATH=str(project))
    assert outcome.returncode == 1
    assert "sudo apt install python3." in outcome.stderr
    assert "Traceback" not in outcome.stderr


def test_without_the_internet_it_says_so(project: Path) -> None:
    outcome = run(
        project,
        "start.py",
        PIP_INDEX_URL=CLOSED_PORT,
        PIP_CONFIG_FILE="/dev/null" if sys.platform != "win32" else "nul",
        PIP_NO_CACHE_DIR="1",
        PIP_RETRIES="0",
    )
    assert outcome.returncode == 1
    assert "Please check the connection" in outcome.stderr
    assert "Traceback" not in outcome.stderr


@pytest.mark.parametrize(
    ("output", "words"),
    [
        (NO_CONNECTION, "could not be fetched from the internet"),
        (NO_FONTS, "could not be fetched from the internet"),
        (NO_WHEEL, "could not be fetched from the internet"),
        (FULL, "too little room on this disk"),
        ("something else", "for a reason that it does not know"),
    ],
)
def test_what_a_program_says_becomes_a_sentence(setting_up: Any, output: str, words: str) -> None:
    environment = setting_up.Environment(".venv", "")
    environment.folder.mkdir()
    assert words in str(setting_up.explained(environment, output))


def test_a_python_that_may_be_too_new_is_told_so(
    setting_up: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    environment = setting_up.Environment(".venv", "")
    environment.folder.mkdir()
    monkeypatch.setattr(sys, "version_info", (3, 99, 0))
    assert "not to be had for this Python, which is 3.99" in str(
        setting_up.explained(environment, NO_WHEEL)
    )


@pytest.mark.parametrize(
    ("number", "words"), [(errno.ENOSPC, "too little room"), (errno.EROFS, "cannot write into")]
)
def test_a_folder_that_takes_no_files_is_explained(
    setting_up: Any, monkeypatch: pytest.MonkeyPatch, number: int, words: str
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(number, {errno.ENOSPC: "No space left on device"}.get(number, "Read-only"))

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(setting_up.Trouble, match=words):
        setting_up.set_up(".venv")


def test_a_full_disk_is_noticed_beforehand(
    setting_up: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(setting_up, "LEAST_FREE_BYTES", 1 << 62)
    with pytest.raises(setting_up.Trouble, match="too little room"):
        setting_up.set_up(".venv")


def add_a_comment(project: Path) -> None:
    file = project / "src" / "nejime" / "__init__.py"
    file.write_text(file.read_text(encoding="utf-8") + "# more\n", encoding="utf-8")


def add_a_file(project: Path) -> None:
    (project / "src" / "nejime" / "data" / "new.toml").write_text("", encoding="utf-8")


def take_a_file_away(project: Path) -> None:
    (project / "src" / "nejime" / "data" / "sources.toml").unlink()


def ask_for_more(project: Path) -> None:
    (project / "constraints.txt").write_text("numpy==2.0.0\n", encoding="utf-8")


@pytest.mark.parametrize(
    ("change", "changed"),
    [
        (add_a_comment, {"source"}),
        (add_a_file, {"source"}),
        (take_a_file_away, {"source"}),
        (ask_for_more, {"requirements"}),
    ],
)
def test_what_changed_is_installed_again(
    setting_up: Any, project: Path, change: Callable[[Path], None], changed: set[str]
) -> None:
    environment = setting_up.Environment(".venv", "")
    before = environment.stamp()
    assert environment.stamp() == before
    change(project)
    after = environment.stamp()
    assert {part for part in before if before[part] != after[part]} == changed


def test_nothing_leaks_into_the_environment(
    setting_up: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONPATH", "elsewhere")
    monkeypatch.setenv("FLOWERS", "kept")
    variables = setting_up.surroundings()
    assert "PYTHONPATH" not in variables
    assert variables["FLOWERS"] == "kept"
