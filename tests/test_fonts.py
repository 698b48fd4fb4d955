"""The fonts in the package print every name: Japanese to JIS X 0208, European and Vietnamese.

What JIS X 0208 contains is asked of Python's own EUC-JP codec: level 1 are its rows 16 to 47,
level 2 its rows 48 to 84.
"""

from __future__ import annotations

import json
import runpy
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont

ROOT = Path(__file__).parent.parent
FONTS = Path(str(files("nejime"))) / "papers" / "fonts"
PAIRS = (  # the Latin font asked first, the Japanese one after it
    ("NotoSans_400Regular.ttf", "NotoSansJP_400Regular.ttf"),
    ("NotoSans_700Bold.ttf", "NotoSansJP_700Bold.ttf"),
    ("SourceSerif4_600SemiBold.ttf", "ZenOldMincho_600SemiBold.ttf"),
)
NAMES = "Dvořák Łukasz Dąbrowska Őrsi Şahin Nguyễn Þórður Ģirts Ñuñez Zoë jūshi ½ ° × – ’ €"


def jis_kanji() -> set[str]:
    rows = [bytes([0xA0 + row, 0xA0 + cell]) for row in range(16, 85) for cell in range(1, 95)]
    return {text for code in rows if (text := code.decode("euc_jp", "ignore"))}


def letters(name: str) -> set[str]:
    with TTFont(FONTS / name) as font:
        return {chr(code) for code in font.getBestCmap()}


@pytest.mark.source("hand", "JIS X 0208 has 2,965 kanji of level 1 and 3,390 of level 2: 6,355")
def test_the_codec_has_all_kanji_of_the_standard() -> None:
    assert len(jis_kanji()) == 6355


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair[0])
def test_every_kanji_and_every_name_can_be_printed(pair: tuple[str, str]) -> None:
    latin, japanese = map(letters, pair)
    assert not jis_kanji() - japanese
    assert not set(NAMES) - {" "} - latin


def test_each_font_has_its_licence_beside_it() -> None:
    fonts = sorted(file.name for file in FONTS.glob("*.ttf"))
    licences = [file.read_text(encoding="utf-8") for file in FONTS.glob("LICENCE-*.txt")]
    assert len(fonts) == 7
    assert len(licences) == 4
    assert all("SIL Open Font License" in text or "SIL OPEN FONT" in text for text in licences)


def test_the_lock_has_check_sums_and_no_addresses() -> None:
    lock: dict[str, Any] = json.loads((ROOT / "package-lock.json").read_text(encoding="utf-8"))
    packages = {place: entry for place, entry in lock["packages"].items() if place}
    fetched = runpy.run_path(str(ROOT / "hatch_build.py"))
    wanted = {f"node_modules/@expo-google-fonts/{name}" for name, _ in fetched["FONTS"]}
    wanted |= {f"node_modules/@fontsource/{name}" for name, _, _ in fetched["WEB_FONTS"]}
    wanted |= {f"node_modules/{name}" for name, _ in (*fetched["SCRIPTS"], *fetched["FOR_TESTS"])}
    assert wanted == set(packages)
    assert all(entry["integrity"].startswith("sha512-") for entry in packages.values())
    assert not any("resolved" in entry for entry in packages.values())
