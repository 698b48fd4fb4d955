"""Check nejime: style, types, who imports whom, and the tests against the installed package.

`python3 check.py` needs nothing set up beforehand: it makes the folder `.venv-check`, apart from
the `.venv` of start.py, so that who only uses nejime never fetches the tools for testing it. Words
after it go to pytest, which runs last: `python3 check.py -k vessel`.
"""

import subprocess
import sys
import time

from setting_up import ROOT, politely, set_up, surroundings

CHECKS = (
    ("style", ["ruff", "check", "--quiet", "--output-format=concise", "."]),
    ("layout", ["ruff", "format", "--check", "--quiet", "--output-format=concise", "."]),
    ("types", ["mypy", "--no-error-summary"]),
    ("imports", ["lint-imports", "--no-cache", "--no-logo"]),
)
PYTEST = ["pytest", "--durations=10", "--hypothesis-profile=steady"]
IN_BROWSER = "tests/browser"
TESTS = (  # two files at a time, each in its order; a browser needs both cores for itself
    ("tests", PYTEST + ["-n", "2", "--dist", "loadfile", "--ignore=" + IN_BROWSER]),
    ("tests in the browser", PYTEST + [IN_BROWSER]),
)


def run(environment, command):
    """Run a command of the environment in the project's folder; whether it was content."""
    whole = [environment.program(command[0])] + command[1:]
    return subprocess.call(whole, cwd=str(ROOT), env=surroundings()) == 0


def passed(environment, name, command):
    """Run one check and print how it went; whether it passed."""
    print("%s: %s" % (name, " ".join(command)), flush=True)
    began = time.perf_counter()
    well = run(environment, command)
    took = time.perf_counter() - began
    print("%s: %s (%.1f s)\n" % (name, "passed" if well else "FAILED", took), flush=True)
    return well


def check_all(words):
    """Every check, whatever the others say; the exit code."""
    environment = set_up(".venv-check", "test")
    failed = [name for name, command in CHECKS if not passed(environment, name, command)]
    tests = (("tests", PYTEST + words),) if words else TESTS
    failed += [name for name, command in tests if not run(environment, command)]
    print("Not passed: %s" % ", ".join(failed) if failed else "All checks passed.")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(politely(check_all, sys.argv[1:]))
