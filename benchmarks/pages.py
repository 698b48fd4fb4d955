"""How fast the arranging table answers, measured beside the target.

Run: python benchmarks/pages.py

A drag step on the server: 15 stems and 7 leaves, one stem changed, with the word of standing while
stems are rigid, what is found in the composition, and the picture as numbers; 60 steps, each with
another lean. The same through the whole application, as a browser asks it. Starting: from the
command to the first answer, and in a browser to usable fields and the first picture in space.
"""

from __future__ import annotations

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from typing import Any

from nejime.basis.sayings import Words
from nejime.desk.arrange import Json, after, changed, glance
from nejime.desk.shelf import open_shelf
from nejime.web.app import application

STEPS = 60
WAIT_S = 30.0
STEMS = (("helper", 9, "forsythia"), ("heart", 3, "tulip"), ("leaf", 7, "aspidistra"))
MAINS = [
    {"id": each, "role": "main", "plant": "forsythia"} for each in ("first", "second", "third")
]


def piece() -> Json:
    """Fifteen stems and seven leaves in an ordinary dish."""
    tree: Json = {"vessel": {"shape": "round", "width": 30, "height": 6}, "stems": MAINS}
    for role, count, plant in STEMS:
        for _ in range(count):
            tree = changed(tree, {"act": "add", "role": role, "plant": plant})
    return tree


def timed(act: Any) -> list[float]:
    """Milliseconds of each step."""
    found = []
    for step in range(STEPS + 5):
        began = time.perf_counter()
        act({"act": "stem", "id": "sub-1", "lean": 10.0 + step % 40})
        found.append((time.perf_counter() - began) * 1000)
    return sorted(found[5:])


def told(name: str, found: list[float], target: str) -> None:
    """One line: median, the slowest twentieth, the target."""
    late = found[int(0.95 * len(found))]
    line(name, f"{statistics.median(found):.1f} ms, p95 {late:.1f} ms", target)


def line(name: str, measured: str, target: str) -> None:
    """What was measured beside its target."""
    print(f"{name:44} {measured:26} target {target}")


def steps() -> None:
    """A drag step, alone and through the application."""
    from starlette.testclient import TestClient

    tree, words = piece(), Words()
    told("drag step, 15 stems and 7 leaves", timed(lambda c: glance(after(tree, c), words)), "6 ms")
    with tempfile.TemporaryDirectory() as folder, open_shelf(Path(folder)) as shelf:
        client = TestClient(application(shelf))
        asked = timed(lambda c: client.post("/table/try", json={"tree": tree, "change": c}))
        told("the same, asked and answered", asked, "-")


def starting() -> None:
    """From the command to the first answer, to usable fields, to the first picture."""
    with tempfile.TemporaryDirectory() as folder:
        words = ["open", "--no-browser", "--port", "8791", "--keep-in", folder]
        first_answer(words, "first start, the invented class laid out")
        process = first_answer(words, "command to first answer", stop=False)
        try:
            seen("http://127.0.0.1:8791")
        finally:
            process.terminate()
            process.wait(10)


def first_answer(words: list[str], name: str, *, stop: bool = True) -> Any:
    """Starts the command, and says when it answers."""
    began = time.perf_counter()
    process = subprocess.Popen([sys.executable, "-m", "nejime", *words], stdout=subprocess.DEVNULL)
    while time.perf_counter() - began < WAIT_S:
        try:
            urllib.request.urlopen("http://127.0.0.1:8791/settings", timeout=1).read()
            break
        except OSError:
            time.sleep(0.02)
    line(name, f"{time.perf_counter() - began:.2f} s", "1.2 s")
    if stop:
        process.terminate()
        process.wait(10)
    return process


def seen(address: str) -> None:
    """What a browser without a graphics card sees, and when."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        print("no chromium: nothing is measured in a browser")
        return
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        tab = browser.new_page(viewport={"width": 1280, "height": 860})
        bytes_sent: list[int] = []
        tab.on("response", lambda each: bytes_sent.append(_size(each)))
        tab.goto(f"{address}/table")
        link = tab.locator(".pieces a.picture").first.get_attribute("href")
        bytes_sent.clear()
        began = time.perf_counter()
        tab.goto(address + str(link), wait_until="commit")
        tab.wait_for_selector(".stem-line", timeout=60_000)
        line("usable fields", f"{time.perf_counter() - began:.2f} s", "2 s")
        tab.wait_for_selector("body[data-ready=yes]", timeout=60_000)
        line("first picture in space", f"{time.perf_counter() - began:.2f} s", "4 s")
        tab.wait_for_timeout(500)
        line("transferred, without fonts", f"{sum(bytes_sent) / 1e6:.2f} MB", "1 MB")
        line("dragging: one frame, low quality", f"{tab.evaluate(FRAMES):.1f} ms", "25 ms")
        browser.close()


FRAMES = """async () => {
  const { createStage } = await import("/static/stage.js");
  const { wire } = JSON.parse(document.getElementById("state").textContent);
  const host = document.createElement("div");
  document.body.append(host);
  Object.assign(host.style, { width: "900px", height: "600px" });
  const stage = createStage(host, { quality: "low", lookUrl: (key) => `/table/look/${key}` });
  await stage.show(wire);
  stage.view("front");
  await new Promise((done) => setTimeout(done, 1500));
  const { id, pose } = wire.stems[0];
  stage.dragging = { id, part: "end", still: false };
  stage.freeze(id);
  const gl = stage.renderer.getContext();
  const pixel = new Uint8Array(4);
  const times = [];
  for (let step = 0; step < 40; step++) {
    const began = performance.now();
    stage.move(id, { ...pose, tilt: pose.tilt + step * 0.5 });
    stage.draw();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    times.push(performance.now() - began);
  }
  times.sort((a, b) => a - b);
  return times[20];
}"""


def _size(answer: Any) -> int:
    """Bytes of an answer as it was sent; nothing for fonts."""
    if ".woff2" in answer.url:
        return 0
    try:
        return int(answer.request.sizes()["responseBodySize"])
    except Exception:
        return 0


if __name__ == "__main__":
    steps()
    starting()
