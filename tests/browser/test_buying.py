"""Buying in a real browser: reasons that come by themselves, and a morning on a phone."""

from __future__ import annotations

import re
from typing import Any

import pytest

pytestmark = pytest.mark.needs("chromium")


def test_the_plan_comes_by_itself_and_so_do_its_reasons(tab: Any, demo: Any) -> None:
    (lesson,) = demo.shelf.all("class")[:1]
    tab.goto(f"{demo.address}/classes/{lesson.id}")
    tab.get_by_role("link", name="Buy and cut").first.click()
    tab.get_by_text("No other way of buying costs less.").wait_for()
    tab.get_by_text("Dearest of your wishes").wait_for()
    tab.get_by_text("Branch by branch").first.click()
    assert tab.get_by_role("columnheader", name="Which part").is_visible()
    sheet = tab.get_by_role("link", name="List for the shops")
    pdf = tab.request.get(demo.address + sheet.get_attribute("href"))
    assert pdf.body().startswith(b"%PDF")


def test_a_morning_on_a_phone(tab: Any, demo: Any) -> None:
    tab.set_viewport_size({"width": 390, "height": 844})
    (lesson,) = demo.shelf.all("class")[:1]
    tab.goto(f"{demo.address}/classes/{lesson.id}/buying")
    tab.get_by_role("button", name="I bought it so").click()
    pile = tab.get_by_role("group", name=re.compile("Tulip")).first
    pile.get_by_label("There are").fill("a few")
    tab.get_by_role("button", name="Hand out anew").click()
    tab.get_by_text("“a few” is not a whole number.").first.wait_for()
    pile = tab.get_by_role("group", name=re.compile("Tulip")).first
    assert pile.get_by_label("There are").input_value() == "a few"
    pile.get_by_label("There are").fill("0")
    tab.get_by_role("button", name="Hand out anew").click()
    tab.get_by_role("heading", name="What changes").wait_for()
    again = tab.get_by_role("link", name=re.compile("^Print anew"))
    pdf = tab.request.get(demo.address + again.get_attribute("href"))
    assert pdf.body().startswith(b"%PDF")
    assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")
