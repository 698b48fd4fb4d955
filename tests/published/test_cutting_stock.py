"""Bare wood against worked examples of cutting stock."""

from __future__ import annotations

import json
from collections import Counter
from itertools import product
from pathlib import Path

import pytest

from nejime.material.bare import BarePlan, Stick, bare_plan, patterns

HERE = Path(__file__).parents[2] / "authorities" / "cutting"
EXAMPLES = json.loads((HERE / "worked_examples.json").read_text("utf-8"))
KERF_MM = {"lumber_2x4": 25}


def example(name: str) -> BarePlan:
    told = EXAMPLES[name]
    sticks = [Stick(*each) for each in told["stock"]]
    return bare_plan(told["widths"], told["demand"], sticks, KERF_MM.get(name, 0))


@pytest.mark.parametrize(
    ("name", "price", "relaxed"),
    [
        pytest.param(
            "paper_5600", 73, 72.916667,
            marks=pytest.mark.source("wikipedia-cutting", "73 rolls; relaxed 72 11/12"),
        ),
        pytest.param(
            "chvatal_100", 453, 452.25, marks=pytest.mark.source("chvatal1983", "453; 452.25")
        ),
        pytest.param("ampl_110", 47, 46.25, marks=pytest.mark.source("fourer2003", "47; 46.25")),
        pytest.param(
            "gg_multi", 170, 170,
            marks=pytest.mark.source("mobook", "three stocks of 5, 6, 9 at 6, 7, 10: 170"),
        ),
        pytest.param("jump_100", 334, 334, marks=pytest.mark.source("mobook", "334")),
        pytest.param(
            "lumber_2x4", 3228, 3216.3333,
            marks=pytest.mark.source(
                "hand", "5 boards of 144 in and 2 of 168 in: 5 x 4.40 + 2 x 5.14 = 32.28"
            ),
        ),
    ],
)  # fmt: skip
def test_a_worked_example(name, price, relaxed):
    plan = example(name)
    assert plan.price == price
    assert plan.relaxed == pytest.approx(relaxed, abs=1e-4)
    assert plan.proven
    assert not any(plan.missing)


@pytest.mark.source("mobook", "it prints 32.44, the best over the patterns that it had made")
def test_the_printed_price_of_the_lumber_is_not_the_least():
    assert example("lumber_2x4").price < 3244


@pytest.mark.source("wikipedia-cutting", "308 patterns, 0.401 % waste on 73 rolls")
def test_the_patterns_and_the_waste_of_the_paper_machine():
    told = EXAMPLES["paper_5600"]
    every = set()
    for full in patterns(5600, told["widths"], told["demand"]):
        every |= set(product(*(range(count + 1) for count in full)))
    assert len(every) - 1 == 308
    asked = sum(w * n for w, n in zip(told["widths"], told["demand"], strict=True))
    assert 100 * (1 - asked / (73 * 5600)) == pytest.approx(0.401, abs=5e-4)


@pytest.mark.source("chvatal1983", "37 ways to cut something from 100 of 45, 36, 31 and 14")
def test_the_patterns_of_chvatals_example():
    told = EXAMPLES["chvatal_100"]
    every = set()
    for full in patterns(100, told["widths"], told["demand"]):
        every |= set(product(*(range(count + 1) for count in full)))
    assert len(every) - 1 == 37


@pytest.mark.source(
    "hand",
    "100 of 45, 36, 31, 14; rests 10, 5, 10, 13, 0, 2, 5, 8, 7, 10, 13, 2: all less than 14",
)
def test_the_full_patterns_of_chvatals_example():
    told = EXAMPLES["chvatal_100"]
    assert told["widths"] == [45, 36, 31, 14]
    assert sorted(patterns(100, told["widths"], told["demand"])) == sorted(
        [
            *((2, 0, 0, 0), (1, 1, 0, 1), (1, 0, 1, 1), (1, 0, 0, 3)),
            *((0, 2, 0, 2), (0, 1, 2, 0), (0, 1, 1, 2), (0, 1, 0, 4)),
            *((0, 0, 3, 0), (0, 0, 2, 2), (0, 0, 1, 4), (0, 0, 0, 7)),
        ]
    )


def packing(number: int) -> tuple[int, list[int]]:
    """A problem of the file: the capacity and the items."""
    words = (HERE / "binpack1.txt").read_text("ascii").split()
    at = 1
    for _ in range(number):
        at += 4 + int(words[at + 2])
    count = int(words[at + 2])
    return int(float(words[at + 1])), [int(each) for each in words[at + 4 : at + 4 + count]]


@pytest.mark.source("beasley1990", "u120_00, u120_07, u120_08, u120_19: 48, 49, 50, 49 bins")
@pytest.mark.parametrize(("number", "bins"), [(0, 48), (7, 49), (8, 50), (19, 49)])
def test_a_hundred_and_twenty_items(number, bins):
    capacity, items = packing(number)
    assert len(items) == 120
    counted = Counter(items)
    plan = bare_plan(list(counted), list(counted.values()), [Stick(capacity)])
    assert plan.price == bins
    assert plan.proven
