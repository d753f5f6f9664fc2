"""Builder of a design on flat ground from a line's length and a few more tables."""

from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.record import Design

HEAD = (
    '[job]\nname = "x"\n[site]\nsoil = "sand"\nfrost_depth = "20 in"\n'
    '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["{} ft", "0 ft"]]\n'
)


@pytest.fixture
def straight(tmp_path: Path) -> Callable[[float, str], Design]:
    """Design a straight fence of so many feet."""
    return lambda feet, more: design(job_from_text(HEAD.format(feet) + more, tmp_path))
