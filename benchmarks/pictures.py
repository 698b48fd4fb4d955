"""How long a picture of 48 megapixels takes until it can be marked, and how much memory.

Run: python benchmarks/pictures.py

Each picture is prepared in a process of its own, which tells its time and its largest memory: from
the bytes that arrive to the clean small JPEG and the grey picture in which the marker card is
looked for. The pictures are drawn here, with grain, so that a JPEG has about the size of a
telephone's. A HEIC is made only where an encoder is installed (pillow-heif): the project itself
only decodes. Linux and macOS.
"""

from __future__ import annotations

import io
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from PIL import Image, ImageCms

SECONDS, MOST_MB = 2.0, 500.0  # what is aimed at


def drawn(wide: int, high: int, grain: int = 9) -> Image.Image:
    """Soft light with grain and some thousand edges."""
    lot = np.random.default_rng(3)
    coarse = lot.integers(40, 220, (high // 400, wide // 400, 3), np.uint8)
    image = Image.fromarray(coarse).resize((wide, high), Image.Resampling.BICUBIC)
    pixels = np.asarray(image).astype(np.int16)
    pixels += lot.integers(-grain, grain + 1, (high, wide, 1), np.int16)
    return Image.fromarray(np.clip(pixels, 0, 255).astype(np.uint8))


def made() -> Iterator[tuple[str, bytes]]:
    """The pictures as they arrive; PNG without grain, with which it is larger than we take."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    yield "12 MP JPEG", saved(drawn(4032, 3024), "JPEG", quality=88, icc_profile=profile)
    yield "24 MP WebP", saved(drawn(5664, 4248), "WEBP", quality=80, method=0)
    image = drawn(8064, 6048)
    yield "48 MP JPEG", saved(image, "JPEG", quality=88, icc_profile=profile)
    yield "48 MP JPEG, by steps", saved(image, "JPEG", quality=88, progressive=True)
    try:
        import pillow_heif
    except ImportError:
        print("no encoder of HEIC is installed: left out")
    else:
        pillow_heif.register_heif_opener()
        yield "48 MP HEIC", saved(image, "HEIF", quality=60)
    image = drawn(8064, 6048, grain=0)
    yield "48 MP PNG", saved(image, "PNG", compress_level=1)
    yield "48 MP PNG, see-through", saved(image.convert("RGBA"), "PNG", compress_level=1)


def saved(image: Image.Image, kind: str, **options: object) -> bytes:
    """The bytes of a picture."""
    into = io.BytesIO()
    image.save(into, kind, **options)
    return into.getvalue()


def prepare(file: str) -> None:
    """Prepares one picture, and tells what it took."""
    from nejime.photo.picture import prepared

    data = Path(file).read_bytes()
    before = time.perf_counter()
    prepared(data)
    took = time.perf_counter() - before
    unit = 1 if sys.platform == "darwin" else 1024
    whose = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)  # a HEIC has its own process
    print(took, sum(resource.getrusage(each).ru_maxrss for each in whose) * unit / 1e6)


def draw(folder: str) -> None:
    """Writes every picture as a file; apart, as a process passes its largest memory on."""
    for name, data in made():
        (Path(folder) / name).write_bytes(data)


def told(*words: str) -> str:
    """What this script says in a process of its own."""
    command = [sys.executable, __file__, *words]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def main() -> None:
    """Print what was measured beside what is aimed at."""
    print(f"aimed at: {SECONDS:.0f} s and {MOST_MB:.0f} MB for a JPEG of 48 megapixels")
    with tempfile.TemporaryDirectory() as folder:
        print(told("draw", folder), end="")
        for file in sorted(Path(folder).iterdir()):
            took, most = map(float, told("prepare", str(file)).split())
            heavy = file.stat().st_size / 1e6
            print(f"{file.name:24} {heavy:5.1f} MB: {took:.2f} s, {most:.0f} MB of memory")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        {"draw": draw, "prepare": prepare}[sys.argv[1]](sys.argv[2])
    else:
        main()
