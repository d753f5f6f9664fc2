"""Time roll cutting: run as `python bench/rolls.py`; prints one row a size."""

from __future__ import annotations

from time import perf_counter

import numpy as np

from fencewright.takeoff.roll_checker import check_cut_list
from fencewright.takeoff.rolls import RollPieces, RollStock, SpliceRule, cut_rolls

FOOT_M = 0.3048
ROLL = RollStock(660 * FOOT_M)
RULE = SpliceRule(2 * FOOT_M, 30 * FOOT_M, 20 * FOOT_M)


def pieces_of(pulls: int, seed: int, are_equal_by_four: bool, has_posts: bool) -> RollPieces:
    """Runs of 80 to 2,400 ft, of four rails or one; splices kept 2 ft from posts, 30 of them or more a pull."""
    random = np.random.default_rng(seed)
    if are_equal_by_four:
        length_m = np.repeat(random.integers(80, 2401, pulls // 4) * FOOT_M, 4)
    else:
        length_m = random.uniform(80.0, 2400.0, pulls) * FOOT_M
    if not has_posts:
        return RollPieces(length_m)
    posts = [np.arange(0.0, length, 40 * FOOT_M) for length in length_m]
    start = np.concatenate([[0], np.cumsum([post.size for post in posts])])
    at = np.concatenate(posts)
    return RollPieces(length_m, start, at - 2 * FOOT_M, at + 2 * FOOT_M)


def main() -> None:
    """Print pulls, seconds, rolls, splices, gap and whether it is proven."""
    pieces_of(8, 0, True, False)
    cut_rolls(pieces_of(40, 0, False, False), ROLL, RULE)  # loads the solvers once
    print(f"{'pulls':>6} {'equal':>5} {'posts':>5} {'s':>7} {'rolls':>6} {'splices':>7} {'gap %':>6} proven")
    for pulls in (24, 120, 2000, 20_000):
        for are_equal in (True, False):
            for has_posts in (False, True):
                pieces = pieces_of(pulls, 1, are_equal, has_posts)
                begin = perf_counter()
                cut = cut_rolls(pieces, ROLL, RULE)
                seconds = perf_counter() - begin
                if faults := check_cut_list(pieces, ROLL, RULE, cut):
                    raise SystemExit("\n".join(faults))
                print(
                    f"{pulls:6d} {are_equal!s:>5} {has_posts!s:>5} {seconds:7.3f} {cut.roll_length_m.size:6d} "
                    f"{cut.splices:7d} {100 * cut.gap:6.3f} {cut.is_proven}"
                )


if __name__ == "__main__":
    main()
