"""Make an environment for nejime, install it there, and say in plain words what stands in the way.

For start.py and check.py, on Linux, macOS and Windows, with nothing but Python itself. The syntax
stays plain (no annotations, no f-strings), so that a Python 3 that is too old can read this far
and say so.

The project is installed, not linked: what runs is the package as others would get it. A stamp in
the environment tells what was installed from what. Only a changed list of requirements makes a new
environment; changed source alone is installed again within seconds, without the internet.
"""

import os
import sys

OLDEST_PYTHON = (3, 11)
NEWEST_TRIED_PYTHON = (3, 13)

if sys.version_info[:2] < OLDEST_PYTHON:
    sys.exit(
        "nejime needs Python %d.%d or newer, and this is Python %d.%d.\n"
        "Please install a newer one, or call it by its number, for instance: python%d.%d %s"
        % (OLDEST_PYTHON + sys.version_info[:2] + OLDEST_PYTHON + (os.path.basename(sys.argv[0]),))
    )

import hashlib
import importlib.util
import json
import shutil
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parent
STAMP = "nejime-stamp.json"
LOG = "setting-up.log"
REQUIREMENTS = ("pyproject.toml", "constraints.txt", "package-lock.json", "hatch_build.py")
FETCHED = (  # by hatch_build.py
    ROOT / "src" / "nejime" / "papers" / "fonts",
    ROOT / "src" / "nejime" / "web" / "static" / "vendor",
)
NOT_SOURCE = ("__pycache__",) + tuple(folder.name for folder in FETCHED)
LEAST_FREE_BYTES = 1000 * 1000 * 1000  # an environment takes 220 to 530 MB, and some in passing

NO_ROOM = ("no space left", "errno 28", "not enough space", "disk quota", "enospc")
NO_INTERNET = (
    "could not be fetched",
    "connection",
    "connect to proxy",
    "name resolution",
    "getaddrinfo",
    "timed out",
    "unreachable",
    "certificate verify failed",
    "max retries exceeded",
)
NO_SUCH_PACKAGE = ("no matching distribution", "resolutionimpossible")


class Trouble(Exception):
    """Why it cannot go on, in sentences for a person."""


class Environment:
    """A virtual environment of the project: where it is and what it was installed from."""

    def __init__(self, folder, extra):
        self.folder = ROOT / folder
        self.package = ".[%s]" % extra if extra else "."
        self.extra = extra

    def program(self, name):
        """The path of a command of the environment."""
        if os.name == "nt":
            return str(self.folder / "Scripts" / (name + ".exe"))
        return str(self.folder / "bin" / name)

    def is_whole(self):
        """Whether nobody has taken its commands away."""
        return all(Path(self.program(name)).exists() for name in ("python", "nejime"))

    def stamp(self):
        """What an installation made now would be made from."""
        about_python = "%s %s %s" % (sys.version, ROOT, self.extra)
        return {
            "requirements": fingerprint([ROOT / name for name in REQUIREMENTS], about_python),
            "source": fingerprint(source_files()),
        }

    def installed_stamp(self):
        """What the installation that is there was made from; empty where there is none."""
        try:
            return json.loads((self.folder / STAMP).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}


def source_files():
    """Every file of the package, but for what is fetched, for which the lock file stands."""
    found = []
    for folder, folders, names in os.walk(str(ROOT / "src")):
        folders[:] = sorted(name for name in folders if name not in NOT_SOURCE)
        found.extend(Path(folder, name) for name in sorted(names))
    return found


def fingerprint(files, more=""):
    """A number that changes when a file's name or content changes."""
    summed = hashlib.sha256(more.encode("utf-8"))
    for file in files:
        content = file.read_bytes() if file.exists() else b"none"
        summed.update(("%s %d " % (file.relative_to(ROOT), len(content))).encode("utf-8"))
        summed.update(content)
    return summed.hexdigest()


def politely(act, words):
    """Do act(words); its exit code, or words for a person instead of a traceback."""
    try:
        return act(words)
    except Trouble as trouble:
        tell("\n%s" % trouble)
        return 1
    except KeyboardInterrupt:
        tell("\nStopped.")
        return 130


def tell(words):
    """Say something beside what nejime itself prints, which may go on to another program."""
    print(words, file=sys.stderr, flush=True)


def set_up(folder, extra=""):
    """The environment in `folder`, with the project of today in it. Raises Trouble."""
    environment = Environment(folder, extra)
    wanted, found = environment.stamp(), environment.installed_stamp()
    usable = found.get("requirements") == wanted["requirements"] and environment.is_whole()
    if usable and wanted == found:
        return environment
    forget_stamp(environment)
    if usable and all(folder.exists() for folder in FETCHED):
        tell("Taking over what changed in nejime ...")
        install(environment, ["--no-deps", "--no-build-isolation", "--force-reinstall", "."])
    else:
        tell(
            "Setting up nejime in the folder %s. This is needed once, takes a minute or a few,\n"
            "and fetches 250 to 350 MB from the internet ..." % folder
        )
        make_environment(environment)
        install(environment, ["hatchling", environment.package])
    write_stamp(environment, wanted)
    tell("Ready.\n")
    return environment


def forget_stamp(environment):
    """From now until all is well, the environment counts as not set up."""
    try:
        (environment.folder / STAMP).unlink()
    except FileNotFoundError:
        pass
    except OSError as trouble:
        raise cannot_write(trouble) from None


def write_stamp(environment, stamp):
    """Note what the environment was made from."""
    try:
        (environment.folder / STAMP).write_text(json.dumps(stamp), encoding="utf-8")
    except OSError as trouble:
        raise cannot_write(trouble) from None


def cannot_write(trouble):
    """The trouble of a folder that takes no files."""
    if any(words in str(trouble).lower() for words in NO_ROOM):
        return no_room()
    return Trouble(
        "nejime cannot write into its own folder,\n    %s\n(%s). Please copy the whole folder to a "
        "place of your own, such as your documents, and try there." % (ROOT, trouble)
    )


def no_room():
    """The trouble of a full disk."""
    free = shutil.disk_usage(str(ROOT)).free
    return Trouble(
        "There is too little room on this disk: %d MB are free, and setting up needs about %d MB.\n"
        "Please make room and try again." % (free // 1000000, LEAST_FREE_BYTES // 1000000)
    )


def make_environment(environment):
    """An empty virtual environment, in place of an older one. Raises Trouble."""
    if shutil.disk_usage(str(ROOT)).free < LEAST_FREE_BYTES:
        raise no_room()
    if not (importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip")):
        raise no_venv()
    try:
        environment.folder.mkdir(exist_ok=True)
        (environment.folder / LOG).write_text("", encoding="utf-8")
    except OSError as trouble:
        raise cannot_write(trouble) from None
    output, code = run([sys.executable, "-m", "venv", "--clear", str(environment.folder)])
    if code != 0:
        if "ensurepip" in output:
            raise no_venv()
        raise explained(environment, output)


def no_venv():
    """The trouble of a Python that came without venv."""
    return Trouble(
        "This Python came without its part for making environments (venv).\n"
        "On Debian or Ubuntu it is installed with:\n"
        "    sudo apt install python%d.%d-venv\n"
        "On other machines, install Python from its own website, which brings it along. "
        "Then try again." % sys.version_info[:2]
    )


def install(environment, what):
    """Have pip install into the environment. Raises Trouble."""
    output, code = run([environment.program("python"), "-m", "pip", "install"] + what)
    if code != 0:
        raise explained(environment, output)


def surroundings():
    """The variables for a program of the environment: nothing leaks in from outside it."""
    leaks = ("PYTHONPATH", "PYTHONHOME", "PIP_TARGET", "PIP_PREFIX", "PIP_USER", "PIP_ROOT")
    kept = {name: value for name, value in os.environ.items() if name not in leaks}
    kept["PYTHONNOUSERSITE"] = "1"
    return kept


def run(command):
    """Run a command of the setting-up; its output and exit code."""
    variables = surroundings()
    # Relative to the root, where pip is run: pip would break a path with a space in it.
    # Up to pip 25 the first also holds while a package is built, later ones need the second.
    variables["PIP_CONSTRAINT"] = variables["PIP_BUILD_CONSTRAINT"] = "constraints.txt"
    variables["PIP_DISABLE_PIP_VERSION_CHECK"] = variables["PIP_NO_INPUT"] = "1"
    done = subprocess.run(
        command,
        cwd=str(ROOT),
        env=variables,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )
    return done.stdout.decode("utf-8", "replace"), done.returncode


def explained(environment, output):
    """The trouble that a program's output speaks of; the output itself is kept in a file."""
    said = output.lower()
    if any(words in said for words in NO_ROOM):
        return no_room()
    not_to_be_had = any(words in said for words in NO_SUCH_PACKAGE)
    if not_to_be_had and sys.version_info[:2] > NEWEST_TRIED_PYTHON:
        reason = (
            "Something that nejime needs is not to be had for this Python, which is %d.%d.\n"
            "It may be too new: please try with Python %d.%d."
            % (sys.version_info[:2] + NEWEST_TRIED_PYTHON)
        )
    elif not_to_be_had or any(words in said for words in NO_INTERNET):
        reason = (
            "What nejime needs could not be fetched from the internet.\n"
            "Please check the connection (a firewall may stand in the way) and try again."
        )
    else:
        reason = "Setting up nejime did not work, for a reason that it does not know."
    return Trouble(reason + details(environment, output))


def details(environment, output):
    """Keep a program's output; a sentence that tells where."""
    log = environment.folder / LOG
    try:
        log.write_text(output, encoding="utf-8")
    except OSError:
        return ""
    return "\nFor somebody who knows computers, the details are in\n    %s" % log
