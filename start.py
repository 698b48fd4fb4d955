"""Run nejime: `python3 start.py` plans the first example, `python3 start.py WORDS` passes them on.

The first run sets everything up in the folder `.venv`; see setting_up.py.
"""

import os
import subprocess
import sys

from setting_up import ROOT, Trouble, politely, set_up, surroundings

PAPERS = "nejime-papers"
NEXT = """
Open the papers in that folder, and print what you like. To plan a class of your own:
  {0} new-class my-class.toml
  {0} plan my-class.toml --out my-papers"""


def first_example():
    """The class file that is planned when no words are given. Raises Trouble."""
    examples = sorted((ROOT / "examples").glob("*.toml"))
    if not examples:
        raise Trouble("There is no class file in the folder %s." % (ROOT / "examples"))
    return examples[0]


def command():
    """What somebody types to come here."""
    return "%s start.py" % ("python" if os.name == "nt" else "python3")


def nejime(environment, words):
    """Run the nejime command from where the reader is; its exit code."""
    around = dict(surroundings(), NEJIME_COMMAND=command())
    return subprocess.call([environment.program("nejime")] + words, env=around)


def plan_first_example(environment):
    """Plan the first example into a folder, and say what to do next; the exit code."""
    example, papers = first_example(), ROOT / PAPERS
    print("Planning the class in %s ..." % os.path.relpath(str(example)), flush=True)
    code = nejime(environment, ["plan", str(example), "--out", str(papers)])
    if code == 0:
        print(NEXT.format(command()))
    return code


def start(words):
    """Set up if need be, and run; the exit code."""
    environment = set_up(".venv")
    return nejime(environment, words) if words else plan_first_example(environment)


if __name__ == "__main__":
    sys.exit(politely(start, sys.argv[1:]))
