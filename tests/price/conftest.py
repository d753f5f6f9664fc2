"""Builders of uncertainties by hand."""

from collections.abc import Callable, Sequence

import numpy as np
import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.job.filling import Filling
from fencewright.job.price_settings import PriceSettings, fill_price
from fencewright.job.reading import parse_job
from fencewright.tables.risk import Kind, Shape, Uncertainties

Build = Callable[..., Uncertainties]


@pytest.fixture(scope="session")
def uncertainties() -> Build:
    """Builder of `Uncertainties`: three points a row, the rest alike for all."""

    def build(
        points: Sequence[tuple[float, float, float]],
        *,
        shape: int = Shape.PERT,
        kind: int = Kind.SINGLE,
        count: int = 1,
        driver: int = -1,
        loading: float = 0.0,
    ) -> Uncertainties:
        rows = len(points)
        low, mode, high = np.array(points, float).reshape(rows, 3).T
        return Uncertainties(
            tuple(f"thing {k}" for k in range(rows)),
            tuple(f"Thing {k}" for k in range(rows)),
            ("",) * rows,
            ("Look at it.",) * rows,
            low,
            mode,
            high,
            np.full(rows, int(shape)),
            np.full(rows, int(kind)),
            np.full(rows, count),
            np.full(rows, driver),
            np.full(rows, loading),
        )

    return build


@pytest.fixture
def settings() -> Callable[..., PriceSettings]:
    """Builder of price settings from the lines of `[price]`, and other tables after it; no overhead, no margin."""

    def build(lines: str = "", more: str = "") -> PriceSettings:
        text = '[job]\nname = "Test"\n[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["50 m", "0 m"]]\n[price]\n'
        terms = "".join(f"{key} = 0.0\n" for key in ("overhead", "margin") if key not in lines)
        return fill_price(Filling(parse_job(text + terms + lines + "\n" + more), shipped_catalogue()))

    return build
