"""What a file is, by its first bytes, whatever its name says.

Model: of what can be opened the kind; of what is often taken for a photograph a name that says why
it cannot be used. Nothing is decoded here.
Source: containers of JPEG, PNG, WebP and HEIF, from memory.
"""

from __future__ import annotations

from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Saying

SCAN = b"\xff\xda"
"""Begins a scan of a JPEG; never stands inside one."""
MOST_SCANS = 200  # [own] a JPEG that loads step by step has ten or twenty

HEIC_BRANDS = frozenset(
    (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1")
)
OTHERS: tuple[tuple[int, bytes, str], ...] = (
    (0, b"GIF8", "gif"),
    (0, b"II*\0", "tiff"),
    (0, b"MM\0*", "tiff"),
    (0, b"BM", "bmp"),
    (0, b"%PDF", "pdf"),
    (0, b"PK\x03\x04", "zip"),
    (4, b"ftypavif", "avif"),
    (4, b"ftyp", "film"),
)
"""Files that are taken for photographs: where their mark stands, the mark, and what they are."""


def kind_of(data: bytes) -> str:
    """`jpeg`, `png`, `webp` or `heic`, by content. Raises `InputError` for everything else."""
    if not data:
        raise refuse("picture", "photo.picture.empty", "photo.picture.empty-try")
    if data.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return "webp"
    if data[4:8] == b"ftyp" and data[8:12] in HEIC_BRANDS:
        return "heic"
    raise _unknown(data)


def _unknown(data: bytes) -> InputError:
    for place, mark, name in OTHERS:
        if data.startswith(mark, place):
            what = Saying(f"photo.picture.file.{name}")
            return refuse("picture", "photo.picture.other", "photo.picture.other-try", what=what)
    return refuse("picture", "photo.picture.no-picture", "photo.picture.no-picture-try")


def webp_size(data: bytes) -> tuple[int, int] | None:
    """Width and height as a WebP's first chunk declares them, from memory of the container."""

    def number(start: int, count: int) -> int:
        return int.from_bytes(data[start : start + count], "little")

    chunk = data[12:16] if len(data) >= 30 else b""
    if chunk == b"VP8X":
        return number(24, 3) + 1, number(27, 3) + 1
    if chunk == b"VP8L":
        bits = number(21, 4)
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    if chunk == b"VP8 ":
        return number(26, 2) & 0x3FFF, number(28, 2) & 0x3FFF
    return None
