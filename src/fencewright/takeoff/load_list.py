"""The load list: what the order and the yard put on the truck, in loads of its payload, in the order of work."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import Catalogue, Hardware, Pipe
from fencewright.job.settings import Settings
from fencewright.mechanics.sections import pipe_area_m2
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import OrderLine
from fencewright.tables.load import STEPS, LoadItems, LoadList
from fencewright.takeoff.order import Basis, diameter_text, order_slug

Flags = NDArray[np.bool_]

# steel, source: steel-wire
STEEL_KG_M3 = 7850.0
_ENDS, _LINES, _RAILS, _GATES = range(len(STEPS))


@dataclass(frozen=True, slots=True)
class _Goods:
    """One kind of thing to carry; columns as of `LoadItems`, volume of one."""

    step: int
    order_id: str
    item: str
    size: str
    unit: str
    count: float
    mass_each_kg: float
    volume_each_m3: float
    weighed_by: str


def load_list(
    basis: Basis, order: tuple[OrderLine, ...], settings: Settings, catalogue: Catalogue, sheets: str
) -> LoadList:
    """Load the truck.

    Parameters
    ----------
    basis : Basis
        Tables that the order was counted from.
    order : tuple of OrderLine
        What is bought.
    settings : Settings
        Payload, timber, bag.
    catalogue : Catalogue
        Hardware with its mass, where its row states one.
    sheets : str
        Units in which sizes are named.

    Returns
    -------
    LoadList
        Everything of the order, and rolls from the yard. A load ends where the next piece would pass the payload; a
        piece that is heavier by itself goes alone. What has no known mass is loaded where its step falls, counted,
        and left out of the sums.

    Notes
    -----
    A round post weighs pi d^2 / 4 x length x density x how wet it is. O(kinds + loads).
    """
    by_id = {line.id: line for line in order}
    show = UnitSystem(sheets)
    goods = [
        *_posts(basis, settings, show),
        *_braces(basis, settings, show),
        *_bags(basis, by_id, settings),
        *_rolls(basis, settings, show),
        *_rest(order, settings, catalogue),
    ]
    return _fill(sorted(goods, key=lambda one: one.step), settings.load.payload_kg)


def _posts(basis: Basis, settings: Settings, show: UnitSystem) -> Iterable[_Goods]:
    posts, strength = basis.layout.posts, settings.strength
    bought = ~posts.is_built & np.isfinite(basis.cuts.stock_length_m)
    for step, mine, pipe in (
        (_ENDS, posts.is_fixed, strength.end_pipe),
        (_LINES, ~posts.is_fixed, strength.line_pipe),
    ):
        keys = np.column_stack([posts.diameter_m, basis.cuts.stock_length_m])[bought & mine]
        sizes, counts = np.unique(np.round(keys, 6), axis=0, return_counts=True)
        for (diameter, length), count in zip(sizes.tolist(), counts.tolist(), strict=True):
            size = f"{diameter_text(diameter, show)} x {show.post(length)}"
            each, by = _post_mass(diameter, length, pipe, settings)
            volume = math.pi / 4 * diameter**2 * length
            yield _Goods(step, order_slug("post", size), "round post", size, "piece", count, each, volume, by)


def _post_mass(
    diameter_m: float, length_m: float, pipe: Pipe | None, settings: Settings
) -> tuple[float, str]:
    """Mass of one post or brace [kg], and how it is known."""
    if pipe is not None:
        return (
            float(pipe_area_m2(pipe.outer_m, pipe.wall_m)) * STEEL_KG_M3 * length_m,
            f"steel pipe {pipe.name} ({pipe.source})",
        )
    timber, wet = settings.strength.timber, settings.load.wet_factor
    mass = math.pi / 4 * diameter_m**2 * length_m * timber.density_kg_m3 * wet
    return mass, f"{timber.name} ({timber.source}), {wet:g} times as heavy when freshly treated"


def _braces(basis: Basis, settings: Settings, show: UnitSystem) -> Iterable[_Goods]:
    stock = np.array([*settings.brace.lengths_m, math.inf])
    chosen = stock[np.searchsorted(stock[:-1], basis.layout.braces.length_m - 1e-9)]
    diameter = settings.brace.diameter_m
    for length in np.unique(chosen[np.isfinite(chosen)]).tolist():
        size = f"{diameter_text(diameter, show)} x {show.post(length)}"
        each, by = _post_mass(diameter, length, None, settings)
        volume = math.pi / 4 * diameter**2 * length
        count = float((chosen == length).sum())
        yield _Goods(_ENDS, order_slug("brace", size), "brace", size, "piece", count, each, volume, by)


def _bags(basis: Basis, by_id: dict[str, OrderLine], settings: Settings) -> Iterable[_Goods]:
    """Bags of the ends and of concreted line posts; the ends take what rounding up adds."""
    bag = settings.holes.bag
    line = by_id.get(order_slug("concrete", bag.name))
    if line is None:
        return
    apart = ~basis.layout.posts.is_fixed
    share = float(basis.holes.concrete_m3[apart].sum()) / bag.yield_m3 * (1 + settings.holes.waste)
    for_line = min(float(math.floor(share + 1e-9)), line.order)
    for step, count in ((_ENDS, line.order - for_line), (_LINES, for_line)):
        if count > 0:
            yield _Goods(
                step,
                line.id,
                line.item,
                line.size,
                line.unit,
                count,
                bag.mass_kg,
                bag.yield_m3,
                "mass of the bag",
            )


def _rolls(basis: Basis, settings: Settings, show: UnitSystem) -> Iterable[_Goods]:
    """New rolls, and those that lie in the yard: they go along too."""
    masses = {one.rail.name: one.rail.line_mass_kg_m for one in settings.strands}
    for name, cut in basis.cut_lists.items():
        lengths, inverse = np.unique(np.round(cut.roll_length_m, 6), return_inverse=True)
        for row, length in enumerate(lengths.tolist()):
            for from_yard in (False, True):
                count = int(((inverse.ravel() == row) & (cut.is_remainder == from_yard)).sum())
                if count:
                    size = f"{show.long(length)}" + (" from the yard" if from_yard else " roll")
                    order_id = "" if from_yard else order_slug("roll", name)
                    yield _Goods(
                        _RAILS, order_id, name, size, "roll", float(count), masses[name] * length, math.nan,
                        "mass of the rail by its length",
                    )  # fmt: skip


def _rest(order: tuple[OrderLine, ...], settings: Settings, catalogue: Catalogue) -> Iterable[_Goods]:
    """Hardware, gates, paint: by their catalogue row where it states a mass."""
    rows = {row.item: row for row in catalogue.hardware}
    taken = {"round post", "brace", "bagged concrete", *(one.rail.name for one in settings.strands)}
    for line in order:
        if line.item in taken:
            continue
        row = rows.get(line.item)
        mass = row.mass_kg if row else math.nan
        by = "catalogue row" if math.isfinite(mass) else ""
        volume = 0.001 if line.unit == "L" else math.nan
        yield _Goods(
            _step(row, line.item), line.id, line.item, line.size, line.unit, line.order, mass, volume, by
        )


def _step(row: Hardware | None, item: str) -> int:
    """Step of the work that a thing of the order is for."""
    if item == "gate leaf" or (row and row.per in ("gate", "crossing")):
        return _GATES
    if row and row.strand_kind == "fence":
        return _ENDS if "brace" in row.per else _LINES
    return _RAILS


def _fill(goods: list[_Goods], payload_kg: float) -> LoadList:
    """Put goods on loads one after the other; a piece is whole, and what is unknown takes no payload."""
    rows: list[tuple[int, _Goods, float]] = []
    load, used = 0, 0.0
    for one in goods:
        left = one.count
        while left > 1e-9:
            take = left
            if math.isfinite(one.mass_each_kg) and one.mass_each_kg > 0:
                fits = math.floor((payload_kg - used) / one.mass_each_kg + 1e-9)
                if fits < 1 and used > 0:
                    load, used = load + 1, 0.0
                    continue
                take = min(left, float(max(fits, 1)))
                used += take * one.mass_each_kg
            rows.append((load, one, take))
            left -= take
    return _table(rows, load + 1 if rows else 0, payload_kg)


def _table(rows: list[tuple[int, _Goods, float]], loads: int, payload_kg: float) -> LoadList:
    at = np.array([row[0] for row in rows], np.int64)
    goods = [row[1] for row in rows]
    count = np.array([row[2] for row in rows], np.float64)
    each = np.array([one.mass_each_kg for one in goods], np.float64)
    volume = count * np.array([one.volume_each_m3 for one in goods], np.float64)
    items = LoadItems(
        at, np.array([one.step for one in goods], np.int64), tuple(one.order_id for one in goods),
        tuple(one.item for one in goods), tuple(one.size for one in goods), tuple(one.unit for one in goods), count,
        each, count * each, volume, tuple(one.weighed_by for one in goods),
    )  # fmt: skip

    def summed(values: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(np.bincount(at, weights=np.nan_to_num(values), minlength=loads), np.float64)

    unknown = np.bincount(at, weights=np.isnan(each), minlength=loads).astype(np.int64)
    return LoadList(payload_kg, items, summed(items.mass_kg), summed(volume), unknown)
