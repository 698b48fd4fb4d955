"""The class and everything before it, or a piece on display, as a calendar file.

Source: RFC 5545 (iCalendar) by way of the icalendar library; times carry their zone.
"""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable

import icalendar

from nejime import __version__
from nejime.basis.sayings import Words
from nejime.keeping.looking_after import Action
from nejime.keeping.preparing import Task
from nejime.lesson.lesson import Lesson
from nejime.papers.wording import dated


def calendar(lesson: Lesson, tasks: Iterable[Task], words: Words, today: dt.date) -> bytes:
    """The class and its tasks as an iCalendar file.

    `today` stamps the entries, so that equal input gives equal bytes.
    """
    made, stamp = _begun(lesson.title, today)
    place = ", ".join(part for part in (lesson.place, lesson.library) if part)
    made.add_component(_event(lesson.starts, lesson.ends, lesson.title, place, (), stamp))
    for task in tasks:
        details = (*task.notes, *(step.says for step in task.steps), *task.cautions)
        made.add_component(
            _event(
                task.begins,
                task.ends,
                words.say(task.says),
                task.place,
                [dated(each, words) for each in details],
                stamp,
            )
        )
    made.add_missing_timezones()
    return bytes(made.to_ical())


def display_calendar(
    title: str, name: str, actions: Iterable[Action], words: Words, today: dt.date
) -> bytes:
    """What a piece on display asks for, each a whole day, as an iCalendar file.

    `name` tells it from every other display. The file stays the same event for the same thing on
    the same day, so that a later one replaces it.
    """
    made, stamp = _begun(title, today)
    for action in actions:
        event = icalendar.Event()
        told = f"{name} {action.kind} {action.plant} {action.on.isoformat()}"
        event.add("uid", f"{_hashed(told)}@nejime")
        event.add("dtstamp", stamp)
        event.add("dtstart", action.on)
        event.add("dtend", action.on + dt.timedelta(days=1))
        event.add("summary", f"{title}: {words.say(action.says)}")
        event.add("transp", "TRANSPARENT")  # nobody is busy all day because of it
        made.add_component(event)
    return bytes(made.to_ical())


def _begun(title: str, today: dt.date) -> tuple[icalendar.Calendar, dt.datetime]:
    """A calendar without entries, and the stamp of its entries."""
    made = icalendar.Calendar()
    made.add("prodid", f"-//nejime//nejime {__version__}//EN")
    made.add("version", "2.0")
    made.add("x-wr-calname", title)
    return made, dt.datetime.combine(today, dt.time(0), tzinfo=dt.UTC)


def _hashed(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:24]


def _event(
    begins: dt.datetime,
    ends: dt.datetime,
    title: str,
    place: str,
    details: Iterable[str],
    stamp: dt.datetime,
) -> icalendar.Event:
    event = icalendar.Event()
    # The same entry keeps its name when a plan is made again, so that it is replaced, not doubled.
    name = _hashed(f"{begins.isoformat()} {title} {place}")
    event.add("uid", f"{name}@nejime")
    event.add("dtstamp", stamp)
    event.add("dtstart", begins)
    event.add("dtend", ends)
    event.add("summary", title)
    if place:
        event.add("location", place)
    text = "\n".join(details)
    if text:
        event.add("description", text)
    return event
