"""The brace-setting sheet: a dimensioned drawing of each kind of assembly, and a row for each brace."""

import math
from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from fencewright.papers.blocks import Block, Column, Drawing, Heading, Section, Table, Words
from fencewright.papers.hole_sheet import bags_told
from fencewright.papers.measures import UNKNOWN, Measures, Record
from fencewright.papers.windows import drawing_of
from fencewright.sheets.picture import XY, Item, Polygon, Symbol, Text, box_of, line_of

_WIDTH_M, _ABOVE_M, _BELOW_M = 0.180, 0.056, 0.040
_POST_WIDE_M = 0.0045
_LETTER_M = 0.0036
_MOST_KINDS = 6
Brace = dict[str, Any]


def _kind(brace: Brace) -> tuple[Any, ...]:
    """What makes two assemblies alike; length and depth of the footing follow the ground and may differ."""
    keys = ("kind", "contact_m", "reach_m", "cut_rad", "lean_m", "hole_diameter_m")
    return tuple(brace[key] for key in keys)


def _range(values: Iterable[float | None], told: Measures) -> str:
    """One size, or the least and the most of several."""
    known = sorted(value for value in values if value is not None)
    if not known:
        return UNKNOWN
    least, most = told.small(known[0]), told.small(known[-1])
    return least if least == most else f"{told.bare_small(known[0])} to {most}"


def _dimension(a: XY, b: XY, said: str, *, off: float = 0.0) -> list[Item]:
    """Draw a dimension between two points, upright or level, its words beside it. [m]."""
    items: list[Item] = [
        line_of((a, b), "frame"),
        Symbol("post-dot", *a, 0.0012),
        Symbol("post-dot", *b, 0.0012),
    ]
    if abs(a[0] - b[0]) < 1e-9:
        return [*items, Text(a[0] + 0.0025 + off, (a[1] + b[1]) / 2, said, "label-strong", _LETTER_M)]
    return [*items, Text((a[0] + b[0]) / 2, a[1] - 0.0035, said, "label-strong", _LETTER_M, "middle")]


def _slanted(post: XY, foot: XY, thick_m: float) -> Polygon:
    """A brace as a bar from foot to contact. [m]."""
    turn = math.atan2(post[1] - foot[1], post[0] - foot[0])
    across = (-math.sin(turn) * thick_m / 2, math.cos(turn) * thick_m / 2)
    ring = (
        (foot[0] + across[0], foot[1] + across[1]),
        (post[0] + across[0], post[1] + across[1]),
        (post[0] - across[0], post[1] - across[1]),
        (foot[0] - across[0], foot[1] - across[1]),
    )
    return Polygon((ring,), "post")


def _drawing(braces: list[Brace], posts: dict[str, dict[str, Any]], told: Measures) -> Drawing:
    """Draw an assembly of one kind in its true proportions; sizes that differ are told from least to most."""
    brace = braces[0]
    post = posts[brace["post"]]
    holes = _range((posts[one["post"]]["hole_depth_m"] for one in braces), told)
    reach, contact = brace["reach_m"], brace["contact_m"]
    top = post["above_ground_m"] or 1.3 * contact  # drawn all the same where the ground is not known
    deep = max(post["hole_depth_m"] or 0.0, brace["hole_depth_m"] or 0.0)
    scale = max(reach / 0.062, top / _ABOVE_M, deep / (_BELOW_M - 0.006))
    ground = _BELOW_M
    at = 0.058
    foot = at + reach / scale
    head = ground + contact / scale
    items: list[Item] = [line_of(((0.004, ground), (_WIDTH_M - 0.004, ground)), "ground")]
    hole = ground - (post["hole_depth_m"] or 0.0) / scale
    half = (post["hole_diameter_m"] or 0.0) / scale / 2
    items.append(box_of(at - half, hole, at + half, ground, "hole"))
    wide = max(_POST_WIDE_M, (post["diameter_m"] or 0.0) / scale) / 2
    items.append(box_of(at - wide, hole, at + wide, ground + top / scale, "post"))
    if brace["kind"] == "diagonal":
        footing = f"{told.small(brace['hole_diameter_m'])} wide, {_range((b['hole_depth_m'] for b in braces), told)} deep"
        items += _diagonal(brace, footing, (at, wide, ground, foot, head), scale)
    else:
        items.append(box_of(foot - wide, hole, foot + wide, ground + top / scale, "post"))
        items.append(box_of(at + wide, head - wide * 0.8, foot - wide, head + wide * 0.8, "post"))
        items.append(line_of(((at + wide, ground + 0.003), (foot - wide, head)), "brace-side"))
    items += _dimension(
        (at - 0.008, ground), (at - 0.008, head), f"contact {told.small(contact)}", off=-0.045
    )
    level = ground + top / scale + 0.004
    items += [
        line_of(((at, level - 0.003), (at, level)), "dimension"),
        Text(
            at - 0.052,
            level,
            f"lean {told.small(brace['lean_m'])} away from the pull",
            "label-strong",
            _LETTER_M,
        ),
        Text(0.006, hole + 0.002, f"hole {holes} deep", "label", 0.0032),
    ]
    end = "foot" if brace["kind"] == "diagonal" else "second post"
    items += _dimension((at, 0.006), (foot, 0.006), f"{end} {told.small(reach)} from the post's centre")
    items += [line_of(((x, 0.006), (x, ground)), "guide") for x in (at, foot)]
    length = f"{brace['kind']} brace {_range((one['length_m'] for one in braces), told)} long"
    cut = f"both ends sawn to {told.degrees(brace['cut_rad'])}" if brace["cut_rad"] else ""
    beside = foot + 0.006 if brace["kind"] == "horizontal" else (at + foot) / 2 + 0.012
    words_at = (beside, max(head, ground + 0.012) + 0.010)
    for row, words in enumerate((length, cut)):
        items.append(Text(words_at[0], words_at[1] - 0.0052 * row, words, "label-strong", _LETTER_M))
    alt = (
        f"Assembly of {len(braces)} {brace['kind']} braces: contact {told.small(contact)} above ground,"
        f" {end} {told.small(reach)} from the post, {length}, {cut},"
        f" post leans {told.small(brace['lean_m'])} away from the pull"
    )
    return drawing_of(alt, alt, (_WIDTH_M, level + 0.006), [("assembly", items)])


def _diagonal(
    brace: Brace, footing: str, places: tuple[float, float, float, float, float], scale: float
) -> list[Item]:
    """A diagonal brace and its footing; `places`: post, half its width, ground, foot, contact. [m]."""
    at, wide, ground, foot, head = places
    depth = (brace["hole_depth_m"] or 0.0) / scale
    half = (brace["hole_diameter_m"] or 0.0) / scale / 2
    return [
        box_of(foot - half, ground - depth, foot + half, ground, "concrete" if brace["bags"] else "hole"),
        _slanted((at + wide, head), (foot, ground), 2 * wide * 0.8),
        Text(foot + half + 0.002, ground - depth / 2, f"footing {footing}", "label", 0.0032),
    ]


def _rows(braces: Iterable[Brace], told: Measures) -> list[list[str]]:
    return [
        [
            brace["id"],
            brace["post"] + (f" to {brace['second_post']}" if brace["second_post"] else ""),
            told.bare_small(brace["contact_m"]),
            told.bare_small(brace["reach_m"]),
            told.bare_small(brace["length_m"]),
            told.degrees(brace["cut_rad"]) if brace["cut_rad"] else UNKNOWN,
            told.bare_small(brace["lean_m"]),
            told.bare_small(brace["hole_depth_m"]) if brace["hole_diameter_m"] is not None else UNKNOWN,
            bags_told(brace["bags"]),
            "",
        ]
        for brace in braces
    ]


def brace_section(record: Record) -> Section | None:
    """Give the sheet: kinds of assembly first, then every brace; None without braces."""
    if not record["braces"]:
        return None
    told = Measures(record)
    small = told.units.small_unit
    posts = {post["id"]: post for post in record["posts"]}
    kinds: dict[tuple[Any, ...], list[Brace]] = defaultdict(list)
    for brace in record["braces"]:
        kinds[_kind(brace)].append(brace)
    blocks: list[Block] = []
    shown = sorted(kinds.values(), key=len, reverse=True)[:_MOST_KINDS]
    for number, some in enumerate(shown, start=1):
        names = ", ".join(brace["id"] for brace in some[:8]) + (
            f" and {len(some) - 8} more" if len(some) > 8 else ""
        )
        blocks += [
            Heading(f"Assembly {number}: {names}"),
            _drawing(some, posts, told),
        ]
    if len(kinds) > len(shown):
        blocks.append(
            Words(
                f"{len(kinds) - len(shown)} more kinds differ by a little: their figures are below.", "small"
            )
        )
    columns = [
        Column("Brace", 16, is_strong=True),
        Column("Post", 28),
        Column(f"Contact\n{small}", 20, "right", is_strong=True),
        Column(f"Foot\n{small}", 20, "right", is_strong=True),
        Column(f"Length\n{small}", 20, "right"),
        Column("Sawn\nto", 16, "right"),
        Column(f"Lean\n{small}", 16, "right"),
        Column(f"Footing\n{small}", 20, "right"),
        Column("Bags", 12, "right"),
        Column("By", 16, is_blank=True),
    ]
    said = (
        "Contact is the height on the post, foot the distance from the post's centre on plan, lean the distance by which"
        " the top is set away from the pull. Sawn to: slope of the brace on level ground; hold it up and scribe it."
    )
    return Section(
        "Brace setting",
        [*blocks, Heading("Every brace"), Words(said), Table(columns, _rows(record["braces"], told), 9.0)],
    )
