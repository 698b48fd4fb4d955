"""The marks do what they promise: shown on small test files of their own."""

from __future__ import annotations

import pytest

PLUGINS = ("-p", "source_marks", "-p", "machine_marks", "-p", "no:hypothesispytest")


def test_a_known_source_is_accepted(pytester: pytest.Pytester) -> None:
    pytester.makepyfile("""
        import pytest

        @pytest.mark.source("hand", "1 + 1 = 2")
        def test_sum():
            assert 1 + 1 == 2
        """)
    pytester.runpytest(*PLUGINS).assert_outcomes(passed=1)


def test_an_unknown_source_stops_the_collection(pytester: pytest.Pytester) -> None:
    pytester.makepyfile("""
        import pytest

        @pytest.mark.source("nobody1900", "p. 1")
        def test_sum():
            assert 1 + 1 == 2
        """)
    outcome = pytester.runpytest(*PLUGINS)
    assert outcome.ret == pytest.ExitCode.USAGE_ERROR
    outcome.stderr.fnmatch_lines(["*test_sum: no source 'nobody1900' in sources.toml"])


@pytest.mark.parametrize("words", ['"hand"', '"hand", 2', '"hand", place="p. 1"', ""])
def test_a_source_without_a_place_stops_the_collection(
    pytester: pytest.Pytester, words: str
) -> None:
    pytester.makepyfile(f"""
        import pytest

        @pytest.mark.source({words})
        def test_sum():
            assert 1 + 1 == 2
        """)
    outcome = pytester.runpytest(*PLUGINS)
    assert outcome.ret == pytest.ExitCode.USAGE_ERROR
    outcome.stderr.fnmatch_lines(["*a source mark has a key and a place*"])


def test_a_published_value_needs_a_mark(pytester: pytest.Pytester) -> None:
    folder = pytester.mkdir("published")
    (folder / "test_book.py").write_text("def test_sum():\n    assert 1 + 1 == 2\n", "utf-8")
    outcome = pytester.runpytest(*PLUGINS)
    assert outcome.ret == pytest.ExitCode.USAGE_ERROR
    outcome.stderr.fnmatch_lines(["*test_sum: a test against a published source names it*"])


NEEDY = """
    import pytest

    @pytest.mark.needs("pdftoppm")
    def test_picture():
        pass
    """


def test_a_missing_program_skips_and_says_so(
    pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NEJIME_SKIP_NOTHING", raising=False)
    monkeypatch.setenv("PATH", str(pytester.path))
    pytester.makepyfile(NEEDY)
    outcome = pytester.runpytest(*PLUGINS)
    outcome.assert_outcomes(skipped=1)
    outcome.stdout.fnmatch_lines(["1 of the tests: pdftoppm is not installed on this machine"])


SKIPPED_WHOLE = "import pytest\npytest.skip('not today', allow_module_level=True)"


@pytest.mark.parametrize("text", [NEEDY, SKIPPED_WHOLE], ids=["test", "file"])
def test_where_nothing_may_be_skipped_a_skip_fails(
    pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch, text: str
) -> None:
    monkeypatch.setenv("NEJIME_SKIP_NOTHING", "1")
    monkeypatch.setenv("PATH", str(pytester.path))
    pytester.makepyfile(text)
    assert pytester.runpytest(*PLUGINS).ret not in (
        pytest.ExitCode.OK,
        pytest.ExitCode.NO_TESTS_COLLECTED,
    )
