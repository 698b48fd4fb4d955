"""What all tests share, each in its own file, and how hypothesis looks for examples.

check.py asks for the steady profile, so that the same source gives the same answer on every
machine. pytest called by hand looks for new examples each time.
"""

from hypothesis import settings

pytest_plugins = ("pytester", "source_marks", "machine_marks", "suggested_once")

settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("exploring", deadline=None)
settings.load_profile("exploring")
