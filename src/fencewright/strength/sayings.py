"""What the strength stage has to say: what does not pass, what was enlarged, what leans, and what to do about rock."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, NOTE, STOP, Finding, Place
from fencewright.quantity.parse import FOOT_M, POUND_FORCE_N
from fencewright.quantity.show import UnitSystem, unit_of
from fencewright.strength.remedies import is_line, remedy_of, written
from fencewright.strength.rock import RockLadders, rock_ladders
from fencewright.strength.task import Footing, StrengthTask
from fencewright.tables.strength import KINDS, Check, Checks, Sizes, Strength

_OVER = 1.0 + 1e-6
_NO_DEPTH_M = 1e-6
_LEAST_MOVE_M = 0.02  # a shorter move is no help
# loads that a line post may be allowed to give way to, by the key that states them
_PASSING_LOADS = {"animal": "animal_force", "ice": "ice_thickness", "wind": "wind_speed"}


def strength_findings(task: StrengthTask, footing: Footing, strength: Strength) -> list[Finding]:
    """Read the tables once and say what a builder must know.

    Parameters
    ----------
    task : StrengthTask
        The fence as it was asked, before sizing.
    footing : Footing
        Soil and holes.
    strength : Strength
        What came out.

    Returns
    -------
    list of Finding
        `over-capacity`, `soil-has-no-values`, `post-not-held` (`stop`); `footing-enlarged`, `post-leans`, `rock-ladder`
        (`note`; `post-leans` a `caution` where no lean is enough). Posts with the same fault share one finding.
    """
    return [
        *_no_soil(task, footing),
        *_no_depth(task),
        *_over(task, footing, strength),
        *enlarged_findings(task, strength.sizes, strength.brace_sizes),
        *_leans(task, strength),
        *_rock(task, footing, strength),
    ]


def _place(task: StrengthTask, post: int) -> Place:
    posts = task.layout.posts
    name = task.layout.lines[int(posts.line_index[post])].name
    return Place("post", f"P{post + 1}", name, float(posts.station_m[post]))


def _named(rows: NDArray[np.int64], letter: str) -> str:
    """Name the first and count the rest: `P17 and 3 more`."""
    more = len(rows) - 1
    return f"{letter}{int(rows[0]) + 1}" + (f" and {more} more" if more else "")


def _amount(value: float, unit: str, sheets: str) -> str:
    """Write a demand or capacity with its unit."""
    if unit == "N":
        return UnitSystem(sheets).force(value)
    if unit == "m":
        return UnitSystem(sheets).small(value)
    return f"{value / POUND_FORCE_N / FOOT_M:,.0f} lbf ft" if sheets == "us" else f"{value / 1000:,.2f} kN m"


def _no_soil(task: StrengthTask, footing: Footing) -> Iterable[Finding]:
    rows = np.flatnonzero(footing.lateral_pa_m <= 0)
    if not len(rows):
        return []
    names = " and ".join(dict.fromkeys(task.soils[row].name for row in rows.tolist()))
    message = (
        f"{_named(rows, 'P')} stand in {names}, for which the code presumes no strength: nothing says whether "
        "they hold."
    )
    remedy = "Have the soil tested, or dig to firm ground and name that as [site] soil."
    return [Finding(STOP, "soil-has-no-values", _place(task, int(rows[0])), message, remedy)]


def _stands_on_ground(task: StrengthTask) -> NDArray[np.bool_]:
    """Posts that the job leaves no depth at all: (posts,)."""
    return task.holes.depth_m <= _NO_DEPTH_M


def _no_depth(task: StrengthTask) -> Iterable[Finding]:
    rows = np.flatnonzero(_stands_on_ground(task))
    if not len(rows):
        return []
    message = f"{_named(rows, 'P')}: the job gives the hole no depth, so nothing holds the post."
    remedy = (
        "State the depth that it stands in the ground; on bare rock, move it or have its anchor designed."
    )
    return [Finding(STOP, "post-not-held", _place(task, int(rows[0])), message, remedy)]


def _over(task: StrengthTask, footing: Footing, strength: Strength) -> list[Finding]:
    """One finding for each check and kind of post, at its worst place."""
    checks = strength.checks
    counted = np.array([KINDS[check].is_counted for check in Check])
    over = np.flatnonzero((checks.utilisation > _OVER) & counted[checks.check])
    post = checks.post_index[over]
    in_ground = np.array([KINDS[check].part == "hole" for check in Check])[checks.check[over]]
    over = over[(footing.lateral_pa_m[post] > 0) & ~(in_ground & _stands_on_ground(task)[post])]
    groups: dict[tuple[int, bool, bool], list[int]] = {}
    for row in over.tolist():
        passing = any(word in checks.cases[int(checks.case_index[row])] for word in _PASSING_LOADS)
        key = (int(checks.check[row]), is_line(task, int(checks.post_index[row])), passing)
        groups.setdefault(key, []).append(row)
    return [_one_over(task, footing, strength, np.array(rows)) for rows in groups.values()]


def _one_over(task: StrengthTask, footing: Footing, strength: Strength, rows: NDArray[np.int64]) -> Finding:
    checks = strength.checks
    rows = rows[np.argsort(-checks.utilisation[rows], kind="stable")]
    row, post = int(rows[0]), int(checks.post_index[rows[0]])
    check = Check(checks.check[row])
    kind, case = KINDS[check], checks.cases[int(checks.case_index[row])]
    of_brace = int(checks.brace_index[row]) >= 0
    names = _named(
        checks.brace_index[rows] if of_brace else checks.post_index[rows], "B" if of_brace else "P"
    )
    remedy = remedy_of(task, footing, strength, row)
    used = f"{checks.utilisation[row]:.0%}"
    demand, capacity = (
        _amount(float(side[row]), kind.unit, task.sheets) for side in (checks.demand, checks.capacity)
    )
    message = (
        f"{names}: {kind.label} of the {kind.part} is at {used} ({demand} of {capacity}) under {case} "
        f"({kind.source}, {kind.clause})."
    )
    text = remedy.text
    if is_line(task, post) and check is Check.EMBEDMENT:
        load = next((key for word, key in _PASSING_LOADS.items() if word in case), "")
        text += (
            f" Or, where they may lean and be set upright again, state a smaller [strength] {load}."
            if load
            else ""
        )
    edits = remedy.edits
    if edits and "append" in edits[0]:
        edits = tuple(edit for one in rows.tolist() for edit in remedy_of(task, footing, strength, one).edits)
    return Finding(STOP, "over-capacity", _place(task, post), message, text, edits)


def enlarged_findings(task: StrengthTask, sizes: Sizes, brace_sizes: Sizes) -> Iterable[Finding]:
    """Say which holes are deeper than those of the task, and why: `footing-enlarged` (`note`), one for each reason."""
    show = UnitSystem(task.sheets)
    posts = np.arange(len(task.layout.posts))
    for letter, found, before, post in (
        ("P", sizes, task.holes, posts),
        ("B", brace_sizes, task.brace_holes, task.layout.braces.post_index),
    ):
        grown = np.flatnonzero(found.depth_m > before.depth_m + 1e-9)
        for reason in dict.fromkeys(found.governs[row] for row in grown.tolist()):
            rows = np.array([row for row in grown.tolist() if found.governs[row] == reason])
            worst = int(rows[np.argmax(found.depth_m[rows])])
            one = f"{letter}{worst + 1}"
            before_m, after_m = float(before.depth_m[worst]), float(found.depth_m[worst])
            low, high = show.small(before_m), show.small(after_m)
            what = "holes" if letter == "P" else "brace footings"
            message = (
                f"{len(rows)} {what} are dug deeper for {reason} than practice and frost ask: {one} from {low} to "
                f"{high}, the deepest."
            )
            if len(rows) == 1:
                what = what.removesuffix("s")
                message = f"1 {what} is dug deeper for {reason} than practice and frost ask: {one} from {low} to {high}."
            yield Finding(NOTE, "footing-enlarged", _place(task, int(post[worst])), message)


def _leans(task: StrengthTask, strength: Strength) -> Iterable[Finding]:
    checks: Checks = strength.checks
    rows = np.flatnonzero((checks.check == int(Check.LEAN)) & (checks.utilisation > _OVER))
    if not len(rows):
        return
    show = UnitSystem(task.sheets)
    worst = int(rows[np.argmax(checks.demand[rows])])
    post, moved = int(checks.post_index[worst]), float(checks.demand[worst])
    lean = show.small(float(checks.capacity[worst]))
    message = (
        f"{len(rows)} braced {unit_of(len(rows), 'post')} may end up leaning towards the pull on the coldest day: "
        f"the top of P{post + 1} moves up to {show.small(moved)} in soil as soft as the code reckons with, and is set "
        f"{lean} away."
    )
    most, bays = task.settings.brace.lean_most_m, task.settings.brace.bays
    if moved > most + 1e-9:
        remedy = (
            f"No post is set more than {show.small(most)} out of plumb: its brace does not hold it. Dig its holes "
            "deeper, or give it a second brace: [brace] bays = 2."
            if bays == 1
            else f"No post is set more than {show.small(most)} out of plumb: its brace does not hold it. Dig its holes "
            "deeper, or draw shorter pulls."
        )
        yield Finding(CAUTION, "post-leans", _place(task, post), message, remedy)
        return
    value = written(moved, task.sheets, 0.25)
    edits = ({"path": ["brace", "lean"], "value": value},)
    yield Finding(
        NOTE, "post-leans", _place(task, post), message,
        f'Lean them further away: [brace] lean = "{value}", or dig the brace footings deeper.', edits,
    )  # fmt: skip


def _rock(task: StrengthTask, footing: Footing, strength: Strength) -> Iterable[Finding]:
    """One finding for each post that met rock: the rungs of its ladder."""
    checks = strength.checks
    demand, used = np.zeros(len(task.layout.posts)), np.zeros(len(task.layout.posts))
    mine = checks.check == int(Check.EMBEDMENT)
    demand[checks.post_index[mine]] = checks.demand[mine]
    used[checks.post_index[mine]] = checks.utilisation[mine]
    ladders = rock_ladders(task, footing, demand, used)
    show = UnitSystem(task.sheets)
    for row, post in enumerate(ladders.post_index.tolist()):
        if _stands_on_ground(task)[post]:
            continue
        depth = float(task.holes.depth_m[post])
        least = _least_text(strength.sizes, post, show)
        if used[post] <= 1:
            message = (
                f"P{post + 1} holds at the rock, {show.small(depth)} down: {used[post]:.0%} of what the soil "
                f"there carries; {least}."
            )
            yield Finding(NOTE, "rock-ladder", _place(task, post), message)
            continue
        message = (
            f"P{post + 1} does not hold at the rock, {show.small(depth)} down ({used[post]:.0%}); {least}."
        )
        yield Finding(
            NOTE, "rock-ladder", _place(task, post), message, _rungs(task, ladders, row, strength.sizes)
        )


def _rungs(task: StrengthTask, ladders: RockLadders, row: int, sizes: Sizes) -> str:
    """Write the rungs of one ladder that one builds: move the post, cast a collar, drill a socket."""
    show, strength = UnitSystem(task.sheets), task.settings.strength
    ahead, back = float(ladders.ahead_m[row]), float(ladders.back_m[row])
    move = "it cannot move along the line"
    if max(ahead, back) > _LEAST_MOVE_M:
        move = f"move it up to {show.small(back)} back or {show.small(ahead)} ahead"
    collar_m, socket_m = float(ladders.collar_m[row]), float(ladders.socket_m[row])
    collar, deep = show.small(collar_m), show.small(socket_m)
    wide = show.small(float(ladders.socket_width_m[row]))
    post, holes = int(ladders.post_index[row]), task.settings.holes
    least_m = min(float(sizes.least_depth_m[post]), strength.deepest_m)
    in_soil_m = max(least_m, holes.line_depth_m if is_line(task, post) else holes.end_depth_m)
    can_cast, can_drill = collar_m <= strength.ground.collar_most_m, socket_m <= in_soil_m
    if can_cast and can_drill:
        return (
            f"In this order: {move}; cast a collar {collar} wide round it from the rock up; or drill a socket {wide} "
            f"wide {deep} into the rock and grout the post in."
        )
    if can_cast:
        return f"In this order: {move}; or cast a collar {collar} wide round it from the rock up."
    if can_drill:
        return f"In this order: {move}; or drill a socket {wide} wide {deep} into the rock and grout the post in."
    return (
        f"No collar and no socket that one builds would hold it: {move}; else brace it, use another kind of post, or "
        "ask an engineer."
    )


def _least_text(sizes: Sizes, post: int, show: UnitSystem) -> str:
    least = float(sizes.least_depth_m[post])
    return f"{show.small(least)} would pass" if np.isfinite(least) else "no depth that can be dug would pass"
