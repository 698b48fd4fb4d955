"""Make the README's first picture: a good arrangement, as the arranging table shows it.

Run: python workings/table_picture.py (it needs chromium and playwright)

One branch, three flowers, three leaves, open water, the pin holder hidden; nothing is found in it
that should be changed, or no picture is made.
"""

from __future__ import annotations

import base64
import shutil
import socket
import sys
import tempfile
import threading
import time
from pathlib import Path

import uvicorn
from playwright.sync_api import sync_playwright

from nejime.basis.sayings import Words
from nejime.desk.arrange import Json, changed, glance, on_table
from nejime.desk.shelf import open_shelf
from nejime.desk.suggest import settled
from nejime.web.app import application

PICTURE = Path(__file__).parent.parent / "docs" / "pictures" / "arrangement.jpg"
SIZE = {"width": 1500, "height": 1000}
STAGE = {"width": 1400, "height": 900}
BRANCH, FLOWER, LEAF = "flowering-quince", "tulip", "aspidistra"


def arrangement(seed: int) -> Json:
    """A quince branch, three tulips and three aspidistra leaves in a wide pale dish."""
    stems: list[Json] = [
        {"id": "first", "role": "main", "plant": BRANCH, "seed": seed},
        {"id": "second", "role": "main", "plant": FLOWER, "seed": seed + 1, "stage": 0.4},
        {"id": "third", "role": "main", "plant": FLOWER, "seed": seed + 2},
        {"id": "heart-1", "role": "heart", "plant": FLOWER, "seed": seed + 3},
        *({"id": f"leaf-{n}", "role": "leaf", "plant": LEAF, "seed": seed + n} for n in (1, 2, 3)),
    ]
    tree: Json = {
        "vessel": {"shape": "round", "width": 36, "height": 6},
        "glaze": "celadon",
        "form": "upright",
        "stems": stems,
    }
    tree = changed(tree, {"act": "stem", "id": "second", "length": 30.0})
    return settled(tree)


def main(seed: int) -> None:
    """Arrange, look, take the picture."""
    tree = arrangement(seed)
    seen = glance(on_table(tree), Words())
    if seen["findings"] or seen["standing"]["word"] != "stands":
        raise SystemExit(f"not good enough: {seen['findings']}, {seen['standing']}")
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    with tempfile.TemporaryDirectory() as folder, open_shelf(Path(folder)) as shelf:
        piece = shelf.add("piece", "Early spring", tree)
        server = uvicorn.Server(uvicorn.Config(application(shelf), log_level="error", ws="none"))
        thread = threading.Thread(target=server.run, args=([listening],))
        thread.start()
        while not server.started:
            time.sleep(0.05)
        try:
            take(f"http://127.0.0.1:{listening.getsockname()[1]}/table/{piece.id}")
        finally:
            server.should_exit = True
            thread.join()


def take(address: str) -> None:
    """The stage alone, in full quality."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        tab = browser.new_page(viewport=SIZE)
        tab.goto(address)
        tab.wait_for_selector("body[data-ready=yes]", timeout=60_000)
        data = tab.evaluate(
            """async ([wide, high]) => {
              const { createStage } = await import("/static/stage.js");
              const state = JSON.parse(document.getElementById("state").textContent);
              document.body.replaceChildren();
              const host = document.createElement("div");
              document.body.append(host);
              Object.assign(host.style, { width: wide + "px", height: high + "px" });
              const lookUrl = (key) => `/table/look/${key}`;
              const stage = createStage(host, { quality: "full", lookUrl });
              await stage.show(state.wire);
              stage.view("free");
              await new Promise((done) => setTimeout(done, 4000));
              const drawn = await createImageBitmap(await stage.picture());
              const sheet = document.createElement("canvas");
              [sheet.width, sheet.height] = [wide, high];
              const pen = sheet.getContext("2d");
              pen.imageSmoothingQuality = "high";
              pen.drawImage(drawn, 0, 0, wide, high);
              return sheet.toDataURL("image/jpeg", 0.9).split(",")[1];
            }""",
            [STAGE["width"], STAGE["height"]],
        )
        browser.close()
    PICTURE.write_bytes(base64.b64decode(data))
    print(f"Written: {PICTURE.name}, {PICTURE.stat().st_size // 1000} kB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 11)
