"""Run nejime: `python3 start.py` opens its pages in the browser, with WORDS it runs that command.

The first run sets everything up in the folder `.venv`; see setting_up.py.
"""

import os
import subprocess
import sys

from setting_up import politely, set_up, surroundings


def command():
    """What somebody types to come here."""
    return "%s start.py" % ("python" if os.name == "nt" else "python3")


def nejime(environment, words):
    """Run the nejime command from where the reader is; its exit code."""
    around = dict(surroundings(), NEJIME_COMMAND=command())
    return subprocess.call([environment.program("nejime")] + words, env=around)


def start(words):
    """Set up if need be, and run; the exit code."""
    environment = set_up(".venv")
    return nejime(environment, words or ["open"])


if __name__ == "__main__":
    sys.exit(politely(start, sys.argv[1:]))
