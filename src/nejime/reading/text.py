"""Bytes of a file into its text; what cannot be text is refused in words.

Model: a file is UTF-8, with or without a byte order mark. A file that is too large is refused by
its size alone, so that nobody has to read it into memory first.
Source: UTF-8 and its byte order mark, RFC 3629; the limits are ours.
"""

from __future__ import annotations

import codecs

from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying

MOST_BYTES = 1_000_000  # [own] four hundred people with long notes take about 150,000
MARKS_OF_UTF16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
OTHER_KINDS = {  # [practice] the first bytes of what people send instead of a text file
    b"PK\x03\x04": "reading.file.zipped",
    b"{\\rtf": "reading.file.word-processor",
    b"\xd0\xcf\x11\xe0": "reading.file.word-processor",
    b"%PDF": "reading.file.word-processor",
}


def refuse_file(file: str, key: str, line: int | None = None, **quantities: object) -> InputError:
    """An `InputError` about a whole file; what to do is the text `<key>-try`."""
    told = {"file": file, **quantities}
    return InputError([Fault("", Saying(key, **told), Saying(f"{key}-try", **told), line)])


def check_size(file: str, size_bytes: int, most_bytes: int = MOST_BYTES) -> None:
    """Refuses a file by its size, before it is read. Raises `InputError`."""
    if size_bytes > most_bytes:
        raise refuse_file(
            file,
            "reading.file.too-large",
            size=f"{size_bytes / 1e6:.1f}",
            most=f"{most_bytes / 1e6:g}",
        )


def read_bytes(file: str, data: bytes, most_bytes: int = MOST_BYTES) -> str:
    """The text of a file, without byte order mark and with plain line ends. Raises `InputError`."""
    check_size(file, len(data), most_bytes)
    for start, key in OTHER_KINDS.items():
        if data.startswith(start):
            raise refuse_file(file, key)
    if data.startswith(MARKS_OF_UTF16):
        raise refuse_file(file, "reading.file.utf16")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        line = data.count(b"\n", 0, trouble.start) + 1
        raise refuse_file(file, "reading.file.not-utf8", line) from trouble
    if "\0" in text:
        raise refuse_file(file, "reading.file.zeros", text.count("\n", 0, text.index("\0")) + 1)
    if not text.strip():
        raise refuse_file(file, "reading.file.empty")
    return text.replace("\r\n", "\n")
