"""`@pytest.mark.source("key", "place; calculation")`: where a test's expected values come from.

The key is one of `src/nejime/data/sources.toml`; the second word gives page and table, or shows the
calculation. A test in a folder named `published` must have such a mark. Faults stop the collection,
all of them named at once.
"""

from __future__ import annotations

import pytest

from nejime.basis.sources import sources

MUST_BE_MARKED = "published"


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "source(key, place): where the expected values come from")


def faults_of(item: pytest.Item) -> list[str]:
    marks = list(item.iter_markers("source"))
    faults = [
        f"{item.nodeid}: no source {mark.args[0]!r} in sources.toml"
        for mark in marks
        if mark.args and mark.args[0] not in sources()
    ]
    faults += [
        f"{item.nodeid}: a source mark has a key and a place, both text"
        for mark in marks
        if len(mark.args) != 2 or mark.kwargs or not all(isinstance(x, str) for x in mark.args)
    ]
    if MUST_BE_MARKED in item.path.parts and not marks:
        faults.append(f"{item.nodeid}: a test against a published source names it in a mark")
    return faults


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    faults = [fault for item in items for fault in faults_of(item)]
    if faults:
        raise pytest.UsageError("\n".join(faults))
