"""Parts of the program that may not be there yet: price, programme, papers. What is missing says so."""

from importlib.util import find_spec
from typing import Any

from fencewright.server.errors import Refused
from fencewright.server.service import Service
from fencewright.store.records import Missing, State

PARTS = {
    "price": "fencewright.desk.pricing",
    "programme": "fencewright.desk.scheduling",
    "papers": "fencewright.desk.paper_writing",
}


def missing_parts() -> list[str]:
    """Name the parts that this version has not."""
    return [part for part, module in PARTS.items() if find_spec(module) is None]


def part_answer(service: Service, state: State, part: str, *, is_alone: bool = False) -> dict[str, Any]:
    """Give what a part has to say of a job; of a price that is wanted `is_alone`, without its alternatives.

    Raises
    ------
    Refused
        `missing-part`: this version has it not.
    Missing
        There is no such part.
    """
    if part not in PARTS:
        raise Missing(f"there is no part of that name: there are {', '.join(PARTS)}")
    if part in missing_parts():
        raise Refused("missing-part", f"this version of fencewright has no {part} yet: nothing was computed")
    if part == "papers":
        return {"papers": [name for name in service.outputs(state).files if name.endswith(".pdf")]}
    answer: dict[str, Any] = service.task(state, "own price" if is_alone and part == "price" else part)
    return answer
