"""The generated pages, made once."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

DOCS = Path(__file__).parents[2] / "docs"


@pytest.fixture(scope="session")
def make_docs() -> ModuleType:
    """The script docs/make_docs.py as a module."""
    spec = importlib.util.spec_from_file_location("make_docs", DOCS / "make_docs.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
