"""The top line: how high each post is cut, so that the fence flows over its ground.

`bands` turns posts into bounded unknowns, `gap_rows` picks the samples of ground that matter,
`program` sets up the convex program, `newton` and `interior_point` solve it, `certificate` proves how
well, `clashes` judges the result anew, `cuts` and `controls` carry it to saw and string. `stage` runs
them.
"""

from fencewright.topline.controls import control_posts
from fencewright.topline.cuts import CutPractice, post_cuts, rail_marks
from fencewright.topline.stage import shape_top_line

__all__ = ["CutPractice", "control_posts", "post_cuts", "rail_marks", "shape_top_line"]
