"""Builder of stake-outs from the text of a job, through layout alone."""

from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.findings import Finding
from fencewright.layout.stage import lay_out
from fencewright.stakeout.stage import stake_out
from fencewright.tables.fence import Layout
from fencewright.tables.stake_out import StakeOut

HEAD = '[job]\nname = "x"\nsheets = "{sheets}"\n[site]\nsoil = "sand"\nfrost_depth = "30 in"\n'
Staked = tuple[StakeOut, Layout, list[Finding]]


@pytest.fixture
def staked(tmp_path: Path) -> Callable[..., Staked]:
    """Builder: text of the job after its head, its sheets."""

    def build(text: str, sheets: str = "metric", site: str = "") -> Staked:
        job = job_from_text(HEAD.format(sheets=sheets) + site + text, tmp_path)
        layout, _ = lay_out(job)
        made, findings = stake_out(job, layout)
        return made, layout, findings

    return build


def line(points: list[tuple[float, float]], *, closed: bool = False, name: str = "a", more: str = "") -> str:
    """Text of one line in metres."""
    rows = ", ".join(f'["{x!r} m", "{y!r} m"]' for x, y in points)
    return f'[[line]]\nname = "{name}"\nclosed = {str(closed).lower()}\npoints = [{rows}]\n{more}'


def reference(name: str, x: float, y: float, more: str = "") -> str:
    """Text of one reference point in metres."""
    return f'[[reference]]\nname = "{name}"\nat = ["{x!r} m", "{y!r} m"]\n{more}'


@pytest.fixture
def write_line() -> Callable[..., str]:
    """Writer of a line's text."""
    return line


@pytest.fixture
def write_reference() -> Callable[..., str]:
    """Writer of a reference point's text."""
    return reference
