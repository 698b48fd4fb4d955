"""A picture looked at in a process of its own, for files whose decoder may fall over.

Model: a damaged HEIC can end the process that decodes it, so that another does it: bytes in, one
line of JSON and the bare pixels of the small picture out. What ends without an answer, or takes
too long, was damaged.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from typing import Any

from nejime.basis.errors import InputError, refuse

MOST_S = 60.0  # [own] the largest picture takes a tenth of it on a slow machine


def looked_at(data: bytes, least_px: int) -> tuple[dict[str, Any], bytes]:
    """What another process says of a picture, and its pixels. Raises `InputError`."""
    told = [sys.executable, "-P", "-m", "nejime.photo.apart", str(least_px)]
    where = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    try:
        done = subprocess.run(told, input=data, capture_output=True, timeout=MOST_S, env=where)
        line, _, pixels = done.stdout.partition(b"\n")
        said = json.loads(line) if done.returncode == 0 else None
    except (subprocess.TimeoutExpired, OSError, ValueError):
        said = None
    if said is None:
        raise refuse("picture", "photo.picture.damaged", "photo.picture.damaged-try")
    if "refused" in said:
        key, try_key, quantities = said["refused"]
        raise refuse("picture", key, try_key, **quantities)
    return said, pixels


def answer(data: bytes, least_px: int) -> bytes:
    """The answer of the other process: what is known of a picture as a line, and its pixels."""
    from nejime.photo.picture import seen_here

    try:
        known, upright = seen_here(data, least_px)
    except InputError as refused:
        (fault,) = refused.faults
        assert fault.try_instead is not None
        said = [fault.says.key, fault.try_instead.key, dict(fault.says.quantities)]
        return json.dumps({"refused": said}).encode() + b"\n"
    line = {
        "size": [known.width_px, known.height_px],
        "small": list(upright.size),
        "focal_35mm": known.focal_35mm,
        "remarks": [[each.key, dict(each.quantities)] for each in known.remarks],
    }
    return json.dumps(line).encode() + b"\n" + upright.tobytes()


if __name__ == "__main__":
    sys.stdout.buffer.write(answer(sys.stdin.buffer.read(), int(sys.argv[1])))
