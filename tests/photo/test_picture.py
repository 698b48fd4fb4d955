"""Pictures: whatever is chosen is opened upright, or refused in a sentence; nothing is told on."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest
from photo.hostile import (
    HEIC,
    TURNED,
    doubtful,
    files,
    heic_of,
    moving,
    pattern,
    png_chunk,
    saved,
    strange_notes,
    tiff_notes,
)
from PIL import Image, ImageCms, PngImagePlugin

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.photo import apart
from nejime.photo.containers import webp_size
from nejime.photo.picture import (
    LEAST_WORK_PX,
    MOST_BYTES,
    MOST_WORK_PX,
    cropped,
    opened,
    prepared,
    seen_here,
    turned,
)

SECRET = b"PLANTED"


def seen(jpeg: bytes) -> Image.Image:
    return Image.open(io.BytesIO(jpeg))


def corners(jpeg: bytes) -> list[str]:
    """The colours of the corners: top left, top right, bottom left, bottom right."""
    image = np.asarray(seen(jpeg)).astype(int)
    names = {(1, 0, 0): "red", (0, 1, 0): "green", (0, 0, 1): "blue", (1, 1, 1): "white"}
    spots = (image[9, 9], image[9, -9], image[-9, 9], image[-9, -9])
    return [names.get(tuple(int(part > 128) for part in spot), str(spot)) for spot in spots]


def notes(orientation: int = 1, focal: object = 26, **more: object) -> bytes:
    made = Image.Exif()
    made[0x0112] = orientation
    inner = made.get_ifd(0x8769)
    if focal is not None:
        inner[0xA405] = focal
    for tag, value in more.items():
        inner[int(tag[1:], 16)] = value
    return made.tobytes()


# What is refused


@pytest.mark.parametrize("name", files())
def test_what_is_no_picture_is_refused_in_a_sentence_that_says_what_to_do(name: str) -> None:
    began = time.perf_counter()
    with pytest.raises(InputError) as refused:
        prepared(files()[name])
    (fault,) = refused.value.faults
    assert fault.field == "picture"
    assert fault.try_instead is not None
    assert Words().say(fault.says).endswith(".")
    assert Words().say(fault.try_instead).endswith(".")
    assert time.perf_counter() - began < 20.0


def test_there_are_more_than_thirty_of_them() -> None:
    assert len(set(files().values())) == len(files()) > 30


@pytest.mark.parametrize("name", doubtful())
def test_damage_inside_the_pixels_is_seen_or_not_but_nothing_breaks(name: str) -> None:
    try:
        made = prepared(doubtful()[name])
    except InputError as refused:
        fields = [fault.field for fault in refused.faults]
    else:
        fields = ["picture"]
        assert seen(made.jpeg).size == (made.work_width_px, made.work_height_px)
    assert fields == ["picture"]


def test_a_file_over_the_limit_is_refused_before_it_is_looked_at() -> None:
    with pytest.raises(InputError) as refused:
        prepared(saved(pattern(), "JPEG") + bytes(MOST_BYTES))
    assert refused.value.faults[0].says.key == "photo.picture.heavy"


STATUS = Path("/proc/self/status")


@pytest.mark.skipif(not STATUS.exists(), reason="the system does not tell a process's memory")
def test_the_refused_need_no_more_memory_than_a_picture_may() -> None:
    told = (
        "from photo.hostile import files; from nejime.photo import picture\n"
        "from nejime.basis.errors import InputError\n"
        "for name, data in files().items():\n"
        "    if name.startswith('HEIC'): continue  # in a process of its own\n"
        "    try: picture.prepared(data)\n"
        "    except InputError: pass\n"
        f"print(open({str(STATUS)!r}).read().split('VmHWM:')[1].split()[0])"
    )
    where = {**os.environ, "PYTHONPATH": os.pathsep.join(map(os.path.abspath, sys.path))}
    done = subprocess.run(
        [sys.executable, "-c", told], capture_output=True, text=True, check=True, env=where
    )
    assert int(done.stdout) * 1024 < 500e6


def test_a_heic_that_makes_its_decoder_fall_over_is_refused_like_any_other() -> None:
    """A letter that is none, in the name of a note's kind: the decoder's process ends."""
    place = TURNED.index(b"mime") + 1
    with pytest.raises(InputError) as refused:
        prepared(TURNED[:place] + b"\xff" + TURNED[place + 1 :])
    assert refused.value.faults[0].says.key == "photo.picture.damaged"


def test_a_picture_that_takes_too_long_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(apart, "MOST_S", 0.01)
    with pytest.raises(InputError) as refused:
        prepared(HEIC)
    assert refused.value.faults[0].says.key == "photo.picture.damaged"


def test_what_is_said_of_a_heic_is_the_same_from_another_process() -> None:
    here, there = seen_here(HEIC, 16)[0], opened(HEIC)
    assert (there.grey == here.grey).all()
    assert (there.width_px, there.height_px) == (here.width_px, here.height_px)
    assert there.focal_35mm == here.focal_35mm == 26.0
    assert there.remarks == here.remarks
    for data, key in ((heic_of(60000, 60000), "large"), (heic_of(40, 40), "small")):
        with pytest.raises(InputError) as refused:
            prepared(data)
        (fault,) = refused.value.faults
        assert fault.says.key == f"photo.picture.{key}"
        assert Words().say(fault.says)
        assert fault.try_instead is not None
        assert Words().say(fault.try_instead)


# What is opened


@pytest.mark.source("cipa-exif", "0x0112: 1 as it is, 2 and 4 mirrored, 3 half a turn, 5 to 8 side")
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize(
    ("orientation", "undo"),
    [
        (1, []),
        (2, [Image.Transpose.FLIP_LEFT_RIGHT]),
        (3, [Image.Transpose.ROTATE_180]),
        (4, [Image.Transpose.FLIP_TOP_BOTTOM]),
        (5, [Image.Transpose.ROTATE_90, Image.Transpose.FLIP_TOP_BOTTOM]),
        (6, [Image.Transpose.ROTATE_90]),
        (7, [Image.Transpose.ROTATE_90, Image.Transpose.FLIP_LEFT_RIGHT]),
        (8, [Image.Transpose.ROTATE_270]),
    ],
)
def test_a_picture_is_turned_upright_from_every_orientation(
    orientation: int, undo: list[Image.Transpose], kind: str
) -> None:
    """Stored as a camera held that way stores it: the scene's turn undone, then noted."""
    stored = pattern()
    for step in undo:
        stored = stored.transpose(step)
    made = prepared(saved(stored, kind, exif=notes(orientation)))
    assert (made.width_px, made.height_px) == (640, 480)
    assert made.grey.shape == (480, 640)
    assert corners(made.jpeg) == ["red", "green", "blue", "white"]
    assert made.focal_35mm == 26.0


@pytest.mark.source("hand", "stored 480 by 360, red top left; a quarter clockwise brings it right")
def test_a_heic_is_turned_once_by_its_container() -> None:
    made = prepared(HEIC)
    assert (made.width_px, made.height_px, made.focal_35mm) == (480, 360, 26.0)
    assert corners(made.jpeg)[:2] == ["red", "green"]
    once = prepared(TURNED)
    assert (once.width_px, once.height_px) == (360, 480)
    assert corners(once.jpeg)[1] == "red"
    assert corners(once.jpeg)[3] == "green"


def test_a_heic_with_a_note_that_its_container_does_not_follow_is_left_as_it_is() -> None:
    place = TURNED.index(b"irot") + 4
    left = TURNED[:place] + b"\0" + TURNED[place + 1 :]
    made = prepared(left)
    assert (made.width_px, made.height_px) == (480, 360)


@pytest.mark.parametrize("name", strange_notes())
def test_notes_without_sense_are_no_reason_to_refuse(name: str) -> None:
    made = prepared(saved(pattern(), "JPEG", exif=strange_notes()[name]))
    assert (made.width_px, made.height_px, made.focal_35mm) == (640, 480, None)
    assert corners(made.jpeg) == ["red", "green", "blue", "white"]
    assert Words().say(made.remarks[0])


@pytest.mark.source("hand", "red is 255, 0, 0 in every mode that has colours; grey is in between")
@pytest.mark.parametrize(
    ("mode", "kind"),
    [
        ("L", "JPEG"),
        ("CMYK", "JPEG"),
        ("1", "PNG"),
        ("L", "PNG"),
        ("LA", "PNG"),
        ("P", "PNG"),
        ("RGBA", "PNG"),
        ("I;16", "PNG"),
        ("RGBA", "WEBP"),
    ],
)
def test_every_way_of_storing_colours_is_read(mode: str, kind: str) -> None:
    if mode == "I;16":
        grey = np.asarray(pattern().convert("L")).astype(np.uint16)
        stored = Image.fromarray(grey * 257)
    else:
        stored = pattern().convert(mode)
    made = prepared(saved(stored, kind))
    expected = np.asarray(pattern().convert("L")).astype(int)
    if mode == "1":
        expected = np.asarray(pattern().convert("1").convert("L")).astype(int)
    assert np.abs(made.grey.astype(int) - expected).max() <= (40 if kind != "PNG" else 2)
    assert seen(made.jpeg).mode == "RGB"


@pytest.mark.source("hand", "what is transparent lies on white paper: 255")
@pytest.mark.parametrize("mode", ["RGBA", "P", "L"])
def test_what_is_transparent_becomes_white(mode: str) -> None:
    black = Image.new("RGB", (400, 400)).convert(mode)
    if mode == "RGBA":
        black.putalpha(0)
        data = saved(black, "PNG")
    else:
        data = saved(black, "PNG", transparency=black.getpixel((0, 0)))
    assert prepared(data).grey.min() == 255


def test_a_picture_of_several_shows_its_first() -> None:
    both = saved(pattern(), "MPO", save_all=True, append_images=[pattern().rotate(180)])
    assert corners(prepared(both).jpeg) == ["red", "green", "blue", "white"]


def test_a_moving_picture_is_told_to_stand_still() -> None:
    with pytest.raises(InputError) as refused:
        opened(moving("WEBP"))
    assert refused.value.faults[0].says.key == "photo.picture.moves"


@pytest.mark.source("hand", "a disc drawn around 0.7 of the width and 0.3 of the height")
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_large_picture_is_made_smaller_without_being_moved(kind: str) -> None:
    """A disc's middle is where it was, to a tenth of a pixel of the small picture."""
    wide, high = 5003, 3751
    y, x = np.mgrid[0:high, 0:wide]
    at = np.array([0.7 * wide, 0.3 * high])
    disc = np.where(np.hypot(x - at[0], y - at[1]) < 400, 0, 255).astype(np.uint8)
    made = prepared(saved(Image.fromarray(disc), kind))
    assert LEAST_WORK_PX <= max(made.grey.shape) <= MOST_WORK_PX
    assert seen(made.jpeg).size == made.grey.shape[::-1]
    dark = 255.0 - made.grey
    rows, columns = np.mgrid[0 : dark.shape[0], 0 : dark.shape[1]]
    middle = np.array([(columns * dark).sum(), (rows * dark).sum()]) / dark.sum()
    assert made.opened.full_pixels(middle) == pytest.approx(at, abs=0.2)
    assert made.opened.grey_pixels(at) == pytest.approx(middle, abs=0.1)


@pytest.mark.source("hand", "webp canvas: 24-bit numbers of one less; VP8: 14 bits")
def test_a_webp_tells_its_size_before_it_is_opened() -> None:
    for options in ({}, {"lossless": True}, {"exif": notes()}):
        assert webp_size(saved(pattern(612, 345), "WEBP", **options)) == (612, 345)


# The focal length


@pytest.mark.source("cipa-exif", "0xA405 in mm, 0 unknown; 0xA404 over 1 zoomed; 0xA002 size")
@pytest.mark.parametrize(
    ("told", "focal", "key"),
    [
        ({}, 26.0, None),
        ({"focal": 13}, 13.0, None),
        ({"focal": 130}, 130.0, None),
        ({"focal": 12}, None, "focal-strange"),
        ({"focal": 177}, None, "focal-strange"),
        ({"focal": 35856}, None, "focal-strange"),
        ({"focal": 65535}, None, "focal-strange"),
        ({"focal": 0}, None, "focal-not-told"),
        ({"focal": None}, None, "focal-not-told"),
        ({"focal": None, "x920A": 4.2}, None, "focal-not-told"),
        ({"xA404": 1.0}, 26.0, None),
        ({"xA404": 2.0}, None, "focal-zoomed"),
        ({"xA002": 4032, "xA003": 3024}, 26.0, None),
        ({"xA002": 3024, "xA003": 4032}, 26.0, None),
        ({"xA002": 4032, "xA003": 2268}, None, "focal-cut"),
        ({"xA002": 0, "xA003": 0}, 26.0, None),
    ],
)
def test_a_focal_length_is_taken_only_where_it_can_be_trusted(
    told: dict[str, object], focal: float | None, key: str | None
) -> None:
    made = opened(saved(pattern(), "JPEG", exif=notes(**told)))
    assert made.focal_35mm == focal
    assert [saying.key for saying in made.remarks] == ([f"photo.picture.{key}"] if key else [])
    for saying in made.remarks:
        assert Words().say(saying)


@pytest.mark.source("practice", "whole frames: 4 : 3 of telephones, 3 : 2 of cameras")
@pytest.mark.parametrize(
    ("wide", "high", "trusted"),
    [
        (640, 480, True),
        (480, 640, True),
        (600, 400, True),
        (640, 360, False),
        (480, 480, False),
        (640, 300, False),
    ],
)
def test_the_focal_length_of_a_cut_picture_is_not_trusted(
    wide: int, high: int, trusted: bool
) -> None:
    made = opened(saved(pattern(wide, high), "JPEG", exif=notes()))
    assert (made.focal_35mm == 26.0) is trusted


# What is stripped


def telling() -> dict[str, bytes]:
    """Pictures that tell where, when and by whom they were taken, in every place for it."""
    said = SECRET.decode()
    exif = Image.Exif()
    for tag in (0x010E, 0x010F, 0x0110, 0x0131, 0x0132, 0x013B, 0x8298):
        exif[tag] = said
    inner = exif.get_ifd(0x8769)
    inner[0x9003], inner[0x9286], inner[0xA430] = said, b"ASCII\0\0\0" + SECRET, said
    place = exif.get_ifd(0x8825)
    place[1], place[2], place[29] = "N", (51.0, 30.0, 7.0), said
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/">' + SECRET + b"</x:xmpmeta>"
    icc = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    profile = icc.replace(b"sRGB", b"PLAN", 1).replace("sRGB".encode("utf-16-be"), b"PLANTED!")
    text = PngImagePlugin.PngInfo()
    text.add_text("Comment", said)
    text.add_itxt("Author", said)
    text.add_text("Title", said, zip=False)
    small = saved(pattern(160, 120), "JPEG", comment=SECRET)
    thumbnail = tiff_notes((0x0112, 3, 1, b"\1"), after=26) + small
    jpeg = saved(
        pattern(), "JPEG", exif=exif, xmp=xmp, comment=SECRET, icc_profile=profile, quality=95
    )
    png = saved(pattern(), "PNG", exif=exif, pnginfo=text, icc_profile=profile)
    return {
        "JPEG": jpeg,
        "JPEG with a comment alone": saved(pattern(), "JPEG", comment=SECRET),
        "JPEG with something behind it": jpeg + SECRET * 10,
        "JPEG with a thumbnail": saved(pattern(), "JPEG", exif=thumbnail),
        "JPEG with a maker's block": jpeg[:2] + b"\xff\xed\0\x0b" + SECRET + b"!!" + jpeg[2:],
        "PNG": png,
        "PNG with a block of its own": png[:33] + png_chunk(b"prVt", SECRET) + png[33:],
        "WebP": saved(pattern(), "WEBP", exif=exif, xmp=xmp, icc_profile=profile),
        "HEIC": HEIC,
        "turned HEIC": TURNED,
    }


@pytest.mark.parametrize("name", telling())
def test_nothing_of_place_time_names_and_comments_is_in_what_is_handed_on(name: str) -> None:
    data = telling()[name]
    assert SECRET in data
    first = prepared(data).jpeg
    for made in (first, cropped(first, (10, 10, 200, 200)), turned(first, 1)):
        assert SECRET not in made
        assert b"PLAN" not in made
        assert b"P\0L\0A\0N" not in made
        assert blocks(made) <= {0xDB, 0xC0, 0xC4, 0xDA, 0xE0}
        assert not set(seen(made).info) - {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def blocks(jpeg: bytes) -> set[int]:
    """The kinds of blocks in a JPEG before its pixels: E0 is the plain head, FE a comment."""
    place, found = 2, set()
    while (jpeg[place] == 0xFF and (kind := jpeg[place + 1]) not in found | {0xD9}) or kind == 0xC4:
        found.add(kind)
        if kind == 0xDA:
            break
        place += 2 + int.from_bytes(jpeg[place + 2 : place + 4], "big")
    return found


@pytest.mark.source("hand", "red of a profile whose red and green are changed over is green")
def test_colours_are_those_of_the_profile_before_it_is_dropped() -> None:
    icc = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    red, green = icc.index(b"rXYZ") + 4, icc.index(b"gXYZ") + 4
    icc[red : red + 4], icc[green : green + 4] = icc[green : green + 4], icc[red : red + 4]
    made = prepared(saved(pattern(), "PNG", icc_profile=bytes(icc)))
    assert corners(made.jpeg) == ["green", "red", "blue", "white"]


@pytest.mark.parametrize("profile", [b"no profile", bytes(128), b"\xff" * 3000])
def test_a_damaged_profile_counts_as_none(profile: bytes) -> None:
    made = prepared(saved(pattern(), "PNG", icc_profile=profile))
    assert corners(made.jpeg) == ["red", "green", "blue", "white"]


# What is changed


@pytest.mark.source("hand", "a quarter clockwise brings the bottom left to the top left")
def test_a_picture_is_turned_by_quarters() -> None:
    first = prepared(saved(pattern(), "PNG")).jpeg
    assert corners(turned(first, 1)) == ["blue", "red", "white", "green"]
    assert corners(turned(first, 2)) == ["white", "blue", "green", "red"]
    assert corners(turned(first, -1)) == ["green", "white", "red", "blue"]
    assert seen(turned(first, 1)).size == (480, 640)
    assert corners(turned(first, 4)) == corners(first)


@pytest.mark.source("hand", "the right half begins with white and ends with green")
def test_a_picture_is_cut_to_a_frame() -> None:
    first = prepared(saved(pattern(), "PNG")).jpeg
    assert seen(cropped(first, (320, 0, 640, 240))).size == (320, 240)
    assert corners(cropped(first, (320, 0, 640, 240)))[:2] == ["white", "green"]
    assert seen(cropped(first, (-50, -50, 9999, 9999))).size == (640, 480)
    assert seen(cropped(first, (10.6, 10.2, 99.3, 50.7))).size == (90, 41)


def test_a_small_part_of_a_picture_is_still_looked_through() -> None:
    """A narrow frame around a tall vase; as a picture of its own it would be too small."""
    part = cropped(prepared(saved(pattern(), "PNG")).jpeg, (200, 0, 300, 480))
    assert opened(part).grey.shape == (480, 100)
    with pytest.raises(InputError):
        prepared(part)
    with pytest.raises(InputError):
        opened(saved(pattern(1, 1), "PNG"))


@pytest.mark.parametrize(
    "box", [(10, 10, 10, 50), (50, 50, 10, 10), (700, 0, 800, 100), (0, 0, float("nan"), 9)]
)
def test_a_frame_with_nothing_in_it_is_refused(box: tuple[float, float, float, float]) -> None:
    first = prepared(saved(pattern(), "PNG")).jpeg
    with pytest.raises(InputError) as refused:
        cropped(first, box)
    assert refused.value.faults[0].field == "picture"


def test_only_our_own_working_pictures_are_changed() -> None:
    for act in (lambda data: turned(data, 1), lambda data: cropped(data, (0, 0, 9, 9))):
        with pytest.raises(InputError):
            act(saved(pattern(), "PNG"))
