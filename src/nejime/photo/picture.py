"""Pictures: opened whatever they are, turned upright, made smaller, and stripped of what they tell.

Model: one picture is opened at a time, so that several at once need no more memory than one. What
is handed on is built anew from bare pixels: place, time, names, comments, thumbnails and colour
profile stay behind, the profile after its colours were taken over. What the camera wrote is read
for two things only, the orientation and the focal length. A HEIC is decoded by a process of its
own, as a damaged one can end its decoder.

Orientation: of a JPEG, PNG or WebP the camera's note decides; a HEIC is turned by its container
while it is decoded, and its note is not looked at again.

Frame: pixels in display orientation, the centre of the top-left pixel at 0, 0.
Source: Exif [cipa-exif]
"""

from __future__ import annotations

import io
import math
import threading
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np
from pi_heif import HeifImageFile, open_heif
from PIL import Image, ImageCms

from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Saying
from nejime.photo.apart import looked_at
from nejime.photo.containers import MOST_SCANS, SCAN, kind_of, webp_size
from nejime.photo.focal import trusted
from nejime.photo.opened import Grey, Opened, Prepared

Box = tuple[float, float, float, float]

MOST_BYTES = 60_000_000  # [own] a telephone's largest pictures have a third of it
MOST_PIXELS = 60_000_000  # [own] above the 50 million of common telephones
MOST_WEBP_PIXELS = 25_000_000  # [own] its decoder holds four whole pictures at a time
LEAST_SIDE_PX = 300  # [own] a rim of 100 pixels cannot be marked to a hundredth
LEAST_PART_PX = 16  # [own] of a part that was cut out before
MOST_WORK_PX = 2048  # [own] longer side of the picture that is marked and looked through
LEAST_WORK_PX = 1600  # [own] a decoder may halve a picture while it is larger than this
QUALITY = 88  # [own] edges stay within a fraction of a pixel
STRIP_ROWS = 256  # [own] rows of a large picture that are made smaller at once

ORIENTATION, EXIF_IFD = 0x0112, 0x8769
DIGITAL_ZOOM, FOCAL_35MM = 0xA404, 0xA405
NOTED_WIDTH, NOTED_HEIGHT = 0xA002, 0xA003
UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What turns a picture upright, by its orientation; every other number leaves it."""
QUARTERS = (
    None,
    Image.Transpose.ROTATE_270,
    Image.Transpose.ROTATE_180,
    Image.Transpose.ROTATE_90,
)

_door = threading.Lock()


def opened(data: bytes) -> Opened:
    """The picture as it is measured, or a part of one. Raises `InputError` at `picture`."""
    return _seen(data, LEAST_PART_PX)[0]


def prepared(data: bytes) -> Prepared:
    """The picture to mark, and as it is measured. Raises `InputError` at `picture`."""
    known, upright = _seen(data, LEAST_SIDE_PX)
    return Prepared(_clean_jpeg(upright), upright.width, upright.height, known)


def cropped(jpeg: bytes, box: Box) -> bytes:
    """The part of a working picture inside a box: left, top, right, bottom, in its pixels.

    Raises `InputError` where nothing would be left, or for what is no picture.
    """
    if not all(math.isfinite(each) for each in box):
        raise refuse("picture", "photo.picture.no-part", "photo.picture.no-part-try")
    with _working(jpeg) as image:
        left, top = max(0, math.floor(box[0])), max(0, math.floor(box[1]))
        right, low = min(image.width, math.ceil(box[2])), min(image.height, math.ceil(box[3]))
        if right <= left or low <= top:
            raise refuse("picture", "photo.picture.no-part", "photo.picture.no-part-try")
        return _clean_jpeg(image.crop((left, top, right, low)))


def turned(jpeg: bytes, quarters: int) -> bytes:
    """A working picture turned by quarters of a turn, clockwise. Raises `InputError`."""
    with _working(jpeg) as image:
        turn = QUARTERS[quarters % 4]
        return _clean_jpeg(image if turn is None else image.transpose(turn))


def within(width_px: float, height_px: float, most_px: int) -> tuple[int, int]:
    """A size of the same shape of which no side is longer; never larger than it is."""
    share = min(1.0, most_px / max(width_px, height_px))
    return max(1, round(width_px * share)), max(1, round(height_px * share))


# What opens


def _seen(data: bytes, least_px: int) -> tuple[Opened, Image.Image]:
    """The picture as it is measured, and the same in colour; a HEIC by another process."""
    if len(data) > MOST_BYTES:
        most = MOST_BYTES // 1_000_000
        raise refuse("picture", "photo.picture.heavy", "photo.picture.large-try", most_mb=most)
    if kind_of(data) != "heic":
        return seen_here(data, least_px)
    with _sole():
        said, pixels = looked_at(data, least_px)
        upright = Image.frombytes("RGB", tuple(said["small"]), pixels)
        remarks = tuple(Saying(key, **quantities) for key, quantities in said["remarks"])
        wide, high = said["size"]
        return Opened(wide, high, said["focal_35mm"], _grey(upright), remarks), upright


def seen_here(data: bytes, least_px: int) -> tuple[Opened, Image.Image]:
    """The picture as it is measured, and the same in colour, decoded by this process.

    Raises `InputError` at `picture`, whatever goes wrong.
    """
    kind = kind_of(data)
    with _sole(), _opener(kind)(data) as image:
        _fits(image.size, kind, least_px)
        if kind != "heic" and getattr(image, "is_animated", False) and image.format != "MPO":
            raise refuse("picture", "photo.picture.moves", "photo.picture.moves-try")
        return _measured(image)


@contextmanager
def _working(jpeg: bytes) -> Iterator[Image.Image]:
    with _sole(), Image.open(io.BytesIO(jpeg), formats=("JPEG",)) as image:
        image.load()
        yield image


@contextmanager
def _sole() -> Iterator[None]:
    """One picture at a time; damage that a decoder finds, of whatever sort, becomes a fault."""
    with _door, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            yield
        except InputError:
            raise
        except (Image.DecompressionBombError, Image.DecompressionBombWarning, MemoryError):
            raise _too_large() from None
        except Exception:  # decoders of damaged files raise nearly everything
            raise refuse("picture", "photo.picture.damaged", "photo.picture.damaged-try") from None


def _too_large() -> InputError:
    most = MOST_PIXELS // 1_000_000
    return refuse("picture", "photo.picture.large", "photo.picture.large-try", most_million=most)


def _fits(size: tuple[int, int], kind: str, least_px: int) -> None:
    """Refuses what is too small to mark, or too large to hold."""
    wide, high = size
    if wide * high > (MOST_WEBP_PIXELS if kind == "webp" else MOST_PIXELS):
        raise _too_large()
    if min(wide, high) < least_px:
        raise refuse(
            "picture",
            "photo.picture.small",
            "photo.picture.small-try",
            width_px=wide,
            height_px=high,
            least_px=least_px,
        )


def _opener(kind: str) -> Callable[[bytes], Image.Image]:
    return {"jpeg": _jpeg, "png": _png, "webp": _webp, "heic": _heic}[kind]


def _jpeg(data: bytes) -> Image.Image:
    if data.count(SCAN) > MOST_SCANS:
        raise refuse("picture", "photo.picture.damaged", "photo.picture.damaged-try")
    return Image.open(io.BytesIO(data), formats=("JPEG",))


def _png(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data), formats=("PNG",))


def _webp(data: bytes) -> Image.Image:
    size = webp_size(data)
    if size is not None:  # the decoder takes its memory before the size can be asked for
        _fits(size, "webp", LEAST_PART_PX)
    return Image.open(io.BytesIO(data), formats=("WEBP",))


def _heic(data: bytes) -> Image.Image:
    image: Image.Image = HeifImageFile(io.BytesIO(data))
    return image


# What is measured


def _measured(image: Image.Image) -> tuple[Opened, Image.Image]:
    """The picture as it is measured, and the same in colour and upright."""
    small, size = _decoded(image)
    turn = UPRIGHT.get(_orientation(image))
    if turn is not None:
        small = small.transpose(turn)
        size = size[::-1] if turn in _ON_ITS_SIDE else size
    noted = [_noted(image, EXIF_IFD, tag) for tag in (NOTED_WIDTH, NOTED_HEIGHT)]
    told = _noted(image, EXIF_IFD, FOCAL_35MM)
    focal, remarks = trusted(told, _noted(image, EXIF_IFD, DIGITAL_ZOOM), noted, size)
    return Opened(size[0], size[1], focal, _grey(small), remarks), small


def _grey(colour: Image.Image) -> Grey:
    return np.asarray(colour.convert("L"), dtype=np.uint8)


_ON_ITS_SIDE = {UPRIGHT[each] for each in (5, 6, 7, 8)}


def _decoded(image: Image.Image) -> tuple[Image.Image, tuple[int, int]]:
    """The picture as it is stored, small and in the screen's colours, and its full size."""
    if image.format == "HEIF":
        return _decoded_heic(image)
    full = image.size
    image.draft(None, within(*full, LEAST_WORK_PX))
    image.load()
    halved = max(1, round(max(full[0] / image.width, full[1] / image.height)))
    used = (full[0] / halved, full[1] / halved)
    size = within(*used, MOST_WORK_PX)
    return _coloured(_smaller(_plain(image), used, size), image), full


def _decoded_heic(image: Any) -> tuple[Image.Image, tuple[int, int]]:
    """The same of a HEIC, whose pixels are large enough not to be held twice.

    Its size is known for certain when it is decoded.
    """
    held = open_heif(image.fp, convert_hdr_to_8bit=True)
    primary = held[held.primary_index]
    pixels = np.asarray(primary)[:, : primary.size[0]]
    full = (int(pixels.shape[1]), int(pixels.shape[0]))
    size = within(*full, MOST_WORK_PX)
    step = max(1, min(full[0] // size[0], full[1] // size[1]))
    whole = _reduced(lambda top, low: Image.fromarray(pixels[top:low]), full, step)
    return _coloured(_smaller(whole, (full[0] / step, full[1] / step), size), image), full


def _plain(image: Image.Image) -> Image.Image:
    """A picture of one of the modes that can be made smaller."""
    if image.mode in ("P", "PA"):
        return image.convert("RGBA" if _see_through(image) else "RGB")
    if image.mode == "1":
        return image.convert("L")
    if image.mode.startswith("I"):
        return Image.fromarray((np.asarray(image).astype(np.uint32) >> 8).clip(0, 255).astype("u1"))
    if image.mode == "L" and _see_through(image):
        return image.convert("LA")
    if image.mode == "RGB" and _see_through(image):
        return image.convert("RGBA")
    return image


def _see_through(image: Image.Image) -> bool:
    return image.mode == "PA" or "transparency" in image.info


def _smaller(image: Image.Image, used: tuple[float, float], size: tuple[int, int]) -> Image.Image:
    """The used part of a picture at another size; a much larger one strip by strip."""
    step = int(min(used[0] / size[0], used[1] / size[1]))
    if step >= 2:
        stored = image
        image = _reduced(
            lambda top, low: stored.crop((0, top, stored.width, low)), stored.size, step
        )
        used = (used[0] / step, used[1] / step)
    if image.size == size:
        return image
    box = (0.0, 0.0, min(used[0], image.width), min(used[1], image.height))
    return image.resize(size, Image.Resampling.BOX if step >= 2 else Image.Resampling.LANCZOS, box)


def _reduced(
    part: Callable[[int, int], Image.Image], size: tuple[int, int], step: int
) -> Image.Image:
    """A picture made smaller by a whole number, strip by strip; `part` gives rows of it."""
    wide, high = size
    rows = STRIP_ROWS * step
    tops = range(0, high, rows)
    strips = [part(top, min(top + rows, high)).reduce(step) for top in tops]
    whole = Image.new(strips[0].mode, (-(-wide // step), -(-high // step)))
    for number, strip in enumerate(strips):
        whole.paste(strip, (0, number * STRIP_ROWS))
    return whole


def _coloured(small: Image.Image, image: Image.Image) -> Image.Image:
    """A small picture in the screen's own colours, on white where it was transparent."""
    alpha = small.getchannel("A") if small.mode in ("LA", "RGBA") else None
    bare = small.convert(small.mode[:-1]) if alpha else small
    colour = _on_screen(bare, image.info.get("icc_profile"))
    if alpha is None:
        return colour
    white = Image.new("RGB", colour.size, "white")
    white.paste(colour, mask=alpha)
    return white


def _on_screen(bare: Image.Image, profile: bytes | None) -> Image.Image:
    """Colours as the screen has them; a profile that is damaged counts as none."""
    if profile:
        try:
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            made = ImageCms.profileToProfile(
                bare, own, ImageCms.createProfile("sRGB"), outputMode="RGB"
            )
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            made = None
        if made is not None:
            return made
    return bare.convert("RGB")


def _clean_jpeg(image: Image.Image) -> bytes:
    """A JPEG of nothing but the pixels."""
    bare = image.convert("RGB")
    anew = Image.frombytes("RGB", bare.size, bare.tobytes())
    made = io.BytesIO()
    anew.save(made, "JPEG", quality=QUALITY)
    return made.getvalue()


# What the camera wrote


def _orientation(image: Image.Image) -> int:
    if image.format == "HEIF":
        return 1
    found = _noted(image, None, ORIENTATION)
    return int(found) if found is not None else 1


def _noted(image: Image.Image, part: int | None, tag: int) -> float | None:
    """A number that the camera wrote; None where there is none that can be read."""
    try:
        notes: Any = image.getexif()
        found = float((notes if part is None else notes.get_ifd(part)).get(tag))
    except Exception:  # damaged notes are no reason to refuse a picture
        return None
    return found if math.isfinite(found) else None
