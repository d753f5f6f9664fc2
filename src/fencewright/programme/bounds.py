"""The end that no plan can beat: the longest path, and the work that people and plant must find room for."""

from collections.abc import Iterator

import numpy as np

from fencewright.programme.network import Network, earliest, latest

CRITICAL, ENERGY = "critical path", "crew and plant"
_MOST_CELLS = (
    20_000_000  # stretches of time x activities that are looked at: of larger networks some stretches
)


def lower_bound(network: Network) -> tuple[int, str]:
    """Smallest end that cannot be ruled out.

    Parameters
    ----------
    network : Network
        The activities.

    Returns
    -------
    int, str
        Slots, and what rules out the one before: `critical path` or `crew and plant`.

    Notes
    -----
    For an end that is tried, each activity has its window from earliest start to latest end. If within some stretch of
    time the work that must lie in it needs more than a resource has, the end is ruled out; so is every shorter one,
    since windows only shrink. The least end that is left is found by halving. Work that only partly falls into a
    stretch counts with the part that cannot be moved out of it. Needs are also weighed so that activities that shut each
    other out count as all of a resource. Of a large network not every stretch of time is tried.
    O(log(slots) x activities^2 x resources), with a ceiling.
    """
    start, end = earliest(network)
    least = max(end, default=0)
    rows = np.flatnonzero(np.array(network.duration, dtype=np.int64) > 0)
    if not len(rows):
        return least, CRITICAL
    begins = np.array(start)[rows]
    length = np.array(network.duration)[rows]
    high = _serial_end(network)
    low = least
    while low < high:
        middle = (low + high) // 2
        _, late_end = latest(network, middle)
        if _is_ruled_out(network, rows, begins, np.array(late_end)[rows], length):
            low = middle + 1
        else:
            high = middle
    return (low, ENERGY) if low > least else (least, CRITICAL)


def _serial_end(network: Network) -> int:
    """End of doing one thing after the other, in order: some plan ends no later."""
    end = [0] * len(network)
    now = 0
    for row, many in enumerate(network.before):
        ready = max((end[one] for one in many), default=0)
        if row in network.release:
            end[row] = network.ends(row, ready)
        else:
            now = max(now, ready) + network.duration[row]
            end[row] = now
    return max(end, default=0)


def _is_ruled_out(
    network: Network, rows: np.ndarray, begins: np.ndarray, ends: np.ndarray, length: np.ndarray
) -> bool:
    """Whether some stretch of time holds more work than a resource can do in it."""
    if bool(np.any(ends - begins < length)):
        return True
    most = max(16, int((_MOST_CELLS / len(rows)) ** 0.5))
    lefts = _spread(np.unique(begins), most)
    for need, capacity in _weights(network, rows):
        used = np.flatnonzero(need)
        b, e, d, n = begins[used], ends[used], length[used], need[used]
        rights = _spread(np.unique(e), most)
        for left in lefts.tolist():
            kept_left = np.clip(b + d - left, 0, d)  # worked after `left` if begun as early as can be
            right = rights[rights > left]
            if not len(right):
                continue
            kept_right = np.clip(right[:, None] - (e - d)[None, :], 0, d[None, :])
            inside = np.minimum(np.minimum(kept_left[None, :], kept_right), (right - left)[:, None])
            if bool(np.any(inside @ n > capacity * (right - left))):
                return True
    return False


def _spread(values: np.ndarray, most: int) -> np.ndarray:
    """Give at most so many of some sorted values, the first and the last among them."""
    if len(values) <= most:
        return values
    return values[np.unique(np.linspace(0, len(values) - 1, most).round().astype(np.int64))]


def _weights(network: Network, rows: np.ndarray) -> Iterator[tuple[np.ndarray, int]]:
    """Needs of each resource as they are, and heavier where activities shut each other out; (activities,), capacity.

    What takes more than the whole less t leaves no room for what takes t or more: it counts as the whole, and what takes
    less than t as nothing. What takes more than half shuts out its like; just half counts as half.
    """
    for kind, capacity in enumerate(network.capacity):
        need = network.need[rows, kind]
        if not need.any():
            continue
        seen: set[tuple[int, ...]] = set()
        tried = [
            2 * np.where(need > capacity - t, capacity, np.where(need < t, 0, need))
            for t in range(1, capacity // 2 + 1)
        ]
        halves = np.where(2 * need > capacity, 2 * capacity, np.where(2 * need == capacity, capacity, 0))
        for weight in [2 * need, *tried, halves]:
            key = tuple(weight.tolist())
            if key not in seen and weight.any():
                seen.add(key)
                yield weight, 2 * capacity
