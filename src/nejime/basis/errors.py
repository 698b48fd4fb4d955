"""What is said when something cannot be answered.

*Cannot answer* is an exception that holds every fault at once; *the answer is no* is an ordinary
result and has no place here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from nejime.basis.sayings import Saying


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong: where, what, and what to do.

    `field` is the place as the person knows it: `people[3].vessel.width`, a form's field name, or
    empty for the whole. `line` is the line of the file, where it is known.
    """

    field: str
    says: Saying
    try_instead: Saying | None = None
    line: int | None = None


class InputError(Exception):
    """A question that cannot be answered as it was put; it holds every fault found."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(f"{fault.field}: {fault.says.key}" for fault in self.faults))


def refuse(field: str, key: str, try_key: str | None = None, **quantities: object) -> InputError:
    """An `InputError` of a single fault, both sayings given the same quantities."""
    remedy = Saying(try_key, **quantities) if try_key else None
    return InputError([Fault(field, Saying(key, **quantities), remedy)])
