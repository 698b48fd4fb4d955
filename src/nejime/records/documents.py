"""Documents with all their versions: a tree in which undo goes up, and redo down to the newest.

Every function works inside the transaction of its caller and sees one library. What is undone or
removed can be had again; only what is erased, as a photograph that shows people, is gone.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, Select, and_, delete, exists, func, insert, select, update

from nejime.records.schema import documents, versions
from nejime.records.writing import Content, canonical, content_of, text_of


class Missing(LookupError):
    """There is no such document, version or job in this library."""

    def __init__(self, what: str, number: int) -> None:
        self.what, self.number = what, number
        super().__init__(f"no {what} {number}")


@dataclass(frozen=True, slots=True)
class Document:
    """One thing that the teacher keeps, as it is now.

    `version` is what `save` wants as its base; `content` is the caller's own copy.
    """

    id: int
    library_id: int
    kind: str
    name: str
    version: int
    content: dict[str, Any]
    changed_at: datetime
    removed_at: datetime | None
    can_undo: bool
    can_redo: bool


@dataclass(frozen=True, slots=True)
class Version:
    """What a document was; `parent` is the version from which it was made."""

    number: int
    parent: int | None
    content: dict[str, Any]
    at: datetime


@dataclass(frozen=True, slots=True)
class Conflict:
    """Not saved: somebody else changed the document meanwhile, into `theirs`."""

    theirs: Document


@dataclass(frozen=True, slots=True)
class Shelf:
    """Where a function works: the transaction, the library and the moment."""

    connection: Connection
    library_id: int
    now: datetime


def _wanted() -> Select[Any]:
    child = versions.alias("child")
    current = and_(
        versions.c.document_id == documents.c.id, versions.c.number == documents.c.version
    )
    has_child = exists().where(
        child.c.document_id == documents.c.id, child.c.parent == documents.c.version
    )
    return select(
        *documents.c,
        versions.c.content,
        versions.c.parent.is_not(None).label("can_undo"),
        has_child.label("can_redo"),
    ).join_from(documents, versions, current)


def _document(row: Row[Any]) -> Document:
    fields = dict(row._mapping)
    return Document(**fields | {"content": content_of(fields["content"])})


def get(shelf: Shelf, document_id: int) -> Document:
    """A document, removed or not. Raises `Missing`."""
    chosen = _wanted().where(
        documents.c.id == document_id, documents.c.library_id == shelf.library_id
    )
    row = shelf.connection.execute(chosen).one_or_none()
    if row is None:
        raise Missing("document", document_id)
    return _document(row)


def listed(shelf: Shelf, kind: str, *, removed: bool) -> tuple[Document, ...]:
    """The documents of a kind, the last changed first: either those removed or the others."""
    gone = documents.c.removed_at.is_not(None)
    chosen = (
        _wanted()
        .where(
            documents.c.library_id == shelf.library_id,
            documents.c.kind == kind,
            gone if removed else ~gone,
        )
        .order_by(documents.c.changed_at.desc(), documents.c.id.desc())
    )
    return tuple(_document(row) for row in shelf.connection.execute(chosen))


def add(shelf: Shelf, kind: str, name: str, content: Content) -> Document:
    """A new document, its content being version 1."""
    row = {"library_id": shelf.library_id, "kind": kind, "name": name, "version": 1}
    made = insert(documents).values(**row, changed_at=shelf.now).returning(documents.c.id)
    id_ = shelf.connection.execute(made).scalar_one()
    _add_version(shelf, id_, 1, None, content)
    return get(shelf, id_)


def only(shelf: Shelf, kind: str, name: str, content: Content) -> Document:
    """The first document of a kind of which there is one, made now if there is none."""
    first = select(func.min(documents.c.id)).where(
        documents.c.library_id == shelf.library_id,
        documents.c.kind == kind,
        documents.c.removed_at.is_(None),
    )
    id_ = shelf.connection.scalar(first)
    return add(shelf, kind, name, content) if id_ is None else get(shelf, id_)


def save(
    shelf: Shelf,
    document_id: int,
    content: Content,
    base: int,
    name: str | None,
) -> Document | Conflict:
    """A new version made from version `base`, or a `Conflict` if that is no longer the current one.

    Content equal to the current one makes no version and is never in conflict. Raises `Missing`.
    """
    held = get(shelf, document_id)
    renamed = held.name if name is None else name
    if canonical(content) == canonical(held.content):
        return held if renamed == held.name else _changed(shelf, document_id, name=renamed)
    if base != held.version:
        return Conflict(held)
    numbers = select(func.max(versions.c.number)).where(versions.c.document_id == document_id)
    number = 1 + shelf.connection.scalars(numbers).one()
    _add_version(shelf, document_id, number, base, content)
    return _changed(shelf, document_id, version=number, name=renamed)


def undo(shelf: Shelf, document_id: int) -> Document:
    """Back to the version from which the current one was made; unchanged if it was the first."""
    held = get(shelf, document_id)
    parent = select(versions.c.parent).where(
        versions.c.document_id == document_id, versions.c.number == held.version
    )
    number = shelf.connection.scalar(parent)
    return held if number is None else _changed(shelf, document_id, version=number)


def redo(shelf: Shelf, document_id: int) -> Document:
    """On to the newest version that was made from this one; unchanged if there is none."""
    held = get(shelf, document_id)
    newest = select(func.max(versions.c.number)).where(
        versions.c.document_id == document_id, versions.c.parent == held.version
    )
    number = shelf.connection.scalar(newest)
    return held if number is None else _changed(shelf, document_id, version=number)


def go_to(shelf: Shelf, document_id: int, number: int) -> Document:
    """To any version that the document ever had. Raises `Missing`."""
    get(shelf, document_id)
    known = select(versions.c.number).where(
        versions.c.document_id == document_id, versions.c.number == number
    )
    if shelf.connection.scalar(known) is None:
        raise Missing("version", number)
    return _changed(shelf, document_id, version=number)


def history(shelf: Shelf, document_id: int) -> tuple[Version, ...]:
    """All versions of a document, the newest first. Raises `Missing`."""
    get(shelf, document_id)
    chosen = (
        select(versions.c.number, versions.c.parent, versions.c.content, versions.c.at)
        .where(versions.c.document_id == document_id)
        .order_by(versions.c.number.desc())
    )
    return tuple(
        Version(row.number, row.parent, content_of(row.content), row.at)
        for row in shelf.connection.execute(chosen)
    )


def rename(shelf: Shelf, document_id: int, name: str) -> Document:
    """The document with another name, which makes no version. Raises `Missing`."""
    held = get(shelf, document_id)
    return held if name == held.name else _changed(shelf, document_id, name=name)


def copy(shelf: Shelf, document_id: int, name: str) -> Document:
    """A new document with the current content of this one, without its past. Raises `Missing`."""
    held = get(shelf, document_id)
    return add(shelf, held.kind, name, held.content)


def put_away(shelf: Shelf, document_id: int, *, removed: bool) -> Document:
    """Take a document off the lists, or put it back. Raises `Missing`."""
    held = get(shelf, document_id)
    if (held.removed_at is not None) == removed:
        return held
    at = shelf.now if removed else None
    shelf.connection.execute(
        update(documents).where(documents.c.id == document_id).values(removed_at=at)
    )
    return get(shelf, document_id)


def erase(shelf: Shelf, document_id: int) -> None:
    """Wipe a document with all its versions: the one thing that cannot be had again.

    Raises `Missing`.
    """
    get(shelf, document_id)
    shelf.connection.execute(delete(versions).where(versions.c.document_id == document_id))
    shelf.connection.execute(delete(documents).where(documents.c.id == document_id))


def _add_version(
    shelf: Shelf, document_id: int, number: int, parent: int | None, content: Content
) -> None:
    row = {"document_id": document_id, "number": number, "parent": parent, "at": shelf.now}
    shelf.connection.execute(insert(versions).values(**row, content=text_of(content)))


def _changed(shelf: Shelf, document_id: int, **fields: object) -> Document:
    change = update(documents).where(documents.c.id == document_id)
    shelf.connection.execute(change.values(**fields, changed_at=shelf.now))
    return get(shelf, document_id)
