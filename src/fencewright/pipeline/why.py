"""Why each number of a post, brace, pull or gate is what it is: the same record for the command and the page."""

import re
from difflib import get_close_matches

from fencewright.findings import InputError
from fencewright.pipeline.record import Design, pull_id
from fencewright.pipeline.why_brace import explain_brace
from fencewright.pipeline.why_gate import explain_opening
from fencewright.pipeline.why_post import explain_post
from fencewright.pipeline.why_pull import explain_pull
from fencewright.pipeline.why_record import Explanation, Input, Reason, explanation_record, source_text

__all__ = ["Explanation", "Input", "Reason", "explain", "explanation_record", "source_text"]


def explain(design: Design, id: str) -> Explanation:  # noqa: A002  # the tables and sheets call it `id` too
    """Say how each number of one thing came about.

    Parameters
    ----------
    design : Design
        The whole design.
    id : str
        `P17` a post, `B3` a brace, `R1-2` a pull, or the name of a gate or crossing; case does not matter.

    Returns
    -------
    Explanation
        A reason for each number: inputs with their origin, the formula in words and in symbols, the result, its
        source, and what the next smaller size would need. SI throughout.

    Raises
    ------
    InputError
        Nothing has that name: the sentence gives the nearest one and the range.

    Notes
    -----
    Every result is computed again by the stage's own functions, on the rows that it hangs on. Cost grows with
    the line that holds the post, not with the job.
    """
    wanted = id.strip()
    opening = _opening(design, wanted)
    if opening >= 0:
        return explain_opening(design, opening)
    match = re.fullmatch(r"([PB])(\d{1,9})|R(\d{1,9})-(\d{1,9})", wanted, re.IGNORECASE)
    if match is None:
        raise _unknown(design, wanted)
    if match[1] is None:
        return explain_pull(design, _pull_row(design, wanted, int(match[3]), int(match[4])))
    letter, row = match[1].upper(), int(match[2]) - 1
    count = len(design.layout.posts) if letter == "P" else len(design.layout.braces)
    if not 0 <= row < count:
        raise _out_of_range(wanted, letter, count)
    return explain_post(design, row) if letter == "P" else explain_brace(design, row)


def _opening(design: Design, wanted: str) -> int:
    """Row of the gate or crossing of that name, -1 for none."""
    names = [name.casefold() for name in design.layout.openings.name]
    return names.index(wanted.casefold()) if wanted.casefold() in names else -1


def _pull_row(design: Design, wanted: str, run: int, strand: int) -> int:
    runs, strands = len(design.layout.runs), len(design.strands)
    if not runs:
        raise InputError(f"there is no pull {wanted}: the job has no run of rail")
    if not (1 <= run <= runs and 1 <= strand <= strands):
        near = pull_id(min(max(run, 1), runs) - 1, min(max(strand, 1), strands) - 1)
        raise InputError(
            f"there is no pull {wanted}: the nearest is {near}; pulls are {pull_id(0, 0)} to "
            f"{pull_id(runs - 1, strands - 1)}"
        )
    return (run - 1) * strands + strand - 1


def _out_of_range(wanted: str, letter: str, count: int) -> InputError:
    what = {"P": "post", "B": "brace"}[letter]
    if not count:
        return InputError(f"there is no {what} {wanted}: the job has none")
    near = 1 if int(wanted[1:]) < 1 else count
    return InputError(
        f"there is no {what} {wanted}: the nearest is {letter}{near}; {what}s are {letter}1 to {letter}{count}"
    )


def _unknown(design: Design, wanted: str) -> InputError:
    """Say what may be asked, with the nearest name where one is near."""
    openings = design.layout.openings.name
    near = get_close_matches(wanted, openings, n=1, cutoff=0.5)
    meant = f'did you mean "{near[0]}"? ' if near else ""
    ranges = [f"posts P1 to P{len(design.layout.posts)}"]
    if len(design.layout.braces):
        ranges.append(f"braces B1 to B{len(design.layout.braces)}")
    if len(design.pulls):
        ranges.append(f"pulls R1-1 to {pull_id(len(design.layout.runs) - 1, len(design.strands) - 1)}")
    if openings:
        shown = ", ".join(f'"{name}"' for name in openings[:6]) + (" and more" if len(openings) > 6 else "")
        ranges.append(f"gates and crossings {shown}")
    return InputError(f'there is nothing called "{wanted}": {meant}there are {"; ".join(ranges)}')
