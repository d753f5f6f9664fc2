"""The letter along a thing in the way on paper and on the page: no meaning hangs on its colour alone."""

from collections.abc import Mapping
from types import MappingProxyType

OBSTACLE_LETTERS: Mapping[str, str] = MappingProxyType(
    {
        "buried electric": "E",
        "buried gas": "G",
        "buried telecom": "T",
        "buried water": "W",
        "buried sewer": "S",
        "buried reclaimed water": "RW",
        "septic field": "SF",
        "overhead line": "OH",
        "boundary": "B",
    }
)


def obstacle_letter(kind: str) -> str:
    """Letter of a kind of obstacle; empty for one that is known by its shape, and for a kind that the user added."""
    return OBSTACLE_LETTERS.get(kind, "")
