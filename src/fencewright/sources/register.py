"""The register of publications: shipped in data/sources.toml, read once."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Source:
    """One publication, or common practice.

    Attributes
    ----------
    key : str
        Name by which rows and docstrings point here.
    title, author, edition : str
        As printed; empty where not known.
    where : str
        Clause, table or page, and what it says.
    seen : str
        Year and month in which it was read.
    note : str
        What else a reader should know.
    """

    key: str
    title: str
    author: str = ""
    edition: str = ""
    where: str = ""
    seen: str = ""
    note: str = ""

    @property
    def text(self) -> str:
        """Citation as one line."""
        return ", ".join(part for part in (self.author, self.title, self.edition) if part)


@cache
def all_sources() -> Mapping[str, Source]:
    """Load the register once: sources by key, in its order."""
    text = resources.files("fencewright").joinpath("data").joinpath("sources.toml").read_text("utf-8")
    return MappingProxyType({key: Source(key, **row) for key, row in tomllib.loads(text).items()})


def cite(key: str) -> Source:
    """Find a source by its key.

    Raises
    ------
    KeyError
        The register has no such key.
    """
    sources = all_sources()
    if key not in sources:
        raise KeyError(f"the register of sources has no key {key!r}")
    return sources[key]
