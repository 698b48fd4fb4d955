"""A photograph is marked: by finger at a telephone's width from start to advice, and by keys."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from nejime.desk.shelf import Shelf

pytestmark = pytest.mark.needs("chromium")
SCENES = Path(__file__).parent.parent.parent / "authorities" / "photo"
CASE = json.loads((SCENES / "c04_round_card_twoviews.json").read_text())
STEMS = ("first", "second", "third")
TALL = 780
ANSWER_MS = 20_000


def picture(view: int) -> Path:
    return SCENES / str(CASE["views"][view]["file"])


def around(view: int) -> list[Any]:
    """Eight points of a rendered rim in the order of the page: left, right, then round it."""
    rim = CASE["views"][view]["rim_px"]
    count, left = len(rim), rim.index(min(rim))
    round_it = [rim[(left + step * count // 8) % count] for step in (1, 2, 3, 5, 6, 7)]
    return [min(rim), max(rim), *round_it]


def ends(view: int) -> list[Any]:
    told = CASE["views"][view]
    return [each for pair in zip(told["tip_px"], told["base_px"], strict=True) for each in pair]


def spot(tab: Any, point: Any) -> list[float]:
    """Where a point of the picture is in the window, scrolled to where a thumb reaches."""
    place = """([x, y]) => {
        const seen = document.getElementById('sheet').getScreenCTM();
        return [seen.a * x + seen.e, seen.d * y + seen.f];
    }"""
    found: list[float] = tab.evaluate(place, point)
    if not 90 < found[1] < TALL - 40:
        tab.evaluate("(by) => scrollBy(0, by)", found[1] - TALL / 2)
        found = tab.evaluate(place, point)
    return found


def begin(tab: Any, pages: Any) -> None:
    tab.goto(f"{pages.address}/made/new")
    tab.get_by_label("Across the rim").fill("28")
    tab.get_by_label("Height").fill("6.5")
    tab.get_by_role("button", name="Go on to the picture").click()
    tab.locator("body[data-ready=yes]").wait_for()


def kept(shelf: Shelf) -> dict[str, Any]:
    (made,) = shelf.all("made")
    return made.content


@pytest.mark.source("hand", "eight marks on the rim, an end and a foot of three stems: 14 touches")
def test_a_finger_marks_two_pictures_and_reads_advice(chromium: Any, pages: Any) -> None:
    context = chromium.new_context(
        viewport={"width": 390, "height": TALL}, has_touch=True, is_mobile=True
    )
    tab = context.new_page()
    faults: list[str] = []
    tab.on("pageerror", lambda fault: faults.append(str(fault)))
    begin(tab, pages)
    for view in (0, 1):
        tab.locator("#file").set_input_files(picture(view))
        tab.get_by_role("button", name="Leave it whole").tap()
        for point in (*around(view), *ends(view)):
            tab.touchscreen.tap(*spot(tab, point))
        tab.get_by_text("All is marked.").wait_for()
        if view == 0:
            tab.locator("#to-side").tap()
    tab.locator("#number-table.in-space").wait_for(timeout=ANSWER_MS)
    tab.locator("#kept", has_text="Every mark is kept.").wait_for()
    for view, marked in enumerate(kept(pages.shelf)["views"]):
        assert len(marked["rim"]) == 8
        for stem, tip in zip(marked["stems"], CASE["views"][view]["tip_px"], strict=True):
            assert stem["tip"] == pytest.approx(tip, abs=4)
    rows = tab.locator("#rows tr").all_text_contents()
    assert [row.count("±") for row in rows] == [3, 3, 3]
    assert tab.locator("#good li").count() >= 1
    tab.reload()
    tab.get_by_text("All is marked.").wait_for()
    assert tab.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    context.close()
    assert faults == []


def test_keys_alone_set_move_and_take_away_marks(tab: Any, pages: Any) -> None:
    begin(tab, pages)
    tab.locator("#file").set_input_files(picture(0))
    leave = tab.get_by_role("button", name="Leave it whole")
    leave.focus()
    leave.press("Enter")
    stage = tab.get_by_role("application", name="The picture")
    for key in ["ArrowLeft"] * 3 + ["Enter"] + ["ArrowRight"] * 6 + ["Enter"]:
        stage.press(key)
    tab.get_by_text("point 3 of 8").wait_for()
    tab.locator("#kept", has_text="Every mark is kept.").wait_for()
    left, right = kept(pages.shelf)["views"][0]["rim"]
    assert right[0] - left[0] == pytest.approx(6 * 1600 / 40, abs=0.2)
    for key in ("PageDown", "ArrowUp", "ArrowUp", "Shift+ArrowRight"):
        stage.press(key)
    tab.locator("#back:not([disabled])").wait_for()
    tab.wait_for_timeout(400)
    moved = kept(pages.shelf)["views"][0]["rim"][0]
    assert moved == pytest.approx([left[0] + 10, left[1] - 2], abs=0.2)
    stage.press("Delete")
    tab.get_by_text("Touch the right end of the rim").wait_for()
    tab.get_by_role("button", name="Undo").press("Enter")
    tab.get_by_text("point 3 of 8").wait_for()


def test_marks_that_could_not_be_sent_are_sent_again(chromium: Any, pages: Any) -> None:
    context = chromium.new_context(viewport={"width": 1280, "height": 860})
    tab = context.new_page()
    begin(tab, pages)
    tab.locator("#file").set_input_files(picture(0))
    tab.get_by_role("button", name="Leave it whole").click()
    tab.route("**/keep", lambda route: route.abort())
    tab.mouse.click(*spot(tab, around(0)[0]))
    tab.get_by_text("The program does not answer.").wait_for()
    assert kept(pages.shelf)["views"][0]["rim"] == []
    tab.unroute("**/keep")
    tab.locator("#kept", has_text="Every mark is kept.").wait_for()
    assert len(kept(pages.shelf)["views"][0]["rim"]) == 1
    context.close()


def test_a_wrong_mark_is_taken_hold_of_while_the_next_is_asked_for(tab: Any, pages: Any) -> None:
    begin(tab, pages)
    tab.locator("#file").set_input_files(picture(0))
    tab.get_by_role("button", name="Leave it whole").click()
    right = around(0)
    wrong = [*right[:4], [right[4][0] - 40, right[4][1] - 30], *right[5:]]
    for point in wrong:
        tab.mouse.click(*spot(tab, point))
    tab.get_by_text("Point 5 on the rim, ringed in the picture").wait_for()
    tab.get_by_text("Touch the end of the first stem").wait_for()
    tab.mouse.move(*spot(tab, wrong[4]))
    tab.mouse.down()
    tab.mouse.move(*spot(tab, right[4]), steps=4)
    tab.mouse.up()
    tab.locator("#rim-says li").wait_for(state="detached")
    rim = kept(pages.shelf)["views"][0]["rim"]
    assert rim[4] == pytest.approx(right[4], abs=4)
    assert kept(pages.shelf)["views"][0]["stems"] == []


def test_labels_cover_no_other_label(tab: Any, pages: Any) -> None:
    begin(tab, pages)
    tab.locator("#file").set_input_files(picture(0))
    tab.get_by_role("button", name="Leave it whole").click()
    tips = [[700, 500], [708, 506], [704, 512]]  # three ends that lie beside one another
    for point in around(0):
        tab.mouse.click(*spot(tab, point))
    for point in tips:
        tab.mouse.click(*spot(tab, point))
        tab.locator("#leave-out").click()
    tab.locator("#kept", has_text="Every mark is kept.").wait_for()
    tab.locator("#answered:not([hidden]):not(.is-old)").wait_for(timeout=ANSWER_MS)
    tab.wait_for_function("document.querySelectorAll('#sheet text').length === 3")
    over = """() => [...document.querySelectorAll('#sheet text')]
        .map((each) => each.getBoundingClientRect())
        .some((one, n, all) => all.slice(n + 1).some((other) =>
            one.left < other.right && other.left < one.right
            && one.top + 3 < other.bottom && other.top + 3 < one.bottom))"""
    assert tab.evaluate(over) is False
