"""Why each number of a design is what it is: the same record for the command and the page."""

import re
from difflib import get_close_matches

from fencewright.findings import InputError
from fencewright.pipeline.record import Design, pull_id
from fencewright.pipeline.why_brace import explain_brace
from fencewright.pipeline.why_gate import explain_opening
from fencewright.pipeline.why_order import explain_order_line
from fencewright.pipeline.why_post import explain_post
from fencewright.pipeline.why_pull import explain_pull
from fencewright.pipeline.why_record import Explanation, Input, Reason, explanation_record, source_text
from fencewright.pipeline.why_roll import explain_roll, roll_count, roll_id
from fencewright.pipeline.why_sum import SUMS, explain_rail_mark, explain_sum

__all__ = ["Explanation", "Input", "Reason", "explain", "explanation_record", "source_text"]

_NUMBERED = re.compile(
    r"(?P<letter>[PBC])(?P<number>\d{1,9})|P(?P<post>\d{1,9})-(?P<mark>\d{1,9})|R(?P<run>\d{1,9})-(?P<strand>\d{1,9})",
    re.IGNORECASE,
)


def explain(design: Design, id: str) -> Explanation:  # noqa: A002  # the tables and sheets call it `id` too
    """Say how each number of one thing came about.

    Parameters
    ----------
    design : Design
        The whole design.
    id : str
        `P17` a post, `P17-2` the mark of its second rail from the ground, `B3` a brace, `R1-2` a pull, `C4` a roll,
        the id of a line of the order, a sum by a name of `SUMS`, or the name of a gate or crossing, which goes before
        all others; case does not matter.

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
    found = _by_word(design, wanted)
    if found is not None:
        return found
    match = _NUMBERED.fullmatch(wanted)
    if match is None:
        raise _unknown(design, wanted)
    if match["run"] is not None:
        return explain_pull(design, _pull_row(design, wanted, int(match["run"]), int(match["strand"])))
    if match["post"] is not None:
        post = _row(design, f"P{match['post']}", "P", int(match["post"]))
        return explain_rail_mark(design, post, _strand(design, wanted, int(match["mark"])), wanted.upper())
    letter = match["letter"].upper()
    row = _row(design, wanted, letter, int(match["number"]))
    return {"P": explain_post, "B": explain_brace, "C": explain_roll}[letter](design, row)


def _by_word(design: Design, wanted: str) -> Explanation | None:
    """What is asked by a word: a line of the order, or a sum."""
    name = wanted.casefold()
    ids = [line.id.casefold() for line in design.order]
    if name in ids:
        return explain_order_line(design, ids.index(name))
    sum_name = re.sub(r"[\s_-]+", " ", name)
    return explain_sum(design, sum_name) if sum_name in SUMS else None


def _row(design: Design, wanted: str, letter: str, number: int) -> int:
    counts = {
        "P": len(design.layout.posts),
        "B": len(design.layout.braces),
        "C": roll_count(design),
    }
    if not 1 <= number <= counts[letter]:
        raise _out_of_range(wanted, letter, counts[letter])
    return number - 1


def _strand(design: Design, wanted: str, strand: int) -> int:
    strands = len(design.strands)
    if not 1 <= strand <= strands:
        raise InputError(
            f"there is no rail mark {wanted}: strands are 1 to {strands}, counted from the ground"
        )
    return strand - 1


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
    what = {"P": "post", "B": "brace", "C": "roll"}[letter]
    if not count:
        return InputError(f"there is no {what} {wanted}: the job has none")
    near = 1 if int(wanted[1:]) < 1 else count
    return InputError(
        f"there is no {what} {wanted}: the nearest is {letter}{near}; {what}s are {letter}1 to {letter}{count}"
    )


def _unknown(design: Design, wanted: str) -> InputError:
    """Say what may be asked, with the nearest name where one is near."""
    openings = design.layout.openings.name
    names = [*openings, *(line.id for line in design.order), *SUMS]
    near = get_close_matches(wanted, names, n=1, cutoff=0.5)
    meant = f'did you mean "{near[0]}"? ' if near else ""
    ranges = [f"posts P1 to P{len(design.layout.posts)}"]
    if len(design.layout.braces):
        ranges.append(f"braces B1 to B{len(design.layout.braces)}")
    if len(design.pulls):
        ranges.append(f"pulls R1-1 to {pull_id(len(design.layout.runs) - 1, len(design.strands) - 1)}")
    if roll_count(design):
        ranges.append(f"rolls C1 to {roll_id(roll_count(design) - 1)}")
    if len(design.layout.posts) and len(design.strands):
        ranges.append(f"rail marks P1-1 to P{len(design.layout.posts)}-{len(design.strands)}")
    if openings:
        shown = ", ".join(f'"{name}"' for name in openings[:6]) + (" and more" if len(openings) > 6 else "")
        ranges.append(f"gates and crossings {shown}")
    ranges += ["lines of the order by their id", f"sums: {', '.join(SUMS)}"]
    return InputError(f'there is nothing called "{wanted}": {meant}there are {"; ".join(ranges)}')
