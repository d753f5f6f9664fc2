"""The load list: what goes on the truck, by weight and volume, in loads of a stated payload."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

STEPS = ("ends and corners", "line posts", "rails", "gates")
"""Steps of the work in whose order the truck is loaded; the names are those of design.json."""


@dataclass(frozen=True, slots=True, eq=False)
class LoadItems:
    """One row a thing in a load; a thing that is parted between loads has a row in each.

    Columns (items,): `load_index`; `step` row of `STEPS`; `order_id` line of the order, empty for what lies in the
    yard; `item`, `size`, `unit`; `count` in `unit`; `mass_each_kg` of one, NaN unknown [kg]; `mass_kg` of all, NaN
    unknown [kg]; `volume_m3` solid, NaN unknown [m3]; `weighed_by` how the mass is known, empty where it is not.
    """

    load_index: Ints
    step: Ints
    order_id: tuple[str, ...]
    item: tuple[str, ...]
    size: tuple[str, ...]
    unit: tuple[str, ...]
    count: Floats
    mass_each_kg: Floats
    mass_kg: Floats
    volume_m3: Floats
    weighed_by: tuple[str, ...]

    def __len__(self) -> int:
        """Number of rows."""
        return len(self.count)


@dataclass(frozen=True, slots=True, eq=False)
class LoadList:
    """The load list.

    `payload_kg` what the truck may carry [kg]; `items`; columns (loads,): `load_mass_kg`,
    `load_volume_m3` of all whose mass and volume are known [kg], [m3]; `unknown_items` rows of unknown mass in each.
    """

    payload_kg: float
    items: LoadItems
    load_mass_kg: Floats
    load_volume_m3: Floats
    unknown_items: Ints

    def __len__(self) -> int:
        """Number of loads."""
        return len(self.load_mass_kg)
