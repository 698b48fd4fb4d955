"""Serving seekers in turn, against an independent library and against trying everything."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_bipartite_matching

from nejime.material.matching import NONE, Matching

ENDS = st.lists(st.integers(0, 2), min_size=1, max_size=4)


@st.composite
def asked(draw: st.DrawFn) -> tuple[list[tuple[int, ...]], list[int]]:
    ends = draw(ENDS)
    sources = st.sampled_from(range(len(ends)))
    some = st.lists(sources, unique=True, max_size=len(ends)).map(tuple)
    return draw(st.lists(some, max_size=7)), ends


def served(accepts: list[tuple[int, ...]], ends: list[int]) -> Matching:
    matching = Matching(accepts, ends)
    for seeker in range(len(accepts)):
        matching.serve(seeker)
    return matching


def most_served(accepts: list[tuple[int, ...]], ends: list[int]) -> int:
    """The largest number that can be served together, by scipy's matching."""
    owner = [source for source, number in enumerate(ends) for _ in range(number)]
    if not owner or not accepts:
        return 0
    edges = np.array([[source in each for source in owner] for each in accepts], dtype=int)
    return int((maximum_bipartite_matching(csr_matrix(edges), perm_type="column") >= 0).sum())


@pytest.mark.source("hand", "one end that only the second accepts, one that both do: two served")
def test_somebody_served_moves_so_that_another_is_served_too():
    matching = served([(0, 1), (0,)], [1, 1])
    assert matching.held == [1, 0]


@given(asked())
def test_as_many_are_served_as_scipy_can_match(told):
    accepts, ends = told
    matching = served(accepts, ends)
    assert sum(held != NONE for held in matching.held) == most_served(accepts, ends)


@given(asked())
def test_ends_go_only_where_they_are_accepted_and_none_twice(told):
    accepts, ends = told
    matching = served(accepts, ends)
    for seeker, held in enumerate(matching.held):
        assert held == NONE or held in accepts[seeker]
    for source, number in enumerate(ends):
        assert matching.held.count(source) <= number


@given(asked())
def test_who_comes_first_is_served_whenever_that_can_be(told):
    accepts, ends = told
    matching = served(accepts, ends)
    before: list[tuple[int, ...]] = []
    for seeker, each in enumerate(accepts):
        could = most_served([*before, each], ends) == len(before) + 1
        assert (matching.held[seeker] != NONE) == could
        before += [each] if could else []


@given(asked(), st.data())
def test_ends_added_anywhere_make_nobody_short(told, data):
    accepts, ends = told
    before = served(accepts, ends)
    place = data.draw(st.sampled_from(range(len(ends))))
    after = served(accepts, [number + (at == place) for at, number in enumerate(ends)])
    for seeker in range(len(accepts)):
        assert before.held[seeker] == NONE or after.held[seeker] != NONE


@given(asked(), st.data())
def test_fewer_ends_are_refused_exactly_when_somebody_would_be_short(told, data):
    accepts, ends = told
    matching = served(accepts, ends)
    place = data.draw(st.sampled_from(range(len(ends))))
    fewer = [number - (at == place and number > 0) for at, number in enumerate(ends)]
    kept = [each for each, held in zip(accepts, matching.held, strict=True) if held != NONE]
    found = matching.with_ends({place: fewer[place]})
    assert (found is not None) == (most_served(kept, fewer) == len(kept))
    if found is not None:
        assert [held != NONE for held in found.held] == [held != NONE for held in matching.held]
        assert all(found.held.count(source) <= number for source, number in enumerate(fewer))


@given(asked(), st.data())
def test_a_narrower_choice_is_refused_exactly_when_somebody_would_be_short(told, data):
    accepts, ends = told
    matching = served(accepts, ends)
    seekers = [seeker for seeker, held in enumerate(matching.held) if held != NONE]
    if not seekers:
        return
    narrow = data.draw(st.sampled_from(seekers))
    few = accepts[narrow][:1]
    kept = [few if seeker == narrow else accepts[seeker] for seeker in seekers]
    found = matching.narrowed({narrow: few})
    assert (found is not None) == (most_served(kept, ends) == len(kept))
    assert matching.accepts == accepts
