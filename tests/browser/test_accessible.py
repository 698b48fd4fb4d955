"""Every page, wide and narrow, light and dark, as the rules of accessibility have it."""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.needs("chromium")
ROOT = Path(__file__).parent.parent.parent
SIZES = ((1280, 860, "light"), (390, 780, "dark"), (320, 640, "light"))
NARROWEST = 320
LONG = ("/season?", "/review", "/plants")  # many lines of the same kind: slow to look over
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
LONG_MS = 60_000
ASKING = ("/table", "/classes/", "/made/")  # pages that fetch more after they are there


@pytest.fixture(scope="module")
def axe() -> str:
    """The checker's script, fetched unless it is there."""
    fetch: Any = runpy.run_path(str(ROOT / "hatch_build.py"))["fetch_for_tests"]
    return str((fetch(ROOT) / "axe.min.js").read_text(encoding="utf-8"))


def addresses(demo: Any) -> list[str]:
    """Every kind of page there is."""
    (piece,) = demo.shelf.all("piece")[:1]
    (lesson,) = demo.shelf.all("class")[:1]
    (place,) = (each for each in demo.shelf.all("garden") if each.content.get("shoots"))
    (shown,) = demo.shelf.all("display")
    (made,) = demo.shelf.all("made")
    return [
        "/",
        "/made",
        "/made/new",
        f"/made/{made.id}",
        f"/made/{made.id}/piece",
        "/display",
        "/display/new",
        f"/display/{shown.id}",
        f"/display/{shown.id}/change",
        "/table",
        "/table/new",
        f"/table/{piece.id}",
        f"/table/{piece.id}/bowls",
        f"/table/{piece.id}/drawings",
        "/door",
        "/nudge",
        "/classes",
        f"/classes/{lesson.id}",
        f"/classes/{lesson.id}/buying",
        f"/classes/{lesson.id}/morning",
        "/cupboard",
        "/places",
        "/plants",
        "/plants/lily",
        "/review",
        "/review?shown=said",
        "/places/shop/new",
        f"/places/garden/{place.id}",
        "/season?on=2027-03-20",
        "/season/place",
        "/season/talk?on=2027-03-20",
        "/settings",
        "/nothing-here",
    ]


@pytest.mark.source("wcag22", "WCAG 2.2, level AA, as far as axe-core's rules can see it")
@pytest.mark.parametrize(("wide", "high", "light"), SIZES)
def test_axe_finds_nothing_to_object_to(
    chromium: Any, demo: Any, axe: str, wide: int, high: int, light: str
) -> None:
    context = chromium.new_context(
        viewport={"width": wide, "height": high}, color_scheme=light, reduced_motion="reduce"
    )
    tab = context.new_page()
    found: dict[str, Any] = {}
    for address in addresses(demo):
        tab.goto(demo.address + address)
        if address.startswith(ASKING):
            tab.wait_for_load_state("networkidle", timeout=LONG_MS)
        over = tab.evaluate("document.documentElement.scrollWidth - innerWidth")
        if over > 0:
            found[address] = {"wider than the screen": [str(over)]}
        if wide == NARROWEST:  # the same page and colours as wider ones: only whether it fits
            continue
        if light == "dark" and address.startswith(LONG):  # nothing that other pages have not
            continue
        tab.evaluate(axe)  # by the test, so the policy of the page is no hindrance
        told = tab.evaluate(
            "(tags) => axe.run(document, { runOnly: tags, resultTypes: ['violations'],"
            " rules: { 'target-size':"
            " { enabled: true } } })",
            RULES,
        )
        faults = {
            each["id"]: [node["html"][:120] for node in each["nodes"][:3]]
            for each in told["violations"]
        }
        if faults:
            found[address] = {**found.get(address, {}), **faults}
    context.close()
    assert found == {}
