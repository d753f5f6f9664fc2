"""What the strength stage adds to the rows of posts and braces of design.json."""

from typing import Any

import numpy as np

from fencewright.exchange.compact import Named
from fencewright.pipeline.record import Design
from fencewright.tables.strength import Check

_LABELS = tuple(check.label for check in sorted(Check))


def post_strength(design: Design) -> dict[str, Any]:
    """Give the columns of `posts` that come from the strength stage."""
    strength = design.strength
    return {
        "utilisation": strength.utilisation,
        "governs": Named(_LABELS, strength.check),
        "movement_m": strength.movement_m,
        "least_hole_depth_m": strength.sizes.least_depth_m,
    }


def brace_strength(design: Design) -> dict[str, Any]:
    """Give the columns of `braces` that come from the strength stage."""
    strength = design.strength
    hole = np.where(design.layout.braces.is_horizontal, np.nan, 1.0)
    return {
        "utilisation": strength.brace_utilisation,
        "fastener_n": strength.fastener_n,
        "least_hole_depth_m": strength.brace_sizes.least_depth_m * hole,
    }
