"""What a file's bytes may be, and what is said of those that are no text."""

from __future__ import annotations

import codecs

import pytest

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.reading.text import MOST_BYTES, check_size, read_bytes


def told(data: bytes) -> tuple[str, int | None]:
    with pytest.raises(InputError) as caught:
        read_bytes("class.toml", data)
    (fault,) = caught.value.faults
    words = Words()
    assert "class.toml" in words.say(fault.says)
    assert fault.try_instead is not None
    assert words.say(fault.try_instead)
    return fault.says.key.removeprefix("reading.file."), fault.line


@pytest.mark.source("hand", "RFC 3629: é is C3 A9, 木 is E6 9C A8; EF BB BF is the byte order mark")
def test_utf8_is_read_with_and_without_its_mark() -> None:
    assert read_bytes("x", b"caf\xc3\xa9 \xe6\x9c\xa8") == "café 木"
    assert read_bytes("x", b"\xef\xbb\xbfcaf\xc3\xa9") == "café"


def test_line_ends_of_any_kind_become_plain_ones() -> None:
    assert read_bytes("x", b"one\r\ntwo\n") == "one\ntwo\n"


@pytest.mark.source("hand", "E9 alone is é in ISO 8859-1, and no beginning of UTF-8 before a space")
def test_another_encoding_is_told_with_its_line() -> None:
    assert told(b"one\ntwo\ncaf\xe9 three\n") == ("not-utf8", 3)


@pytest.mark.parametrize(
    ("data", "key"),
    [
        ("title".encode("utf-16"), "utf16"),
        (codecs.BOM_UTF16_BE + "title".encode("utf-16-be"), "utf16"),
        (b"PK\x03\x04 a word processor's file", "zipped"),
        (b"{\\rtf1 text}", "word-processor"),
        (b"%PDF-1.7", "word-processor"),
        (b"", "empty"),
        (b" \n\t\n", "empty"),
        (b"\xef\xbb\xbf", "empty"),
    ],
)
def test_what_is_no_text_is_named(data: bytes, key: str) -> None:
    assert told(data)[0] == key


def test_zero_bytes_are_told_with_their_line() -> None:
    assert told(b"one\n\x00two") == ("zeros", 2)


def test_a_file_of_50_mb_is_refused_by_its_size_alone() -> None:
    with pytest.raises(InputError) as caught:
        check_size("class.toml", 50_000_000)
    assert "50.0 MB" in Words().say(caught.value.faults[0].says)
    check_size("class.toml", MOST_BYTES)


def test_bytes_beyond_the_limit_are_refused_too() -> None:
    assert told(b"#" * (MOST_BYTES + 1))[0] == "too-large"
