"""Rows that the strength of posts is checked by: timber, steel pipe, load cases."""

from collections.abc import Callable, Mapping
from typing import Any

from fencewright.catalogue.rows import LoadCase, Pipe, Timber
from fencewright.findings import InputError

Read = Callable[[str, str], float]

PULLS = ("cold", "set", "hot")
SIDES = ("all", "ending", "starting")
WINDS = ("none", "left", "right", "ahead", "back", "ice")
EXTRAS = ("none", "animal left", "animal right", "gate shut", "gate open", "ice", "flood")


def read_timber(name: str, row: Mapping[str, Any], read: Read) -> Timber:
    """Round timber from its row; `read(key, kind)` gives a quantity of the row or says what is missing."""
    return Timber(
        name,
        read("bending", "stress"),
        read("shear", "stress"),
        read("compression", "stress"),
        read("modulus", "stress"),
        read("least_modulus", "stress"),
        read("wet_factor", "ratio"),
        read("density", "density"),
        str(row.get("source", "practice")),
    )


def read_pipe(name: str, row: Mapping[str, Any], read: Read) -> Pipe:
    """Steel pipe from its row."""
    outer, wall = read("outer", "length"), read("wall", "length")
    return Pipe(
        name,
        outer,
        wall,
        read("yield", "stress"),
        read("modulus", "stress"),
        str(row.get("source", "practice")),
    )


def read_load_case(name: str, row: Mapping[str, Any], read: Read) -> LoadCase:
    """Load case from its row.

    Raises
    ------
    InputError
        A word that says nothing to the program.
    """
    for key, known in (("pull", PULLS), ("side", SIDES), ("wind", WINDS), ("extra", EXTRAS)):
        if row.get(key) not in known:
            raise InputError(f"`{key}` must be one of {', '.join(known)}", item=f'load_case "{name}"')
    names = ("pull_factor", "wind_factor", "extra_factor")
    plain, lrfd = ([read(prefix + key, "ratio") for key in names] for prefix in ("", "lrfd_"))
    return LoadCase(
        name,
        str(row["pull"]),
        str(row["side"]),
        str(row["wind"]),
        str(row["extra"]),
        (plain[0], plain[1], plain[2]),
        (lrfd[0], lrfd[1], lrfd[2]),
        None if row["duration"] == "cold" else read("duration", "ratio"),
        read("time_effect", "ratio"),
        str(row.get("source", "practice")),
        str(row.get("why", "")),
    )
