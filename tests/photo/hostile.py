"""Files that somebody may choose as a picture and that are none, damaged, or made to do harm."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from functools import cache
from pathlib import Path

import numpy as np
from PIL import Image

PICTURES = Path(__file__).parent / "pictures"
HEIC = (PICTURES / "upright.heic").read_bytes()
TURNED = (PICTURES / "turned.heic").read_bytes()


def pattern(wide: int = 640, high: int = 480) -> Image.Image:
    """Red at the top left, green at the top right, blue at the bottom left, white elsewhere."""
    image = np.full((high, wide, 3), 255, np.uint8)
    image[: high // 4, : wide // 4] = (255, 0, 0)
    image[: high // 4, -wide // 4 :] = (0, 255, 0)
    image[-high // 4 :, : wide // 4] = (0, 0, 255)
    return Image.fromarray(image)


def noise(wide: int = 640, high: int = 480) -> Image.Image:
    lot = np.random.default_rng(5)
    return Image.fromarray(lot.integers(0, 256, (high, wide, 3), np.uint8))


def saved(image: Image.Image, kind: str, **notes: object) -> bytes:
    made = io.BytesIO()
    image.save(made, kind, **notes)
    return made.getvalue()


def png_chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png_of(wide: int, high: int) -> bytes:
    """A PNG that declares this size and has hardly any pixels."""
    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    body = zlib.compress(b"\0" * 1000)
    return b"\x89PNG\r\n\x1a\n" + png_chunk(b"IHDR", head) + png_chunk(b"IDAT", body)


def jpeg_of(wide: int, high: int) -> bytes:
    """A JPEG whose frame declares another size."""
    data = bytearray(saved(noise(), "JPEG"))
    place = data.index(b"\xff\xc0")
    data[place + 5 : place + 9] = struct.pack(">HH", high, wide)
    return bytes(data)


def webp_of(wide: int, high: int) -> bytes:
    """A WebP whose canvas declares another size."""
    canvas = b"\0\0\0\0" + (wide - 1).to_bytes(3, "little") + (high - 1).to_bytes(3, "little")
    inner = saved(noise(), "WEBP")[12:]
    body = b"WEBP" + b"VP8X" + struct.pack("<I", 10) + canvas + inner
    return b"RIFF" + struct.pack("<I", len(body)) + body


def heic_of(wide: int, high: int) -> bytes:
    """A HEIC whose container declares another size."""
    place = HEIC.index(b"ispe")
    return HEIC[: place + 8] + struct.pack(">II", wide, high) + HEIC[place + 16 :]


def changed(data: bytes, place: int, by: bytes) -> bytes:
    return data[:place] + by + data[place + len(by) :]


def moving(kind: str) -> bytes:
    frames = [pattern(), pattern().rotate(180)]
    return saved(frames[0], kind, save_all=True, append_images=frames[1:], duration=100)


def zipped() -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as folder:
        folder.writestr("picture.jpg", saved(pattern(), "JPEG"))
    return made.getvalue()


def many_scans() -> bytes:
    """A JPEG that says of itself thousands of times that more of it comes."""
    data = saved(noise(), "JPEG", progressive=True)
    start = data.rindex(b"\xff\xda")
    return data[:start] + data[start:-2] * 2 + b"\xff\xda\x00\x0c\x03" * 5000 + data[-2:]


def comment_bomb() -> bytes:
    """A PNG whose text is 200 MB when it is unpacked."""
    packer, million = zlib.compressobj(1), b"a" * 1_000_000
    text = b"Comment\0\0" + b"".join(packer.compress(million) for _ in range(200))
    text += packer.flush()
    whole = saved(pattern(), "PNG")
    return whole[:33] + png_chunk(b"zTXt", text) + whole[33:]


@cache
def files() -> dict[str, bytes]:
    """Every file by what it is."""
    jpeg, png, webp = (saved(noise(), kind) for kind in ("JPEG", "PNG", "WEBP"))
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="600" height="600"/>'
    return {
        "nothing": b"",
        "one byte": b"\xff",
        "zeros": bytes(4000),
        "text": b"three stems, cut under water\n" * 50,
        "text with a byte order mark": b"\xef\xbb\xbfthree stems",
        "text in two-byte letters": "three stems".encode("utf-16"),
        "a page of the web": b"<!doctype html><title>not found</title>",
        "SVG": svg,
        "PDF": b"%PDF-1.7\n1 0 obj\n<<>>\nendobj\n",
        "GIF": saved(pattern(), "GIF"),
        "TIFF": saved(pattern(), "TIFF"),
        "BMP": saved(pattern(), "BMP"),
        "ICO": saved(pattern().resize((64, 64)), "ICO"),
        "zip": zipped(),
        "a sound": b"RIFF\x24\0\0\0WAVEfmt " + bytes(100),
        "a film": b"\0\0\0\x18ftypisom\0\0\0\0isommp42" + bytes(200),
        "PostScript": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 600 600\n",
        "AVIF by its brand": b"\0\0\0\x1cftypavif\0\0\0\0avifmif1" + bytes(200),
        "JPEG: first bytes alone": jpeg[:3],
        "JPEG: start and end": b"\xff\xd8\xff\xd9",
        "JPEG cut in its head": jpeg[:200],
        "JPEG cut at a quarter": jpeg[: len(jpeg) // 4],
        "JPEG cut at nine tenths": jpeg[: len(jpeg) * 9 // 10],
        "JPEG without its tables": jpeg[:2] + jpeg[jpeg.index(b"\xff\xc0") :],
        "JPEG declared 60000 square": jpeg_of(60000, 60000),
        "JPEG declared 0 wide": jpeg_of(0, 480),
        "JPEG of very many scans": many_scans(),
        "JPEG of random bytes": b"\xff\xd8\xff\xe0" + np.random.default_rng(1).bytes(5000),
        "PNG cut in its head": png[:20],
        "PNG cut in half": png[: len(png) // 2],
        "PNG with a damaged head": changed(png, 18, b"\x55"),
        "PNG with damaged pixels": changed(png, len(png) // 2, bytes(200)),
        "PNG declared 100000 square": png_of(100_000, 100_000),
        "PNG declared 7000 square with few pixels": png_of(7000, 7000),
        "PNG declared 0 wide": png_of(0, 400),
        "PNG with a text of 200 MB": comment_bomb(),
        "PNG sent as text": png.replace(b"\r\n", b"\n"),
        "PNG of one pixel": saved(pattern(1, 1), "PNG"),
        "PNG of one column": saved(pattern(1, 30000), "PNG"),
        "PNG that moves": moving("PNG"),
        "WebP cut in its head": webp[:16],
        "WebP cut in half": webp[: len(webp) // 2],
        "WebP of random bytes": webp[:20] + np.random.default_rng(2).bytes(5000),
        "WebP declared 16000 square": webp_of(16000, 16000),
        "WebP that moves": moving("WEBP"),
        "HEIC cut in its head": HEIC[:20],
        "HEIC cut in its tables": HEIC[:200],
        "HEIC cut in its pixels": HEIC[: len(HEIC) - 2000],
        "HEIC declared 60000 square": heic_of(60000, 60000),
        "HEIC of random bytes": HEIC[:40] + np.random.default_rng(3).bytes(5000),
    }


@cache
def doubtful() -> dict[str, bytes]:
    """Damage inside the pixels, which a decoder may or may not see."""
    jpeg, webp = (saved(noise(), kind) for kind in ("JPEG", "WEBP"))
    return {
        "JPEG sent as text": jpeg.replace(b"\n", b"\r\n"),
        "JPEG with damaged pixels": changed(jpeg, len(jpeg) // 2, b"\xa5" * 300),
        "JPEG with something behind it": jpeg + zipped(),
        "WebP with damaged pixels": changed(webp, len(webp) // 2, b"\xa5" * 300),
        "HEIC with damaged pixels": changed(HEIC, len(HEIC) - 4000, b"\xa5" * 3000),
    }


def tiff_notes(*entries: tuple[int, int, int, bytes], after: int = 0) -> bytes:
    """Exif notes by hand: tag, type, count and the four bytes of each entry."""
    body = struct.pack("<H", len(entries))
    for tag, kind, count, value in entries:
        body += struct.pack("<HHI", tag, kind, count) + value.ljust(4, b"\0")
    return b"Exif\0\0II*\0\x08\0\0\0" + body + struct.pack("<I", after)


@cache
def strange_notes() -> dict[str, bytes]:
    """Notes of a camera that make no sense, or go round in circles."""
    orientation, exif, gps = 0x0112, 0x8769, 0x8825
    return {
        "random": b"Exif\0\0" + np.random.default_rng(4).bytes(400),
        "a first byte alone": b"Exif\0\0I",
        "no entries": tiff_notes(),
        "a list that goes on with itself": tiff_notes((orientation, 3, 1, b"\1"), after=8),
        "notes inside themselves": tiff_notes((exif, 4, 1, b"\x08"), (gps, 4, 1, b"\x08")),
        "notes far behind the end": tiff_notes((exif, 4, 1, b"\xff\xff\xff\x7f")),
        "four thousand million values": tiff_notes((orientation, 3, 2**32 - 1, b"\x08")),
        "orientation 0": tiff_notes((orientation, 3, 1, b"\0")),
        "orientation 9": tiff_notes((orientation, 3, 1, b"\x09")),
        "orientation 65535": tiff_notes((orientation, 3, 1, b"\xff\xff")),
        "orientation in letters": tiff_notes((orientation, 2, 4, b"six")),
        "an unknown kind of value": tiff_notes((orientation, 99, 1, b"\6")),
    }
