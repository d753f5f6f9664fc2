"""What the stake-out hands on: how each hole is found on the ground, and what proves the corners.

Rows of `Stakes` are the posts (same rows as `Posts`), then the feet of the diagonal braces; the second upright of
a horizontal brace is a post and stands among them.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

TIES = ("none", "good", "too sharp", "too flat", "too long")
"""How two ties stand to each other at a stake; the names are those of design.json."""


@dataclass(frozen=True, slots=True, eq=False)
class References:
    """Points that the user chose to tape from.

    Columns (references,): `name`; `x_m`, `y_m` [m]; `ground_m` elevation, as stated or of the ground, NaN where
    neither is known [m]; `ground_sd_m` its standard deviation, 0 where stated [m].
    """

    name: tuple[str, ...]
    x_m: Floats
    y_m: Floats
    ground_m: Floats
    ground_sd_m: Floats

    def __len__(self) -> int:
        """Number of reference points."""
        return len(self.name)


@dataclass(frozen=True, slots=True, eq=False)
class Stakes:
    """One row a stake: posts, then brace feet.

    Columns (stakes,): `post_index` of the post itself or of the post that the brace holds; `brace_index`, -1 for a
    post; `line_index`; `station_m` on plan [m]; `slope_station_m` along the ground from station 0 [m]; `x_m`, `y_m`
    of the hole's centre [m]; `ground_m` [m]; `left_of_line_m` hole centre left of the drawn line [m];
    `left_of_string_m` left of the string at the rail's face [m]; `from_previous_m` level from the stake before
    along the line, NaN at the first of an open line [m]; `slope_from_previous_m` the same on the slope [m].

    Ties: `tie_reference` (stakes, 2) rows of `References`, -1 without; `tie_m` (stakes, 2) level [m]; `slope_tie_m`
    (stakes, 2) as the tape lies from point to point, NaN where a height is not known [m]; `tie_side` +1 where the
    stake is left of the way from the first reference to the second, -1 right, 0 without ties; `tie_angle_rad` at
    which the two ties cross [rad]; `tie_state` row of `TIES`; `position_sd_m` standard deviation of the position
    [m]; `major_sd_m`, `minor_sd_m` half axes of its error ellipse [m]; `major_heading_rad` of the longer one [rad].
    """

    post_index: Ints
    brace_index: Ints
    line_index: Ints
    station_m: Floats
    slope_station_m: Floats
    x_m: Floats
    y_m: Floats
    ground_m: Floats
    left_of_line_m: Floats
    left_of_string_m: Floats
    from_previous_m: Floats
    slope_from_previous_m: Floats
    tie_reference: Ints
    tie_m: Floats
    slope_tie_m: Floats
    tie_side: Ints
    tie_angle_rad: Floats
    tie_state: Ints
    position_sd_m: Floats
    major_sd_m: Floats
    minor_sd_m: Floats
    major_heading_rad: Floats

    def __len__(self) -> int:
        """Number of stakes."""
        return len(self.station_m)


@dataclass(frozen=True, slots=True, eq=False)
class CornerChecks:
    """One row a corner: what to measure along both legs and across, so that it is turned by the right angle.

    Columns (corners,): `line_index`; `station_m` [m]; `post_index`, -1 where no post stands there; `corner_rad`
    between the two legs [rad]; `is_right` a 3-4-5 corner; `back_m` along the leg before, `ahead_m` along the leg
    after, `closing_m` between those two points, all level [m]; `corner_sd_rad` of the angle so proven, from the
    tape's error [rad]; `leg_error_m` by which the leg after is then off at its end [m].
    """

    line_index: Ints
    station_m: Floats
    post_index: Ints
    corner_rad: Floats
    is_right: Flags
    back_m: Floats
    ahead_m: Floats
    closing_m: Floats
    corner_sd_rad: Floats
    leg_error_m: Floats

    def __len__(self) -> int:
        """Number of corners."""
        return len(self.station_m)


@dataclass(frozen=True, slots=True, eq=False)
class Diagonals:
    """One row a diagonal of a closed line of four corners; both of such a line are there.

    Columns (diagonals,): `line_index`; `from_station_m`, `to_station_m` [m]; `from_post`, `to_post`, -1 where no
    post stands there; `length_m` level [m]; `slope_length_m` as the tape lies from ground to ground [m].
    """

    line_index: Ints
    from_station_m: Floats
    to_station_m: Floats
    from_post: Ints
    to_post: Ints
    length_m: Floats
    slope_length_m: Floats

    def __len__(self) -> int:
        """Number of diagonals."""
        return len(self.length_m)


@dataclass(frozen=True, slots=True, eq=False)
class Pegs:
    """One row a string-line peg: two a leg, one beyond each of its ends on the string's extension.

    Columns (pegs,): `line_index`; `station_m` of the corner or end [m]; `post_index` there, -1 where none;
    `is_ahead` beyond the leg's far end, else before its near end; `x_m`, `y_m` [m]; `beyond_m` distance past the
    corner or end [m]; `string_left_m` of the string, from the line through the fixed posts' centres [m]; `is_moved`
    off its usual distance to keep clear; `is_clear` of everything in the way.
    """

    line_index: Ints
    station_m: Floats
    post_index: Ints
    is_ahead: Flags
    x_m: Floats
    y_m: Floats
    beyond_m: Floats
    string_left_m: Floats
    is_moved: Flags
    is_clear: Flags

    def __len__(self) -> int:
        """Number of pegs."""
        return len(self.x_m)


@dataclass(frozen=True, slots=True, eq=False)
class StakeOut:
    """The whole answer of the stake-out stage."""

    references: References
    stakes: Stakes
    corner_checks: CornerChecks
    diagonals: Diagonals
    pegs: Pegs
