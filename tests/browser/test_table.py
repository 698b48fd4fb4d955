"""The arranging table as a teacher uses it: by hand, by key, on a phone, twice at once."""

from __future__ import annotations

import re
import warnings
from typing import Any

import pytest

with warnings.catch_warnings():  # of a library below it
    warnings.simplefilter("ignore")
    from playwright.sync_api import expect

pytestmark = pytest.mark.needs("chromium")
READY = "body[data-ready=yes]"
LONG_MS = 60_000  # a first picture, drawn without a graphics card on a busy machine


def begin(tab: Any, address: str) -> str:
    """A newcomer's way to a first piece: three choices."""
    tab.goto(f"{address}/table/new")
    tab.select_option("#line", "forsythia")
    tab.select_option("#heart", "tulip")
    tab.select_option("#leaf", "aspidistra")
    tab.get_by_role("button", name="To the arranging table").click()
    tab.wait_for_selector(READY, timeout=LONG_MS)
    return str(tab.url)


def kept(tab: Any) -> None:
    expect(tab.locator("#kept")).to_have_text("Kept.", timeout=LONG_MS)


def numbers(tab: Any, stem: str) -> str:
    return str(tab.inner_text(f'.stem[data-id="{stem}"] .stem-numbers'))


def open_stem(tab: Any, stem: str) -> None:
    tab.click(f'.stem[data-id="{stem}"] .stem-line')


def test_a_newcomer_comes_to_a_printed_handout(tab: Any, pages: Any) -> None:
    tab.goto(pages.address)
    tab.get_by_role("link", name="Arranging table").first.click()
    begin(tab, pages.address)
    assert tab.inner_text("#word") == "stands"
    link = tab.get_by_role("link", name="Handout")
    answer = tab.request.get(f"{pages.address}{link.get_attribute('href')}")
    assert answer.body().startswith(b"%PDF")


def test_a_stem_is_dragged_and_is_there_after_a_reload(tab: Any, pages: Any) -> None:
    begin(tab, pages.address)
    before = numbers(tab, "first")
    mark = tab.locator(".mark").first.bounding_box()
    x, y = mark["x"] + mark["width"] / 2, mark["y"] + mark["height"] + 11
    tab.mouse.move(x, y)
    tab.mouse.down()
    for step in range(1, 9):
        tab.mouse.move(x - 9 * step, y + 2 * step)
    tab.mouse.up()
    kept(tab)
    expect(tab.locator("#back")).to_be_enabled(timeout=LONG_MS)
    after = numbers(tab, "first")
    assert after != before
    tab.reload()
    tab.wait_for_selector(READY, timeout=LONG_MS)
    assert numbers(tab, "first") == after
    tab.click("#back")
    expect(tab.locator(".stem .stem-numbers").first).to_have_text(before, timeout=LONG_MS)


def test_everything_can_be_done_by_key(tab: Any, pages: Any) -> None:
    begin(tab, pages.address)
    tab.focus("#stage")
    tab.keyboard.press("n")
    before = numbers(tab, "first")
    tab.keyboard.press("ArrowDown")
    kept(tab)
    expect(tab.locator("#back")).to_be_enabled(timeout=LONG_MS)
    assert numbers(tab, "first") != before
    tab.focus('.stem[data-id="second"] .stem-line')
    tab.keyboard.press("Enter")
    field = tab.locator('.stem[data-id="second"] [data-field="length"]')
    field.fill("33 cm")
    field.press("Tab")
    told = tab.locator('.stem[data-id="second"] .stem-numbers')
    expect(told).to_have_text(re.compile("33 cm"), timeout=LONG_MS)


def test_what_is_wrong_stands_beside_its_field_and_stays_typed(tab: Any, pages: Any) -> None:
    begin(tab, pages.address)
    open_stem(tab, "third")
    field = tab.locator('.stem[data-id="third"] [data-field="length"]')
    field.fill("rather long")
    field.press("Tab")
    fault = tab.locator('.stem[data-id="third"] .fault')
    fault.wait_for(state="visible", timeout=LONG_MS)
    assert "rather long" in fault.inner_text()
    assert field.input_value() == "rather long"


def test_two_tabs_see_both(tab: Any, pages: Any) -> None:
    address = begin(tab, pages.address)
    other = tab.context.new_page()
    other.goto(address)
    other.wait_for_selector(READY, timeout=LONG_MS)
    for each, stem, by in ((other, "first", "1"), (tab, "second", "-1")):
        open_stem(each, stem)
        each.click(f'.stem[data-id="{stem}"] [data-step="length"][data-by="{by}"]')
        if each is other:
            kept(other)
            expect(other.locator("#back")).to_be_enabled(timeout=LONG_MS)
    tab.wait_for_selector("#conflict", state="visible", timeout=LONG_MS)
    tab.click("#mine")
    kept(tab)
    assert "40 cm" in numbers(tab, "second")  # 40.5 less 1, to the whole centimetre
    other.close()


def test_on_a_phone_nothing_is_wider_than_the_screen(tab: Any, pages: Any) -> None:
    tab.set_viewport_size({"width": 390, "height": 780})
    begin(tab, pages.address)
    assert tab.evaluate("document.documentElement.scrollWidth") <= 390
    tab.click("[data-view=plan]")
    assert tab.get_attribute("[data-view=plan]", "aria-pressed") == "true"


def test_where_the_next_stems_could_go(tab: Any, pages: Any) -> None:
    begin(tab, pages.address)
    tab.click("#suggest")
    tab.wait_for_selector("#suggested li .row", timeout=LONG_MS)
    tab.locator("#suggested li").first.get_by_role("button", name="Take this").click()
    tab.wait_for_selector('.stem[data-role="helper"]', timeout=LONG_MS)
    kept(tab)
