"""The order: everything to buy, net by geometry, waste apart, rounded up to packs."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import Catalogue, Hardware, Rail
from fencewright.job.settings import Settings
from fencewright.quantity.parse import FOOT_M, INCH_M
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Holes, Layout, OrderLine, Pulls, SpanKind, Strands
from fencewright.tables.top_line import PostCuts
from fencewright.takeoff.roll_records import CutList

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Basis:
    """All that the order is counted from; `cut_lists` by rail product."""

    layout: Layout
    strands: Strands
    holes: Holes
    brace_holes: Holes
    cuts: PostCuts
    pulls: Pulls
    cut_lists: dict[str, CutList]


def order_lines(basis: Basis, settings: Settings, catalogue: Catalogue, sheets: str) -> tuple[OrderLine, ...]:
    """Count everything to buy.

    Parameters
    ----------
    basis : Basis
        Tables of the earlier stages.
    settings : Settings
        Bag, waste, stock lengths.
    catalogue : Catalogue
        Rails and hardware.
    sheets : str
        Units in which sizes are named, `us` or `metric`.

    Returns
    -------
    tuple of OrderLine
        Posts, braces, concrete, rails, hardware, gates; `id` is stable from job to job.
    """
    show = UnitSystem(sheets)
    lines = [*_posts(basis, show), *_braces(basis, settings, show), _concrete(basis, settings)]
    lines += [*_rolls(basis, show), *_hardware(basis, settings, catalogue), *_leaves(basis, show)]
    return tuple(line for line in lines if line.net > 0)


def order_slug(*parts: str) -> str:
    """Name of a line of the order from its words: `post-6-in-x-8-ft`."""
    return "-".join(
        "".join(c if c.isalnum() or c == "." else "-" for c in part).strip("-") for part in parts if part
    )


def diameter_text(diameter_m: float, show: UnitSystem) -> str:
    """Diameter as the order names it: `4.5 in` or `114 mm`."""
    return f"{diameter_m / INCH_M:g} in" if show.name == "us" else f"{diameter_m * 1000:.0f} mm"


def _posts(basis: Basis, show: UnitSystem) -> Iterable[OrderLine]:
    posts = basis.layout.posts
    bought = ~posts.is_built & np.isfinite(basis.cuts.stock_length_m)
    keys = np.column_stack([posts.diameter_m, basis.cuts.stock_length_m])[bought]
    sizes, counts = np.unique(np.round(keys, 6), axis=0, return_counts=True)
    for (diameter, length), count in zip(sizes.tolist(), counts.tolist(), strict=True):
        size = f"{diameter_text(diameter, show)} x {show.post(length)}"
        yield OrderLine(
            order_slug("post", size),
            "round post",
            size,
            "piece",
            count,
            0.0,
            count,
            1.0,
            "one a post, by stock length",
        )


def _braces(basis: Basis, settings: Settings, show: UnitSystem) -> Iterable[OrderLine]:
    stock = np.array([*settings.brace.lengths_m, math.inf])
    chosen = stock[np.searchsorted(stock[:-1], basis.layout.braces.length_m - 1e-9)]
    for length in np.unique(chosen[np.isfinite(chosen)]).tolist():
        count = int((chosen == length).sum())
        size = f"{diameter_text(settings.brace.diameter_m, show)} x {show.post(length)}"
        yield OrderLine(
            order_slug("brace", size), "brace", size, "piece", count, 0.0, count, 1.0, "one a brace"
        )


def _concrete(basis: Basis, settings: Settings) -> OrderLine:
    bag = settings.holes.bag
    net = float(basis.holes.concrete_m3.sum() + basis.brace_holes.concrete_m3.sum()) / bag.yield_m3
    waste = net * settings.holes.waste
    why = f"{settings.holes.waste:.0%} waste; rounded up once for the whole job"
    return OrderLine(
        order_slug("concrete", bag.name),
        "bagged concrete",
        bag.name,
        "bag",
        net,
        waste,
        _packs(net + waste, 1.0),
        1.0,
        why,
    )


def _rolls(basis: Basis, show: UnitSystem) -> Iterable[OrderLine]:
    for name, cut in basis.cut_lists.items():
        new = cut.roll_length_m[~cut.is_remainder]
        if not len(new):
            continue
        length = float(new[0])
        taken = float(cut.used_m[~cut.is_remainder].sum()) / length
        size = f"roll of {length / FOOT_M:,.0f} ft" if show.name == "us" else f"roll of {length:,.1f} m"
        why = "net with tails and splices; waste is what is left over"
        yield OrderLine(
            order_slug("roll", name), name, size, "roll", taken, len(new) - taken, len(new), 1.0, why
        )


def _counts(basis: Basis, strands: int, splices: int) -> dict[str, float]:
    """What each `per` of the hardware rows counts, for the strands of one product."""
    layout = basis.layout
    spans, posts = layout.spans, layout.posts
    inner = spans.to_post[:-1][(spans.run_index[:-1] == spans.run_index[1:]) & (spans.run_index[:-1] >= 0)]
    turns = int((np.abs(posts.turning_rad[inner]) > 0).sum())
    return {
        "pull": float(len(layout.runs) * strands),
        "rail at turning post": float(turns * strands),
        "rail at line post": float((len(inner) - turns) * strands),
        "rail at post": float(len(inner) * strands),
        "splice": float(splices),
    }


def _fence_counts(basis: Basis) -> dict[str, float]:
    layout = basis.layout
    kind = layout.spans.kind
    return {
        "brace": float(len(layout.braces)),
        "horizontal brace": float(layout.braces.is_horizontal.sum()),
        "gate": float((kind == int(SpanKind.GATE)).sum()),
        "crossing": float((kind == int(SpanKind.CROSSING)).sum()),
        "cut post": float((~layout.posts.is_built).sum()),
    }


def _hardware(basis: Basis, settings: Settings, catalogue: Catalogue) -> Iterable[OrderLine]:
    rails = {row.rail.name: row.rail for row in settings.strands}
    totals: dict[str, tuple[Hardware, float]] = {}
    groups: list[tuple[str, Rail | None, dict[str, float]]] = [
        (row_kind(rail), rail, _product_counts(basis, name)) for name, rail in rails.items()
    ]
    groups.append(("fence", None, _fence_counts(basis)))
    for kind, rail, counts in groups:
        for row in catalogue.hardware:
            if row.strand_kind == kind and row.per in counts:
                item = own_item(row, rail)
                before = totals.get(item, (row, 0.0))[1]
                totals[item] = (row, before + row.count * counts[row.per])
    for item, (row, net) in totals.items():
        waste = net * settings.hardware_waste if row.pack > 1 else 0.0
        yield OrderLine(
            order_slug(item), item, "", row.unit, net, waste, _packs(net + waste, row.pack), row.pack, row.why
        )


def own_item(row: Hardware, rail: Rail | None) -> str:
    """Name of an item, that of the rail's own tensioner or fixing in place of its kind's."""
    own = {"tensioner": rail.tensioner, "fixing": rail.fixing}.get(row.part, "") if rail else ""
    return own or row.item


def row_kind(rail: Rail) -> str:
    """Kind of strand by which the hardware rows know a rail."""
    return "wire" if rail.is_wire else "polymer rail"


def _product_counts(basis: Basis, name: str) -> dict[str, float]:
    splices = basis.cut_lists[name].splices if name in basis.cut_lists else 0
    return _counts(basis, basis.strands.rail.count(name), splices)


def _packs(amount: float, pack: float) -> float:
    """Round up to whole packs; a hair over a whole one, from rounding, is that one."""
    return math.ceil(amount / pack - 1e-9) * pack


def _leaves(basis: Basis, show: UnitSystem) -> Iterable[OrderLine]:
    openings = basis.layout.openings
    leaves = openings.leaf_m[~openings.is_crossing]
    sizes, counts = np.unique(np.round(leaves, 6), return_counts=True)
    for leaf, count in zip(sizes.tolist(), counts.tolist(), strict=True):
        size = show.long(leaf)
        yield OrderLine(
            order_slug("gate-leaf", size), "gate leaf", size, "piece", count, 0.0, count, 1.0, "one a gate"
        )
