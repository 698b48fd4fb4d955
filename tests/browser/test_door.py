"""A bowl at the door and a correction, as somebody does them with a mouse and without."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.needs("chromium")
AXE = Path(__file__).parent / "vendor" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def test_a_newcomer_comes_to_a_printed_half_page(tab: Any, pages: Any) -> None:
    tab.goto(pages.address)
    tab.get_by_role("link", name="A bowl at the door").first.click()
    tab.get_by_role("radio", name="bowl", exact=True).check()
    tab.get_by_label("Width").fill("9 in")
    tab.get_by_label("Height").fill("3 1/2 in")
    tab.get_by_label("Whose is it?").fill("Ada")
    tab.get_by_role("button", name="Show its numbers").click()
    tab.get_by_role("heading", name="Ada").wait_for()
    assert tab.locator(".lengths li").count() == 3
    link = tab.get_by_role("link", name="Print half a page")
    paper = tab.request.get(f"{pages.address}{link.get_attribute('href')}")
    assert paper.body().startswith(b"%PDF")
    tab.get_by_role("link", name="Correct a stem").click()
    tab.get_by_label("Lean of the second stem").select_option("higher")
    tab.get_by_role("button", name="Show the new numbers").click()
    tab.get_by_text("Raise the second stem by 10°").wait_for()


def test_depth_is_asked_of_an_oval_and_not_of_a_round_dish(tab: Any, pages: Any) -> None:
    tab.goto(f"{pages.address}/door")
    assert not tab.get_by_label("Front to back").is_visible()
    tab.get_by_role("radio", name="oval dish").check()
    assert tab.get_by_label("Front to back").is_visible()


def test_by_keyboard_alone(tab: Any, pages: Any) -> None:
    tab.goto(f"{pages.address}/door")
    tab.locator("input[name=shape]:checked").focus()
    for key in ("ArrowRight", "ArrowRight", "ArrowRight", "Tab"):
        tab.keyboard.press(key)
    assert tab.locator("input[name=shape]:checked").get_attribute("value") == "bowl"
    assert tab.evaluate("document.activeElement.id") == "width"
    tab.keyboard.type("22")
    tab.keyboard.press("Tab")
    tab.keyboard.type("9")
    tab.keyboard.press("Enter")
    tab.locator(".lengths li").first.wait_for()


ADDRESSES = (
    "/door?shape=vase&width=9&height=24&name=Ben",
    "/door?shape=round&width=wide&height=6",
    "/nudge?from=bowl&shape=bowl&width=22&height=9&second.lean=lower&holder=middle",
    "/nudge?from=bowl&shape=bowl&width=22&height=9&second.lean=lower&second.lean_by=much",
    "/cupboard/vessel/new",
    "/cupboard/holder/new",
    "/places/garden/new",
    "/places/shop/new",
)


@pytest.mark.source("wcag22", "WCAG 2.2, level AA, as far as axe-core's rules can see it")
@pytest.mark.parametrize(("wide", "light"), [(1280, "light"), (390, "dark"), (320, "light")])
def test_answers_and_forms_are_accessible(chromium: Any, pages: Any, wide: int, light: str) -> None:
    context = chromium.new_context(
        viewport={"width": wide, "height": 780}, color_scheme=light, reduced_motion="reduce"
    )
    tab = context.new_page()
    found: dict[str, Any] = {}
    for address in ADDRESSES:
        tab.goto(pages.address + address)
        tab.evaluate(AXE.read_text(encoding="utf-8"))
        told = tab.evaluate(
            "(tags) => axe.run(document, { runOnly: tags, resultTypes: ['violations'],"
            " rules: { 'target-size':"
            " { enabled: true } } })",
            RULES,
        )
        faults = [(each["id"], each["nodes"][0]["html"][:120]) for each in told["violations"]]
        if tab.evaluate("document.documentElement.scrollWidth - innerWidth") > 0:
            faults.append(("wider than the screen", ""))
        if faults:
            found[address] = faults
    context.close()
    assert found == {}
