"""Instance j301_1 of PSPLIB (psplib-j30; tests/data/psplib-j30/ORIGIN.toml, READ): 30 activities, four resources.

Its file states the longest path, 38 (MPM-Time); its optimum is 43 (MEMORY of the library's table, proven again here by a
constraint solver).
"""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from fencewright.programme.levelling import level
from fencewright.programme.network import Network, earliest

HOME = Path(__file__).parents[1]


def module(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    if spec is None or spec.loader is None:
        raise ValueError(path)
    loaded = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(loaded)
    return loaded


@pytest.fixture(scope="module")
def network() -> Network:
    read: Network = module(HOME / "programme" / "conftest.py").read_psplib("j301_1.sm")
    return read


def test_longest_path(network: Network) -> None:
    assert max(earliest(network)[1]) == 38


def test_optimum_is_found_and_no_bound_passes_it(network: Network) -> None:
    plan = level(network)
    assert plan.finish == 43
    assert 38 <= plan.bound <= 43


def test_a_constraint_solver_proves_the_optimum(network: Network) -> None:
    oracle = module(HOME / "oracles" / "test_programme_cpsat.py")
    assert oracle.shortest(network) == 43
