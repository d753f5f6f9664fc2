"""The nearest change that would make a check pass: a deeper hole, a thicker post, a wider auger or bell."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from fencewright.mechanics.sections import equal_square_m
from fencewright.mechanics.timber import MOST_SLENDERNESS
from fencewright.quantity.parse import FOOT_M, INCH_M
from fencewright.quantity.show import UnitSystem
from fencewright.strength.ledger import NOTHING_HOLDS
from fencewright.strength.sizing import FIXED, next_diameter_m, spare_m
from fencewright.strength.task import Footing, StrengthTask
from fencewright.tables.fence import Role
from fencewright.tables.sizes import STATED_HERE
from fencewright.tables.strength import Check, Strength

# an auger wider than this is no post auger
_WIDEST_M = 0.9
BY_DEPTH = (
    Check.EMBEDMENT,
    Check.UPLIFT,
    Check.FOOTING_PUSH,
    Check.FOOTING_TIPPING,
    Check.FOOTING_BEARING,
)
_LESS_PULL = "Draw the rails with less pull, use fewer or lighter rails, or divide the run."


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do, in words, and the edits to the job that do it."""

    text: str
    edits: tuple[dict[str, Any], ...] = ()


def written(length_m: float, sheets: str, step_in: float = 2.0) -> str:
    """Write a length for a job file, rounded up to whole steps of inches; in metric to 10 mm, 50 mm for 2 in."""
    if sheets == "us":
        return f"{math.ceil(length_m / INCH_M / step_in - 1e-6) * step_in:g} in"
    step_mm = 10 if step_in < 2.0 else 50
    return f"{math.ceil(length_m * 1000 / step_mm - 1e-6) * step_mm} mm"


def is_line(task: StrengthTask, post: int) -> bool:
    """Whether a post is cut from line posts and dug as deep as they are."""
    return int(task.layout.posts.role[post]) == int(Role.LINE)


def remedy_of(task: StrengthTask, footing: Footing, strength: Strength, row: int) -> Remedy:
    """Nearest change that would make a row of the checks pass.

    Parameters
    ----------
    task : StrengthTask
        The fence as asked.
    footing : Footing
        Width of its holes.
    strength : Strength
        Its checks and least depths.
    row : int
        Row of `strength.checks`, of utilisation above 1.

    Returns
    -------
    Remedy
        Only words where the job file has no number that would do it.
    """
    checks = strength.checks
    check, post, brace = Check(checks.check[row]), int(checks.post_index[row]), int(checks.brace_index[row])
    used = float(checks.utilisation[row])
    if check in BY_DEPTH:
        return _deeper(task, footing, strength, (post, brace), used)
    if check in (Check.BENDING, Check.SHEAR):
        return _thicker(task, post, used, 3.0 if check is Check.BENDING else 2.0)
    if check is Check.BRACE_COMPRESSION:
        return _thicker_brace(task, used, float(task.layout.braces.length_m[brace]))
    if check is Check.BEARING:
        if not footing.is_concrete[post]:
            return _concreted(task, post)
        bell = max(float(footing.bell_m[post]) * math.sqrt(used) - float(footing.shaft_m[post]), 0.0)
        return _edit(task, "Widen the foot of the hole", ("holes", "bell"), bell)
    return Remedy("Twist more strands into the tie, or set the second upright further off. " + _LESS_PULL)


def _concreted(task: StrengthTask, post: int) -> Remedy:
    """Concrete one post."""
    posts = task.layout.posts
    line = task.layout.lines[int(posts.line_index[post])].name
    at = UnitSystem(task.sheets).station(float(posts.station_m[post]))
    words = f'Concrete each, P{post + 1} by [[size]] line = "{line}", at = "{at}", set = "concrete"; or set them on flat '
    edit = {"path": ["size"], "append": {"line": line, "at": at, "set": "concrete"}}
    return Remedy(words + "stones, or lower their tops.", (edit,))


def _edit(
    task: StrengthTask, words: str, path: tuple[str, str], length_m: float, step_in: float = 2.0
) -> Remedy:
    value = written(length_m, task.sheets, step_in)
    text = f'{words}: [{path[0]}] {path[1]} = "{value}".'
    return Remedy(text, ({"path": list(path), "value": value},))


def _deeper(
    task: StrengthTask, footing: Footing, strength: Strength, where: tuple[int, int], used: float
) -> Remedy:
    post, brace = where
    sizes = strength.sizes if brace < 0 else strength.brace_sizes
    least = float(sizes.least_depth_m[post if brace < 0 else brace])
    key = "brace_depth" if brace >= 0 else "line_depth" if is_line(task, post) else "end_depth"
    governs = sizes.governs[post if brace < 0 else brace]
    if math.isfinite(least) and governs == "stock length":
        return _longer(task, post, least)
    if math.isfinite(least) and governs == STATED_HERE:
        return Remedy(f'Dig deeper: depth = "{written(least, task.sheets)}" in its [[size]].')
    if math.isfinite(least) and (governs == "stated" or governs not in FIXED):
        return _edit(task, "Dig deeper", ("holes", key), least)
    wide = float(footing.width_m[post] if brace < 0 else task.settings.holes.auger_m) * used
    if math.isfinite(least):
        return Remedy(
            f"It would have to be {UnitSystem(task.sheets).small(least)} deep: move it, or widen it by a collar of concrete."
        )
    braced = np.isin(task.layout.braces.post_index, post) & ~task.layout.braces.is_horizontal
    if task.settings.brace.kind != "diagonal" and task.layout.posts.is_fixed[post] and not braced.any():
        edit = {"path": ["brace", "kind"], "value": "diagonal"}
        return Remedy('Brace it with a diagonal to a footing: [brace] kind = "diagonal".', (edit,))
    if wide <= _WIDEST_M:
        return _edit(task, "Use a wider auger", ("holes", "auger"), wide)
    return Remedy(_LESS_PULL)


def _longer(task: StrengthTask, post: int, depth_m: float) -> Remedy:
    """Give the next stock length, by whole feet or 100 mm, that reaches down to a depth."""
    show, posts = UnitSystem(task.sheets), task.settings.posts
    needed = depth_m + float(task.height_m[post]) + posts.trim_m + float(spare_m(task)[post])
    if task.sheets == "us":
        longer = f"{math.ceil(needed / FOOT_M - 1e-6)} ft"
        stock = [f"{one / FOOT_M:g} ft" for one in posts.line_lengths_m]
    else:
        longer = f"{math.ceil(needed * 10 - 1e-6) * 100} mm"
        stock = [f"{one * 1000:g} mm" for one in posts.line_lengths_m]
    listed = ", ".join(f'"{one}"' for one in (*stock, longer))
    text = f"Dig them {show.small(depth_m)} deep with a longer post: [posts] line_lengths = [{listed}]."
    return Remedy(text, ({"path": ["posts", "line_lengths"], "value": [*stock, longer]},))


def _thicker(task: StrengthTask, post: int, used: float, power: float) -> Remedy:
    is_thin = int(task.layout.posts.role[post]) in (int(Role.LINE), int(Role.BRACE))
    key = "line_diameter" if is_thin else "end_diameter"
    stock = task.settings.strength.diameters_m
    found = next_diameter_m(float(task.layout.posts.diameter_m[post]), used, power, stock)
    if found is None:
        return Remedy(_LESS_PULL)
    return _edit(task, "Use thicker posts", ("posts", key), found, 0.5)


def _thicker_brace(task: StrengthTask, used: float, length_m: float) -> Remedy:
    """A brace whose area grows with the load, and that is not too slender to be allowed at all."""
    stock = task.settings.strength.diameters_m
    least = length_m / MOST_SLENDERNESS / float(equal_square_m(1.0))
    power = 2.0 if used < NOTHING_HOLDS else math.inf
    found = next_diameter_m(
        task.settings.brace.diameter_m, used, power, tuple(one for one in stock if one > least)
    )
    if found is None:
        return Remedy("Shorten the brace. " + _LESS_PULL)
    return _edit(task, "Use a thicker brace", ("brace", "diameter"), found, 0.5)
