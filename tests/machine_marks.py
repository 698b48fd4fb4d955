"""`@pytest.mark.needs("pdftoppm")`: skipped, and said so, where the machine lacks the program.

At the end the reasons are listed, each with its number of tests. Where NEJIME_SKIP_NOTHING is set,
on a machine that has everything, a skipped test is a failed one.
"""

from __future__ import annotations

import os
import shutil
from collections import Counter
from collections.abc import Generator
from typing import Any

import pytest

PROGRAMS = {  # what it is called, on one system or another
    "chromium": ("chromium", "chromium-browser"),
    "git": ("git",),
    "pdftoppm": ("pdftoppm",),
}


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "needs(program, ...): skipped where it is not installed")


def missing(program: str) -> bool:
    return not any(shutil.which(name) for name in PROGRAMS[program])


def pytest_runtest_setup(item: pytest.Item) -> None:
    needed = [program for mark in item.iter_markers("needs") for program in mark.args]
    for program in filter(missing, needed):
        pytest.skip(f"{program} is not installed on this machine")


def reason(report: Any) -> str:
    """What pytest keeps of a skip is (file, line, 'Skipped: reason')."""
    return str(report.longrepr[2]).removeprefix("Skipped: ")


def refuse(report: Any) -> None:
    """Make a failure of a skip, but not of an expected failure."""
    if report.skipped and not hasattr(report, "wasxfail") and os.getenv("NEJIME_SKIP_NOTHING"):
        report.outcome = "failed"
        report.longrepr = f"Skipped, though NEJIME_SKIP_NOTHING is set: {reason(report)}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, Any, Any]:
    report = yield
    refuse(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, Any, Any]:
    report = yield
    refuse(report)
    return report


def pytest_terminal_summary(terminalreporter: Any) -> None:
    reasons = Counter(map(reason, terminalreporter.getreports("skipped")))
    if reasons:
        terminalreporter.section("not tried on this machine")
        for why, count in sorted(reasons.items()):
            terminalreporter.write_line(f"{count} of the tests: {why}")
