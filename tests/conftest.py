"""The marks of the tests, each in its own file."""

pytest_plugins = ("pytester", "source_marks", "machine_marks")
