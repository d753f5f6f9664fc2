"""How things look: a named style for each kind of mark, and the colours of buried services.

The drawing comes first: ink for what is built, greys for what is there, one accent for what needs a
look. No meaning hangs on colour alone: each service has its letter and dash, each post its own mark.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from fencewright.site.features import SiteObstacle

INK = "#1c2126"
GREY = "#667079"
PALE = "#c3cad0"
FAINT = "#eceff1"
ACCENT = "#8a1c44"
PAPER = "#ffffff"

# The public-works colour code of buried services, dark enough to read on white.
CODE_COLOURS: Mapping[str, str] = MappingProxyType(
    {
        "red": "#d1001c",
        "yellow": "#a88600",
        "orange": "#e06000",
        "blue": "#0062c4",
        "green": "#0b7a2f",
        "purple": "#7a2aa8",
        "white": "#8a9299",
        "pink": "#d6358a",
        "none": GREY,
    }
)


@dataclass(frozen=True, slots=True)
class Style:
    """Stroke, fill and letters of a mark: widths and dashes in millimetres on paper."""

    stroke: str = "none"
    width_mm: float = 0.25
    fill: str = "none"
    dash_mm: tuple[float, ...] = ()
    hatch_rad: float | None = None
    hatch_mm: float = 1.6
    opacity: float = 1.0
    is_bold: bool = False
    has_halo: bool = False
    extra: tuple[tuple[str, str], ...] = field(default=())


@dataclass(frozen=True, slots=True)
class ObstacleLook:
    """How a kind of obstacle is drawn: its dash, its DXF layer; its letter is that of `site.letters`."""

    dash_mm: tuple[float, ...]
    dxf_layer: str


OBSTACLE_LOOKS: Mapping[str, ObstacleLook] = MappingProxyType(
    {
        "buried electric": ObstacleLook((4.0, 1.0), "BURIED-ELECTRIC"),
        "buried gas": ObstacleLook((6.0, 1.2, 1.2, 1.2), "BURIED-GAS"),
        "buried telecom": ObstacleLook((2.0, 1.0), "BURIED-TELECOM"),
        "buried water": ObstacleLook((6.0, 1.5), "BURIED-WATER"),
        "buried sewer": ObstacleLook((8.0, 1.5, 1.0, 1.0, 1.0, 1.5), "BURIED-SEWER"),
        "buried reclaimed water": ObstacleLook((5.0, 1.0, 1.0, 1.0), "BURIED-RECLAIMED"),
        "septic field": ObstacleLook((2.5, 1.0), "SEPTIC"),
        "overhead line": ObstacleLook((3.0, 0.8, 0.8, 0.8, 0.8, 0.8), "OVERHEAD"),
        "tree": ObstacleLook((), "TREES"),
        "rock": ObstacleLook((), "ROCK"),
        "pond": ObstacleLook((), "WATER"),
        "stream": ObstacleLook((), "WATER"),
        "building": ObstacleLook((), "BUILDINGS"),
        "boundary": ObstacleLook((7.0, 1.0, 1.0, 1.0), "BOUNDARY"),
    }
)
_OTHER_OBSTACLE = ObstacleLook((3.0, 1.0), "OBSTACLES")


def obstacle_look(kind: str) -> ObstacleLook:
    """Look of a kind of obstacle; a plain one for a kind that the user added."""
    return OBSTACLE_LOOKS.get(kind, _OTHER_OBSTACLE)


def code_colour(obstacle: SiteObstacle) -> str:
    """Name of the public-works colour that an obstacle is drawn in: its service's, blue for open water, else `none`."""
    return "blue" if obstacle.is_water and obstacle.colour == "none" else obstacle.colour


def obstacle_style(kind: str, colour: str, part: str) -> str:
    """Name of the style of an obstacle's `line`, `area`, `band` or `text`."""
    return f"ob|{kind}|{colour}|{part}"


_HATCH_RAD = {"red": 0.785, "yellow": 2.356, "orange": 0.524, "blue": 2.618, "green": 1.047, "purple": 2.094}

_FIXED: Mapping[str, Style] = MappingProxyType(
    {
        # the sheet
        "sheet": Style(fill=PAPER),
        "frame": Style(INK, 0.35),
        "rule": Style(PALE, 0.2),
        "grid": Style(FAINT, 0.2),
        "axis": Style(GREY, 0.2),
        "text": Style(fill=INK),
        "text-strong": Style(fill=INK, is_bold=True),
        "text-quiet": Style(fill=GREY),
        "text-accent": Style(fill=ACCENT, is_bold=True),
        "stop-box": Style(ACCENT, 0.7),
        "bar-dark": Style(INK, 0.2, fill=INK),
        "bar-light": Style(INK, 0.2, fill=PAPER),
        # marks on the drawing
        "label": Style(fill=INK, has_halo=True),
        "label-strong": Style(fill=INK, is_bold=True, has_halo=True),
        "label-quiet": Style(fill=GREY, has_halo=True),
        "label-accent": Style(fill=ACCENT, is_bold=True, has_halo=True),
        "leader": Style(GREY, 0.13),
        "fence": Style(INK, 0.45),
        "fence-fine": Style(INK, 0.2),
        "tick": Style(INK, 0.25),
        "mark": Style(INK, 0.25, fill=PAPER),
        "mark-solid": Style(INK, 0.2, fill=INK),
        "mark-line": Style(INK, 0.25),
        "brace": Style(INK, 0.9),
        "brace-foot": Style(INK, 0.3),
        "brace-side": Style(INK, 0.35),
        "gate": Style(INK, 0.4),
        "gate-arc": Style(GREY, 0.2, dash_mm=(1.2, 0.8)),
        "crossing": Style(INK, 0.35, dash_mm=(1.0, 1.0)),
        "dimension": Style(GREY, 0.15),
        "match": Style(INK, 0.35, dash_mm=(4.0, 1.0, 0.8, 1.0)),
        # the long section
        "ground": Style(INK, 0.4),
        "ground-fill": Style(fill=FAINT),
        "post": Style(INK, 0.2, fill=PAPER),
        "hole": Style(GREY, 0.15, fill=PAPER),
        "concrete": Style(GREY, 0.15, fill=PAPER, hatch_rad=0.785, hatch_mm=0.8),
        "top": Style(ACCENT, 0.4),
        "rail": Style(GREY, 0.2),
        "band": Style(fill="#f0dde4", opacity=0.8),
        "uplift": Style(ACCENT, 0.4),
        "accent-solid": Style(ACCENT, 0.2, fill=ACCENT),
        "accent-open": Style(ACCENT, 0.35, fill=PAPER),
        "accent-line": Style(ACCENT, 0.35),
        # tension and strength
        "window": Style(fill="#d9e4ea"),
        "window-edge": Style(GREY, 0.2),
        "pull-to": Style(ACCENT, 0.5),
        "worked": Style(ACCENT, 0.5),
        "pulling": Style(INK, 0.3, dash_mm=(1.4, 0.9)),
        "guide": Style(PALE, 0.15, dash_mm=(0.6, 0.6)),
        "use-low": Style(GREY, 0.2, fill=PAPER),
        "use-mid": Style("#2f6f9f", 0.25, fill="#a9cde6"),
        "use-high": Style("#8a5a00", 0.3, fill="#f2b134"),
        "use-over": Style(ACCENT, 0.4, fill=ACCENT),
        "use-over-line": Style(PAPER, 0.35),
        "water": Style(CODE_COLOURS["blue"], 0.25),
    }
)


def style_named(name: str) -> Style:
    """Style of a name: one of the fixed ones, or an obstacle's part.

    Raises
    ------
    KeyError
        If there is none.
    """
    if not name.startswith("ob|"):
        return _FIXED[name]
    _, kind, code, part = name.split("|")
    colour = CODE_COLOURS.get(code, GREY)
    if part == "line":
        return Style(colour, 0.4, dash_mm=obstacle_look(kind).dash_mm)
    if part == "area":
        return Style(colour, 0.3, fill=FAINT)
    if part == "text":
        return Style(fill=colour, is_bold=True, has_halo=True)
    return Style(colour, 0.12, hatch_rad=_HATCH_RAD.get(code, 0.785), dash_mm=(0.8, 0.8), opacity=0.75)
