"""Which want gets an end from which source: matching by augmenting paths.

Model: a source has a number of equal ends; a seeker wants one end and accepts some sources. A
seeker once served stays served, though its end may come from another source later.
What can be served together forms a matroid, so serving seekers in a fixed order serves as many as
possible; and because a want and an end are complements, ends added anywhere never make a seeker
short that was served without them.
Source: augmenting paths, Berge (1957); the matroid, Edmonds and Fulkerson (1965); complements,
Shapley (1962).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

NONE = -1


class Matching:
    """Seekers and the sources from which they have an end; both are counted from 0.

    `accepts[seeker]` are the sources that it accepts, the best first; `ends[source]` counts its
    ends; `held[seeker]` is the source that it has an end of, or `NONE`.
    """

    __slots__ = ("_inside", "accepts", "ends", "held")

    def __init__(self, accepts: Sequence[tuple[int, ...]], ends: Sequence[int]) -> None:
        self.accepts = list(accepts)
        self.ends = list(ends)
        self.held = [NONE] * len(self.accepts)
        self._inside: list[dict[int, None]] = [{} for _ in self.ends]

    def copy(self) -> Matching:
        """The same matching, to be changed apart from this one."""
        twin = Matching.__new__(Matching)
        twin.accepts, twin.ends, twin.held = self.accepts[:], self.ends[:], self.held[:]
        twin._inside = [dict(each) for each in self._inside]
        return twin

    def serve(self, seeker: int) -> bool:
        """Give a seeker an end, others moving to other sources if they must; whether it could."""
        mover: dict[int, int] = {}
        queue, tried = [seeker], set()
        for each in queue:
            if self.accepts[each] in tried:
                continue
            tried.add(self.accepts[each])
            for source in self.accepts[each]:
                if source in mover:
                    continue
                mover[source] = each
                if len(self._inside[source]) < self.ends[source]:
                    self._shift(source, mover)
                    return True
                queue.extend(self._inside[source])
        return False

    def _shift(self, source: int, mover: dict[int, int]) -> None:
        """Move seekers along the path that ends at a source with an end to spare."""
        while source != NONE:
            seeker = mover[source]
            left = self.held[seeker]
            if left != NONE:
                del self._inside[left][seeker]
            self._inside[source][seeker] = None
            self.held[seeker] = source
            source = left

    def _release(self, seeker: int) -> None:
        source = self.held[seeker]
        if source != NONE:
            del self._inside[source][seeker]
            self.held[seeker] = NONE

    def with_ends(self, ends: Mapping[int, int]) -> Matching | None:
        """This matching with other numbers of ends; None if somebody served would be short."""
        changed = self.copy()
        turned_out: list[int] = []
        for source, number in ends.items():
            changed.ends[source] = number
            turned_out += list(changed._inside[source])[number:]
        return changed._moved(turned_out)

    def narrowed(self, accepts: Mapping[int, tuple[int, ...]]) -> Matching | None:
        """This matching with some seekers accepting less; None if somebody served would be short.

        Seekers that are not served stay so.
        """
        changed = self.copy()
        for seeker, sources in accepts.items():
            changed.accepts[seeker] = sources
        left = (seeker for seeker in accepts if changed.held[seeker] not in changed.accepts[seeker])
        return changed._moved([seeker for seeker in left if changed.held[seeker] != NONE])

    def _moved(self, seekers: Sequence[int]) -> Matching | None:
        """This matching after some served seekers had to find another source; None if not all."""
        for seeker in seekers:
            del self._inside[self.held[seeker]][seeker]
            self.held[seeker] = NONE
        return self if all(self.serve(seeker) for seeker in seekers) else None
