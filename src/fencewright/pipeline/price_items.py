"""The order as pricing sees it: each line with the activity that uses it and what part goes to which paddock."""

from collections.abc import Iterator, Mapping

import numpy as np
from numpy.typing import NDArray

from fencewright.pipeline.price_counts import concrete_by_line, fence_counts, rail_counts
from fencewright.pipeline.record import Design
from fencewright.tables.fence import OrderLine
from fencewright.tables.price_task import PriceItem
from fencewright.takeoff.order import own_item, row_kind

Floats = NDArray[np.float64]
_ACTIVITIES = {
    "brace": "braces",
    "horizontal brace": "braces",
    "gate": "gates",
    "crossing": "gates",
    "cut post": "tops",
}


def order_items(design: Design) -> tuple[tuple[PriceItem, ...], tuple[PriceItem, ...]]:
    """Things of the order to be priced: all but the bagged concrete, and the bagged concrete."""
    hardware = _hardware(design)
    queues = {
        "round post": _posts(design),
        "brace": _braces(design),
        "gate leaf": _leaves(design),
    }
    rolls = {one.rail: rail_counts(design, one.rail)["rail m"] for one in design.cutting}
    items, bags = [], []
    for line in design.order:
        if line.item == "bagged concrete":
            bags.append(_item(line, "concrete", concrete_by_line(design)))
        elif line.item in queues:
            activity = {"round post": "posts", "brace": "braces", "gate leaf": "gates"}[line.item]
            items.append(_item(line, activity, next(queues[line.item])))
        elif line.item in rolls:
            items.append(_item(line, "rails", rolls[line.item]))
        else:
            activity, weights = hardware.get(line.item, ("rails", np.zeros(0)))
            items.append(_item(line, activity, weights))
    return tuple(items), tuple(bags)


def _item(line: OrderLine, activity: str, weights: Floats) -> PriceItem:
    spare = f"{line.waste:g} waste, " if line.waste else ""
    words = f"{line.net:g} net, {spare}in packs of {line.pack:g}" if line.pack > 1 else line.why
    return PriceItem(
        id=line.id,
        item=line.item,
        size=line.size,
        unit=line.unit,
        order=float(line.order),
        pack=float(line.pack),
        activity=activity,
        weights=tuple(float(one) for one in weights),
        basis=words,
    )


def _posts(design: Design) -> Iterator[Floats]:
    """Posts of each size by line, in the order of the take-off."""
    posts, lines = design.layout.posts, len(design.layout.lines)
    bought = ~posts.is_built & np.isfinite(design.cuts.stock_length_m)
    keys = np.round(np.column_stack([posts.diameter_m, design.cuts.stock_length_m])[bought], 6)
    sizes, inverse = np.unique(keys, axis=0, return_inverse=True)
    for number in range(len(sizes)):
        yield np.bincount(posts.line_index[bought][inverse.ravel() == number], minlength=lines).astype(float)


def _braces(design: Design) -> Iterator[Floats]:
    """Braces of each stock length by line, shortest first."""
    braces, lines = design.layout.braces, len(design.layout.lines)
    stock = np.array([*design.job.settings.brace.lengths_m, np.inf])
    chosen = stock[np.searchsorted(stock[:-1], braces.length_m - 1e-9)]
    for length in np.unique(chosen[np.isfinite(chosen)]):
        yield np.bincount(braces.line_index[chosen == length], minlength=lines).astype(float)


def _leaves(design: Design) -> Iterator[Floats]:
    """Gate leaves of each size by line, shortest first."""
    openings, lines = design.layout.openings, len(design.layout.lines)
    own = ~openings.is_crossing
    leaf = np.round(openings.leaf_m, 6)
    for length in np.unique(leaf[own]):
        yield np.bincount(openings.line_index[own & (leaf == length)], minlength=lines).astype(float)


def _hardware(design: Design) -> Mapping[str, tuple[str, Floats]]:
    """Activity of each item of hardware, and its count by line."""
    rails = {row.rail.name: row.rail for row in design.job.settings.strands}
    found: dict[str, tuple[str, Floats]] = {}
    groups = [(row_kind(rail), rail, rail_counts(design, name)) for name, rail in rails.items()]
    for kind, rail, counts in [*groups, ("fence", None, fence_counts(design))]:
        for row in design.job.catalogue.hardware:
            if row.strand_kind == kind and row.per in counts:
                name = own_item(row, rail)
                before = found[name][1] if name in found else np.zeros(len(design.layout.lines))
                found[name] = (_ACTIVITIES.get(row.per, "rails"), before + row.count * counts[row.per])
    return found
