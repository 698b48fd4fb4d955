"""A branch is given its side shoots by pressing on a line; field and picture say the same."""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter

from nejime.reading.tables import Shoots

pytestmark = pytest.mark.needs("chromium")
ROOT = Path(__file__).parent.parent.parent
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SLANT = 4  # px by which the slanting cut reaches beyond the cut end


def open_form(tab: Any, pages: Any, length: str = "100") -> Any:
    tab.goto(f"{pages.address}/places/garden/new")
    tab.locator("summary", has_text="Side shoots").click()
    tab.get_by_label("Length", exact=True).fill(length)
    stage = tab.get_by_role("application")
    stage.wait_for()
    return stage


def at(tab: Any, where: float, far: float, length: float = 100) -> dict[str, float]:
    """The point of the picture at a place of the branch, so far above the line."""
    told = tab.evaluate(
        "() => { const sheet = document.querySelector('.shoots-sheet').getBoundingClientRect();"
        " const line = document.querySelector('.shoots-branch').getBoundingClientRect();"
        " return { from: line.left - sheet.left, to: line.right - sheet.left,"
        " foot: (line.top + line.bottom) / 2 - sheet.top }; }"
    )
    start = told["from"] + SLANT
    scale = (told["to"] - start) / length
    return {"x": start + where * scale, "y": told["foot"] - far * scale}


def field(tab: Any) -> str:
    return str(tab.get_by_label("Side shoots", exact=True).input_value())


def drawn(tab: Any) -> list[str]:
    """The lengths that stand over the ends of the shoots, from the cut end."""
    told = tab.locator(".shoots-end + .shoots-number").all_text_contents()
    return [str(each) for each in told]


def press(tab: Any, stage: Any, where: float, far: float) -> None:
    stage.click(position=at(tab, where, far))


@pytest.mark.source("hand", "pressed at 30 cm and 20 cm above the line: 20 at 30")
def test_two_presses_set_a_shoot_and_a_third_takes_it_away(tab: Any, pages: Any) -> None:
    stage = open_form(tab, pages)
    press(tab, stage, 30, 0)
    tab.get_by_text("A shoot leaves at 30 cm.").wait_for()
    press(tab, stage, 30, 20)
    assert field(tab) == "20 at 30"
    press(tab, stage, 60, 0)
    press(tab, stage, 64, 12)  # its length is the distance from the line
    assert field(tab) == "20 at 30, 12 at 60"
    assert drawn(tab) == ["20", "12"]
    press(tab, stage, 30, 10)
    assert field(tab) == "12 at 60"
    tab.get_by_text("Taken away: the shoot at 30 cm.").wait_for()
    press(tab, stage, 45, 0)
    press(tab, stage, 45, 0)  # on the line again: nothing is set
    assert field(tab) == "12 at 60"


def test_what_is_typed_is_drawn_and_keeps_its_own_words(tab: Any, pages: Any) -> None:
    stage = open_form(tab, pages)
    typed = tab.get_by_label("Side shoots", exact=True)
    typed.fill("10 in at 12 in, 18,5 at 52")
    assert drawn(tab) == ["25.4", "18.5"]
    press(tab, stage, 80, 0)
    press(tab, stage, 80, 5)
    assert field(tab) == "10 in at 12 in, 18,5 at 52, 5 at 80"
    for unread in ("a few", "25 at 100", "25 at"):
        typed.fill(unread)
        assert not stage.is_visible()
        assert field(tab) == unread
    typed.fill("")
    assert stage.is_visible()
    assert drawn(tab) == []
    tab.get_by_label("Length", exact=True).fill("")
    assert not stage.is_visible()


@pytest.mark.source("hand", "the script reads what the field's own reader reads, in centimetres")
def test_picture_and_reader_understand_the_same(tab: Any, pages: Any) -> None:
    open_form(tab, pages)
    typed = tab.get_by_label("Side shoots", exact=True)
    for text in (
        "25 at 30,18 at 52",
        "25,5 at 30,5; 3 AT 7",
        "5 1/2 in at 12 in",
        '1/2 ft at 10 1/4"',
        "250mm at 0.3 m",
        "12½ in at 3",
        "25at30",
    ):
        typed.fill(text)
        read = TypeAdapter(Shoots).validate_python(text)
        told = [float(each) for each in drawn(tab)]
        assert sorted(told) == pytest.approx(sorted(each.length_cm for each in read), abs=0.006)


def test_with_keys_alone(tab: Any, pages: Any) -> None:
    stage = open_form(tab, pages)
    stage.focus()
    for key in [*["Shift+ArrowRight"] * 6, "ArrowRight", "Enter", *["ArrowUp"] * 4, "Enter"]:
        stage.press(key)
    assert field(tab) == "4 at 31"
    for key in ["Enter", "ArrowUp", "Escape"]:
        stage.press(key)
    assert field(tab) == "4 at 31"
    stage.press("ArrowLeft")
    stage.press("Delete")
    assert field(tab) == "4 at 31"  # nothing leaves there
    stage.press("ArrowRight")
    tab.get_by_text("A shoot of 4 cm at 31 cm.").wait_for()
    stage.press("Delete")
    assert field(tab) == ""


def test_at_the_width_of_a_telephone_by_touch(chromium: Any, pages: Any, axe: str) -> None:
    for light in ("light", "dark"):
        context = chromium.new_context(
            viewport={"width": 390, "height": 780}, has_touch=True, color_scheme=light
        )
        tab = context.new_page()
        stage = open_form(tab, pages)
        stage.tap(position=at(tab, 40, 0))
        stage.tap(position=at(tab, 40, 30))
        assert field(tab) == "30 at 40"
        assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")
        tab.evaluate(axe)
        asked = {
            "runOnly": RULES,
            "resultTypes": ["violations"],
            "rules": {"target-size": {"enabled": True}},
        }
        answer = tab.evaluate("(asked) => axe.run(document, asked)", asked)
        assert [each["id"] for each in answer["violations"]] == []
        context.close()


def test_it_is_kept_and_drawn_again_and_in_a_class_too(tab: Any, pages: Any) -> None:
    stage = open_form(tab, pages)
    tab.get_by_label("Plant").fill("forsythia")
    press(tab, stage, 30, 0)
    press(tab, stage, 30, 20)
    tab.get_by_role("button", name="Keep it").click()
    tab.get_by_text("Side shoots: 20 cm at 30 cm").wait_for()
    tab.get_by_role("link", name="Forsythia").click()
    assert drawn(tab) == ["20"]
    tab.goto(f"{pages.address}/classes")
    tab.get_by_role("button", name="Plan a new class").click()
    tab.get_by_role("link", name="Shops and garden").click()
    place = tab.locator("[id='garden[1]']")
    place.locator("summary", has_text="Side shoots").click()
    assert place.locator(".shoots-end").count() == 1


def test_without_scripts_there_is_the_field(chromium: Any, pages: Any) -> None:
    context = chromium.new_context(java_script_enabled=False)
    tab = context.new_page()
    tab.goto(f"{pages.address}/places/garden/new")
    tab.locator("summary", has_text="Side shoots").click()
    assert tab.get_by_label("Side shoots", exact=True).is_visible()
    assert tab.locator(".shoots-stage").count() == 0
    context.close()


@pytest.fixture(scope="module")
def axe() -> str:
    fetch: Any = runpy.run_path(str(ROOT / "hatch_build.py"))["fetch_for_tests"]
    return str((fetch(ROOT) / "axe.min.js").read_text(encoding="utf-8"))
