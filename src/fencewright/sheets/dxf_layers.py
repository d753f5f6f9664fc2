"""Layers of plan.dxf, named in the trade's words, with colour, dash and what they hold."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from fencewright.sheets.look import OBSTACLE_LOOKS, obstacle_look
from fencewright.tables.fence import Role


@dataclass(frozen=True, slots=True)
class DxfLayer:
    """A layer: colour index of the CAD palette, line type, what it holds."""

    colour: int
    linetype: str
    title: str


_SERVICE = {
    "BURIED-ELECTRIC": 1,
    "BURIED-GAS": 2,
    "BURIED-TELECOM": 30,
    "BURIED-WATER": 5,
    "BURIED-SEWER": 3,
    "BURIED-RECLAIMED": 6,
    "SEPTIC": 3,
    "OVERHEAD": 8,
    "TREES": 94,
    "ROCK": 8,
    "WATER": 140,
    "BUILDINGS": 8,
    "BOUNDARY": 231,
    "OBSTACLES": 8,
}
_DASHED = ("BURIED-", "SEPTIC", "OVERHEAD", "BOUNDARY")

LAYERS: Mapping[str, DxfLayer] = MappingProxyType(
    {
        "FENCE": DxfLayer(7, "CONTINUOUS", "fence from post to post"),
        "RAIL": DxfLayer(8, "CONTINUOUS", "rail along the faces of its posts"),
        **{
            f"POSTS-{role.name}": DxfLayer(7, "CONTINUOUS", f"{role.label} posts at their diameter")
            for role in Role
        },
        "POST-IDS": DxfLayer(7, "CONTINUOUS", "names of posts"),
        "HOLES": DxfLayer(8, "CONTINUOUS", "holes of posts and braces at their widest"),
        "BRACES": DxfLayer(7, "CONTINUOUS", "braces from post to foot"),
        "GATES": DxfLayer(7, "CONTINUOUS", "leaves stood open, their swing and names"),
        "CROSSINGS": DxfLayer(7, "DASHED", "hung gaps over water"),
        "TOP-LINE": DxfLayer(12, "CONTINUOUS", "post tops, in three dimensions"),
        "GROUND-LINE": DxfLayer(32, "CONTINUOUS", "ground along the fence, in three dimensions"),
        "CLEARANCE": DxfLayer(8, "DASHED", "no hole within"),
        **{
            name: DxfLayer(colour, "DASHED" if name.startswith(_DASHED) else "CONTINUOUS", name.lower())
            for name, colour in _SERVICE.items()
        },
        "DIMENSIONS": DxfLayer(8, "CONTINUOUS", "lengths of legs"),
        "NOTES": DxfLayer(7, "CONTINUOUS", "job, findings and cautions"),
    }
)


def obstacle_layer(kind: str) -> str:
    """Layer of a kind of obstacle; `OBSTACLES` for a kind that the user added."""
    return obstacle_look(kind).dxf_layer


def unknown_layers() -> set[str]:
    """Layers that obstacles name and this table lacks; empty, and a test holds it so."""
    return {look.dxf_layer for look in OBSTACLE_LOOKS.values()} - set(LAYERS)
