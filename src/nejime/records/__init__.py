"""What the teacher keeps, with all its versions, and long work with its answers.

`open_store` gives a `Store`; nothing of the database is seen outside of this room.
"""

from nejime.records.documents import Conflict, Document, Missing, Version
from nejime.records.jobs import Job
from nejime.records.opening import CannotOpen
from nejime.records.store import CannotKeep, Store, open_store

__all__ = [
    "CannotKeep",
    "CannotOpen",
    "Conflict",
    "Document",
    "Job",
    "Missing",
    "Store",
    "Version",
    "open_store",
]
