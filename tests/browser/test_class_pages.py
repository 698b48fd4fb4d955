"""A class in a real browser: begun, filled in, printed; and every part of it looked at."""

from __future__ import annotations

import re
import runpy
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.needs("chromium")
ROOT = Path(__file__).parent.parent.parent
SIZES = ((1280, "light"), (390, "dark"), (320, "light"))
NARROWEST = 320
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PARTS = (
    "when",
    "people",
    "vessels",
    "material",
    "supplies",
    "room",
    "buying",
    "morning",
    "papers",
)
PAPERS_MS = 90_000


def test_a_newcomer_plans_a_class_and_holds_a_handout(tab: Any, pages: Any) -> None:
    tab.goto(f"{pages.address}/classes")
    tab.get_by_role("button", name="Plan a new class").click()
    tab.get_by_label("Time zone").fill("Europe/London")
    tab.get_by_role("button", name="Keep").first.click()
    tab.get_by_role("link", name=re.compile("^People")).click()
    tab.get_by_label("Names").fill("Ada\nBen")
    tab.get_by_role("button", name="Add", exact=True).click()
    ada = tab.get_by_role("region", name="Ada")
    assert not ada.get_by_label("Width").first.is_visible()
    ada.get_by_label("Vessel").first.select_option("own")
    ada.get_by_label("Width").first.fill("12 in")
    tab.get_by_label("Height").first.fill("a hand")
    tab.keyboard.press("Enter")  # what is typed is kept, not something else done
    tab.get_by_text("“a hand” is not a length.").first.wait_for()
    assert ada.get_by_label("Height").first.input_value() == "a hand"
    tab.get_by_role("link", name="Ada: Vessel: Height").click()
    ada.get_by_label("Height").first.fill("6")
    tab.keyboard.press("Enter")
    tab.get_by_text("Kept.").wait_for()
    tab.get_by_role("link", name="Papers").click()
    tab.get_by_role("button", name="Make all papers").click()
    tab.get_by_role("progressbar").wait_for()
    handouts = tab.get_by_role("link", name="Handouts for everybody")
    handouts.wait_for(timeout=PAPERS_MS)
    pdf = tab.request.get(pages.address + handouts.get_attribute("href"))
    assert pdf.body().startswith(b"%PDF")


def test_two_tabs_that_change_the_same_lose_nothing(tab: Any, pages: Any) -> None:
    tab.goto(f"{pages.address}/classes")
    tab.get_by_role("button", name="Plan a new class").click()
    other = tab.context.new_page()
    other.goto(tab.url)
    for each, title in ((other, "Theirs"), (tab, "Mine")):
        each.get_by_label("Title").fill(title)
        each.get_by_role("button", name="Keep").first.click()
    assert tab.get_by_role("cell", name="Theirs").is_visible()
    assert tab.get_by_role("cell", name="Mine").is_visible()
    tab.get_by_role("button", name="Keep mine").click()
    assert tab.get_by_label("Title").input_value() == "Mine"


@pytest.fixture(scope="module")
def axe() -> str:
    fetch: Any = runpy.run_path(str(ROOT / "hatch_build.py"))["fetch_for_tests"]
    return str((fetch(ROOT) / "axe.min.js").read_text(encoding="utf-8"))


@pytest.mark.source("wcag22", "WCAG 2.2, level AA, as far as axe-core's rules can see it; 1.4.10")
@pytest.mark.parametrize(("wide", "light"), SIZES)
def test_every_part_of_a_class_can_be_read_by_everybody(
    chromium: Any, demo: Any, axe: str, wide: int, light: str
) -> None:
    (lesson,) = demo.shelf.all("class")[:1]
    context = chromium.new_context(viewport={"width": wide, "height": 800}, color_scheme=light)
    tab = context.new_page()
    found: dict[str, Any] = {}
    for part in PARTS:
        tab.goto(f"{demo.address}/classes/{lesson.id}/{part}")
        tab.evaluate("document.querySelectorAll('details').forEach((each) => (each.open = true))")
        sideways = tab.evaluate("document.documentElement.scrollWidth > innerWidth")
        assert not sideways, f"{part} is wider than the window"
        if wide == NARROWEST:  # the same page and colours as wider ones: only whether it fits
            continue
        tab.evaluate(axe)
        asked = {
            "runOnly": RULES,
            "resultTypes": ["violations"],
            "rules": {"target-size": {"enabled": True}},
        }
        answer = tab.evaluate("(asked) => axe.run(document, asked)", asked)
        found[part] = [each["id"] for each in answer["violations"]]
    context.close()
    assert not any(found.values()), found
