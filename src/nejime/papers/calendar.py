"""The class and everything before it as a calendar file.

Source: RFC 5545 (iCalendar) by way of the icalendar library; times carry their zone.
"""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable

import icalendar

from nejime import __version__
from nejime.basis.sayings import Words
from nejime.keeping.preparing import Task
from nejime.lesson.lesson import Lesson
from nejime.papers.wording import dated


def calendar(lesson: Lesson, tasks: Iterable[Task], words: Words, today: dt.date) -> bytes:
    """The class and its tasks as an iCalendar file.

    `today` stamps the entries, so that equal input gives equal bytes.
    """
    made = icalendar.Calendar()
    made.add("prodid", f"-//nejime//nejime {__version__}//EN")
    made.add("version", "2.0")
    made.add("x-wr-calname", lesson.title)
    stamp = dt.datetime.combine(today, dt.time(0), tzinfo=dt.UTC)
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
    name = hashlib.sha256(f"{begins.isoformat()} {title} {place}".encode()).hexdigest()[:24]
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
