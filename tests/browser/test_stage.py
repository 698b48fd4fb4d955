"""The stage in a real browser: it shows, turns, stems are dragged, nothing is left over."""

import io
import math

import numpy as np
import pytest
from browser.loopback import served
from browser.pieces import PIECES
from PIL import Image

pytestmark = pytest.mark.needs("chromium")
SIZE = {"width": 640, "height": 480}


@pytest.fixture(scope="module")
def address():
    with served(PIECES) as found:
        yield found


@pytest.fixture(scope="module")
def browser(chromium):
    return chromium


@pytest.fixture
def page(browser, address):
    opened = browser.new_page(viewport=SIZE)
    opened.faults = []
    opened.on("pageerror", lambda fault: opened.faults.append(str(fault)))
    opened.on(
        "console", lambda said: opened.faults.append(said.text) if said.type == "error" else None
    )
    opened.address = address
    yield opened
    assert [each for each in opened.faults if "favicon" not in each and "404" not in each] == []
    opened.close()


def show(page, scene="spring", quality="low"):
    page.goto(f"{page.address}/?scene={scene}&quality={quality}")
    page.wait_for_selector("[data-shown]", timeout=60_000)
    return page


def pixels(page):
    """The stage's own picture, as numbers."""
    data = page.evaluate(
        "stage.picture().then((blob) => new Response(blob).arrayBuffer())"
        ".then((buffer) => [...new Uint8Array(buffer)])"
    )
    return np.asarray(Image.open(io.BytesIO(bytes(data))).convert("RGB"), dtype=int)


def difference(one, other):
    return float(np.abs(one - other).max(axis=2).__gt__(24).mean())


def pose(page, stem):
    return page.evaluate("(id) => stage.stems.get(id).pose", stem)


@pytest.mark.parametrize("quality", ["low", "full"])
@pytest.mark.parametrize("scene", ["spring", "vase"])
def test_a_piece_is_seen(page, scene, quality):
    show(page, scene, quality)
    piece = pixels(page)
    page.evaluate("stage.show({ ...wire, stems: [] })")
    assert difference(piece, pixels(page)) > 0.02


@pytest.mark.parametrize("size", [(1280, 800), (390, 700), (320, 568)])
def test_all_of_it_is_in_the_picture(page, size):
    page.set_viewport_size({"width": size[0], "height": size[1]})
    show(page)
    for view in ("front", "side", "plan", "teacher", "seat", "free"):
        page.evaluate("(name) => stage.view(name)", view)
        for x, y in page.evaluate(
            "stage.points.map(({x, y, z}) => Object.values(stage.project([x, y, z])))"
        ):
            assert -1 <= x <= size[0] + 1, view
            assert -1 <= y <= size[1] + 1, view


@pytest.mark.source(
    "hand", "front: x to the right, z up; plan: y (away) up; side, from the right: y"
)
def test_views_keep_to_the_house_frame(page):
    show(page)

    def at(view, point):
        found = page.evaluate(
            "([view, point]) => { stage.view(view); return stage.project(point); }", [view, point]
        )
        return found["x"], found["y"]

    middle, right, away, up = (0, 0, 5), (5, 0, 5), (0, 5, 5), (0, 0, 10)
    x, y = at("front", middle)
    assert at("front", right)[0] > x
    assert at("front", right)[1] == pytest.approx(y, abs=0.01)
    assert at("front", up)[1] < y
    assert at("front", away) == pytest.approx((x, y), abs=0.01)
    x, y = at("plan", middle)
    assert at("plan", right)[0] > x
    assert at("plan", away)[1] < y
    assert at("plan", up) == pytest.approx((x, y), abs=0.01)
    x, y = at("side", middle)
    assert at("side", away)[0] > x
    assert at("side", right) == pytest.approx((x, y), abs=0.01)
    assert at("teacher", right)[0] < at("teacher", middle)[0]


def drag(page, start, end):
    page.mouse.move(start["x"], start["y"])
    page.mouse.down()
    page.mouse.move((start["x"] + end["x"]) / 2, (start["y"] + end["y"]) / 2)
    page.mouse.move(end["x"], end["y"])


def handle(page, stem, part):
    return page.evaluate(
        "([id, part]) => stage.spots().find((each) => each.id === id && each.part === part).at",
        [stem, part],
    )


@pytest.mark.source("hand", "the pointer's place in space is seen where the pointer is")
def test_a_dragged_end_follows_the_pointer(page):
    show(page)
    page.evaluate("stage.view('front')")
    before = pose(page, "first")
    start = handle(page, "first", "end")
    aim = {"x": start["x"] + 70, "y": start["y"] + 40}
    drag(page, start, aim)
    page.evaluate("new Promise(requestAnimationFrame)")
    during = page.evaluate("told.drag.at(-1)")
    assert (during["id"], during["part"]) == ("first", "end")
    seen = page.evaluate("(point) => stage.project(point)", during["point"])
    assert (seen["x"], seen["y"]) == pytest.approx((aim["x"], aim["y"]), abs=0.5)
    page.mouse.up()
    assert page.evaluate("told.drop.at(-1)") == during
    after = pose(page, "first")
    assert after["foot"] == before["foot"]
    assert abs(after["tilt"] - before["tilt"]) > 3
    # The picture fits its subject anew, so the end is compared with where it was dropped.
    end = handle(page, "first", "end")
    dropped = page.evaluate("(point) => stage.project(point)", during["point"])
    assert (end["x"], end["y"]) == pytest.approx((dropped["x"], dropped["y"]), abs=1.0)


def test_in_plan_a_foot_stays_at_its_height(page):
    show(page)
    page.evaluate("stage.view('plan')")
    before = pose(page, "third")
    page.evaluate("stage.select('third')")
    start = handle(page, "third", "foot")
    drag(page, start, {"x": start["x"] + 25, "y": start["y"] - 18})
    page.mouse.up()
    point = page.evaluate("told.drop.at(-1)")["point"]
    assert point[2] == pytest.approx(before["foot"][2], abs=0.01)
    assert point[0] > before["foot"][0]
    assert point[1] > before["foot"][1]


def test_while_a_stem_is_dragged_the_rest_stands_still(page):
    show(page)
    start = handle(page, "first", "end")
    drag(page, start, {"x": start["x"] + 60, "y": start["y"] + 30})
    page.evaluate("new Promise(requestAnimationFrame)")
    calls = page.evaluate("stage.renderer.info.render.calls")
    page.mouse.up()
    page.evaluate("new Promise(requestAnimationFrame)")
    assert calls < page.evaluate("stage.renderer.info.render.calls") / 3
    assert page.evaluate("stage.vessel.visible && stage.room.table.visible")


def test_what_arrives_during_a_drag_waits_for_its_end(page):
    show(page)
    start = handle(page, "first", "end")
    drag(page, start, {"x": start["x"] + 40, "y": start["y"]})
    page.evaluate("stage.show({ ...wire, stems: wire.stems.slice(0, 3) })")
    assert page.evaluate("stage.stems.size") > 3
    page.mouse.up()
    assert page.evaluate("stage.stems.size") == 3


def test_a_click_on_a_stem_picks_it_and_on_nothing_picks_nothing(page):
    show(page)
    page.evaluate("stage.view('front')")
    foot, end = handle(page, "first", "foot"), handle(page, "first", "end")
    page.mouse.click(foot["x"] * 0.4 + end["x"] * 0.6, foot["y"] * 0.4 + end["y"] * 0.6)
    page.mouse.click(5, 5)
    assert page.evaluate("told.pick") == ["first", None]


def test_arrow_keys_turn_the_piece(page):
    show(page)
    page.focus("#stage")
    before = page.evaluate("[...stage.views.turn]")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowUp")
    after = page.evaluate("[...stage.views.turn]")
    assert after[0] != before[0]
    assert after[1] > before[1]


def test_handles_can_be_taken_with_a_finger(page):
    show(page)
    reach = page.evaluate(
        "(() => { stage.overlay.spots = stage.spots(); const end = stage.overlay.spots.find("
        "(each) => each.id === 'first' && each.part === 'end').at;"
        "return [stage.overlay.under(end.x + 12, end.y, true),"
        "stage.overlay.under(end.x + 60, end.y - 60, true)]"
        ".map((each) => each?.id ?? null); })()"
    )
    assert reach == ["first", None]  # 12 px either way: 24 px wide


def test_ghosts_are_drawn_where_they_belong(page):
    show(page)
    page.evaluate("stage.ghost([{ from: [0, 0, 2], to: [10, 0, 40] }])")
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    wanted = page.evaluate("stage.project([10, 0, 40])")
    line = page.locator(".stage-ghosts line")
    assert float(line.get_attribute("x2")) == pytest.approx(wanted["x"], abs=0.1)
    assert float(line.get_attribute("y2")) == pytest.approx(wanted["y"], abs=0.1)


def test_showing_again_and_again_leaves_nothing_behind(page):
    show(page)
    count = "[stage.renderer.info.memory.geometries, stage.scene.children.length]"
    page.evaluate(
        "stage.show({ ...wire, stems: wire.stems.slice(0, 2) }).then(() => stage.show(wire))"
    )
    before = page.evaluate(count)
    for _ in range(4):
        page.evaluate(
            "stage.show({ ...wire, stems: [], water_cm: 2 }).then(() => stage.show(wire))"
        )
    assert page.evaluate(count) == before


def test_nothing_is_drawn_while_nothing_changes(page):
    show(page)
    page.wait_for_timeout(900)  # the finer picture of a still piece has been drawn
    before = page.evaluate("stage.renderer.info.render.frame")
    page.wait_for_timeout(400)
    assert page.evaluate("stage.renderer.info.render.frame") == before


def test_quality_can_change_and_is_told(page):
    show(page)
    fine = pixels(page)
    page.evaluate("stage.setQuality('full')")
    assert page.evaluate("[stage.quality, told.quality]") == ["full", ["full"]]
    assert difference(fine, pixels(page)) < 0.25


def test_software_rendering_is_drawn_in_low_quality(page):
    show(page, quality="auto")
    name = page.evaluate(
        "(() => { const gl = stage.renderer.getContext(); const info = gl.getExtension("
        "'WEBGL_debug_renderer_info'); return gl.getParameter(info.UNMASKED_RENDERER_WEBGL); })()"
    )
    expected = "low" if "swiftshader" in name.lower() or "llvmpipe" in name.lower() else "full"
    assert page.evaluate("stage.quality") == expected


def test_a_stage_that_is_put_away_leaves_its_place_empty(page):
    show(page)
    page.evaluate("stage.dispose()")
    assert page.evaluate("document.getElementById('stage').children.length") == 0


def test_mirrored_plants_are_mirrored_on_the_screen(page):
    show(page)
    x = page.evaluate(
        "(() => { stage.view('front'); const stem = wire.stems[0];"
        "const look = (mirror) => {"
        "const pose = { ...stem.pose, foot: [0, 0, 2], tilt: 0, mirror };"
        "stage.move(stem.id, pose); const { group } = stage.stems.get(stem.id);"
        "return group.userData.points.map("
        "(point) => point.clone().applyMatrix4(group.matrix).x); };"
        "return [look(false), look(true)]; })()"
    )
    assert x[0] == pytest.approx([-each for each in x[1]], abs=1e-4)
    assert max(map(abs, x[0])) > 1
    assert not math.isclose(max(x[0]), -min(x[0]))
