"""The most even chain of posts, when their number is settled and some places are forbidden.

Why this is exact. Let N be the fewest spans. Reaching a place takes at least f spans from the start
and g from the end, and f + g >= N; so each place that a shortest chain can use has *one* number, and
the i-th post of every shortest chain lies in a window of its own: from where the chain counted back
from the end stands at its tightest, to where the chain counted forward can reach. For a given choice
of stretches the sum of squared spans is convex, and at its optimum spans change only at a *contact*
(a post at the edge of its stretch): between contacts they are equal. An upper limit on the spans
changes nothing, since a span held at the limit beside a free one would have to be the longer and
the shorter of the two. A shortest path over contacts, each arc an even row, is therefore the optimum.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fencewright.layout.kept_out import RELATIVE_TOLERANCE

RowIsClear = Callable[[float, float, int], bool]
"""(first station, span, spans) of an even row -> whether every post and span of it is permitted."""


@dataclass(frozen=True)
class Windows:
    """Where the i-th post of any chain with the fewest spans can stand.

    Parameters
    ----------
    nearest_m : list of float (spans + 1,)
        Lower end of each window; first and last are the fixed posts. [m]
    farthest_m : list of float (spans + 1,)
        Upper end of each window. [m]
    """

    nearest_m: list[float]
    farthest_m: list[float]

    @property
    def spans(self) -> int:
        """Fewest spans."""
        return len(self.farthest_m) - 1


def agreed_windows(chains: Callable[[float], tuple[list[float], list[float]]]) -> Windows:
    """Windows from the chain that reaches as far as it can, and the same from the other end.

    Parameters
    ----------
    chains : callable
        For limits multiplied by a factor: stations of the farthest-reaching chain from the start,
        rising, and from the end, falling; both fixed posts in each. [-] -> [m]

    Returns
    -------
    Windows
        One window a post, both fixed posts included.

    Notes
    -----
    Both chains have the same number of spans, save where rounding tips a length that is a whole
    number of limits; a hair more on the limits then settles it. Should it not, every window shrinks
    to the chain from the start.
    """
    for hairs in (0.0, 0.37, 0.83, 1.61):
        forward_m, backward_m = chains(1.0 + hairs * RELATIVE_TOLERANCE)
        if len(forward_m) == len(backward_m):
            nearest_m = [min(n, f) for n, f in zip(reversed(backward_m), forward_m, strict=True)]
            return Windows(nearest_m, forward_m)
    return Windows(forward_m, forward_m)


def numbered_contacts(
    contact_m: Sequence[float], windows: Windows, tolerance_m: float
) -> list[tuple[int, float]]:
    """Contacts that a shortest chain can use, each with the number of its post, ends included.

    Parameters
    ----------
    contact_m : sequence of float (contacts,)
        Places between the ends, rising. [m]
    windows : Windows
        Where each post can stand.
    tolerance_m : float
        How far outside a window still counts as in it. [m]

    Returns
    -------
    list of (number, station)
        Rising; the first is the start (0), the last the end (`windows.spans`).
    """
    last = windows.spans
    numbered = [(0, windows.farthest_m[0])]
    for station_m in contact_m:
        number = bisect_left(windows.farthest_m, station_m - tolerance_m)
        if 0 < number < last and windows.nearest_m[number] - tolerance_m <= station_m:
            numbered.append((number, station_m))
    numbered.append((last, windows.farthest_m[last]))
    return numbered


def most_even_chain(
    contacts: Sequence[tuple[int, float]],
    windows: Windows,
    limit_m: float,
    row_is_clear: RowIsClear,
    most_ahead: int | None = None,
) -> list[float] | None:
    """Stations between the ends with the least sum of squared spans.

    Parameters
    ----------
    contacts : sequence of (number, station) (contacts,)
        As `numbered_contacts` gives them. [-, m]
    windows : Windows
        Where each post can stand; an even row that leaves a window at a contact's number is not tried
        further.
    limit_m : float
        Longest span, tolerance included. [m]
    row_is_clear : callable
        Judges an even row.
    most_ahead : int, optional
        How many contacts ahead an even row may end. Default: any, which
        is what makes the answer exact.

    Returns
    -------
    list of float (spans - 1,) or None
        Rising; None where rounding leaves no chain within the limit. [m]

    Notes
    -----
    O(contacts²) arcs at worst, O(contacts x most_ahead) if that is given; a row whose cone of slopes
    has closed is left, so usually far fewer.
    """
    best = [math.inf] * len(contacts)
    best[0] = 0.0
    previous = [0] * len(contacts)
    slack_m = limit_m * 1e-9
    for i, (number, station_m) in enumerate(contacts[:-1]):
        if best[i] == math.inf:
            continue
        low_m, high_m = 0.0, limit_m
        reach = len(contacts) if most_ahead is None else min(i + 1 + most_ahead, len(contacts))
        for j in range(i + 1, reach):
            spans = contacts[j][0] - number
            if spans < 1:
                continue
            span_m = (contacts[j][1] - station_m) / spans
            cost = best[i] + spans * span_m * span_m
            if low_m <= span_m <= high_m and cost < best[j] and row_is_clear(station_m, span_m, spans):
                best[j], previous[j] = cost, i
            low_m = max(low_m, (windows.nearest_m[contacts[j][0]] - slack_m - station_m) / spans)
            high_m = min(high_m, (windows.farthest_m[contacts[j][0]] + slack_m - station_m) / spans)
            if low_m > high_m:
                break
    return None if best[-1] == math.inf else _stations(contacts, previous)


def _stations(contacts: Sequence[tuple[int, float]], previous: Sequence[int]) -> list[float]:
    """Stations of the cheapest chain, read back from its end."""
    stations_m: list[float] = []
    j = len(contacts) - 1
    while j > 0:
        (first, from_m), (last, to_m) = contacts[previous[j]], contacts[j]
        span_m = (to_m - from_m) / (last - first)
        if j < len(contacts) - 1:
            stations_m.append(to_m)
        stations_m += [from_m + span_m * k for k in range(last - first - 1, 0, -1)]
        j = previous[j]
    return stations_m[::-1]
