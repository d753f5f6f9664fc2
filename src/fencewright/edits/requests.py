"""Every edit as it is asked for: its name in `kind`, and what it needs."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from fencewright.job.fields import NUMBER
from fencewright.quantity.shown import shown_value


def _kind(kinds: type | tuple[type, ...], wanted: str) -> BeforeValidator:
    """Refuse another kind of value in one sentence, true and false too, which Python holds to be 1 and 0."""

    def checked(value: object) -> object:
        if isinstance(value, bool) or not isinstance(value, kinds):
            raise ValueError(f"{shown_value(value)} is no {wanted}")
        return value

    return BeforeValidator(checked)


_Exact = Annotated[int, Field(strict=True)]  # so that `"2"` stays a name
_Number = Annotated[int, Field(ge=0), NUMBER]
Amount = Annotated[
    str | float,
    Field(union_mode="left_to_right"),
    _kind((str, int, float), "length: write text with its unit, such as `12 ft`, or a number of metres"),
]
"""A length as typed, with its unit (`12 ft`), or a number of metres; the number is written in the sheets' unit."""
Place = tuple[Amount, Amount]
"""A point of the job's plane, x and y."""
Item = Annotated[
    _Exact | str,
    Field(union_mode="left_to_right"),
    _kind((int, str), "row: give its number from 0, or its name"),
]
"""A row of a table: its number from 0, or its name."""
Step = Annotated[
    _Exact | str,
    Field(union_mode="left_to_right"),
    _kind((int, str), "step of a path: give a key, or a row's number"),
]
Table = Literal[
    "soil_zone", "gate", "crossing", "obstacle", "strand", "strain", "pin", "built", "rock", "size",
    "reference", "measured", "payment", "neighbour", "extra", "rate", "alternative",
]  # fmt: skip
StationTable = Literal["gate", "crossing", "strain", "pin", "built", "rock", "size"]


class Request(BaseModel):
    """What every edit shares: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_max_length=5_000_000)


class AddLine(Request):
    """Draw a new line."""

    kind: Literal["add_line"]
    name: str = Field("", description="Left out: the next free `line 2`, `line 3`, ...")
    points: list[Place] = Field(min_length=2, max_length=100_000)
    closed: bool = False


class RemoveLine(Request):
    """Remove a line and everything that stands on it."""

    kind: Literal["remove_line"]
    line: Item


class RenameLine(Request):
    """Rename a line, and whatever names it."""

    kind: Literal["rename_line"]
    line: Item
    name: str = Field(min_length=1, max_length=100)


class MoveLine(Request):
    """Move a whole line."""

    kind: Literal["move_line"]
    line: Item
    by: Place


class MoveCorner(Request):
    """Move one point of a line: to a place, or by so much."""

    kind: Literal["move_corner"]
    line: Item
    corner: _Number = Field(description="Number of the point, from 0.")
    to: Place | None = None
    by: Place | None = None
    shared: bool = Field(True, description="Corners of other lines at the same place go along.")


class InsertCorner(Request):
    """Put a point into a line."""

    kind: Literal["insert_corner"]
    line: Item
    after: Annotated[int, Field(ge=-1), NUMBER] = Field(
        description="Number of the point before it; -1: it becomes the first."
    )
    at: Place


class RemoveCorner(Request):
    """Take a point out of a line."""

    kind: Literal["remove_corner"]
    line: Item
    corner: _Number


class SplitLine(Request):
    """Divide a line at one of its points; a closed one is opened there."""

    kind: Literal["split_line"]
    line: Item
    corner: _Number
    name: str = Field("", description="Of the second part; left out: the next free name.")


class JoinLines(Request):
    """Join two open lines at their nearest ends; the first keeps its name."""

    kind: Literal["join_lines"]
    line: Item
    other: Item


class CloseLine(Request):
    """Join a line's last point to its first, or open it again."""

    kind: Literal["close_line"]
    line: Item
    closed: bool = True


class OwnPoints(Request):
    """Give a line that comes from a file points of its own, so that it can be redrawn."""

    kind: Literal["own_points"]
    line: Item


class SetField(Request):
    """Set one key of the job file, or with null take it out, so that its default holds."""

    kind: Literal["set"]
    path: list[Step] = Field(
        min_length=2,
        max_length=5,
        description='`["fence", "rails"]`, `["gate", 0, "at"]` or with its name, `["alternative", 0, "fence", "rails"]`.',
    )
    value: Any = Field(
        None, description="As the job file has it: text with a unit, number, flag, list, null."
    )


class AddItem(Request):
    """Add a row to a table: a gate, crossing, obstacle, strand, strain post, ..."""

    kind: Literal["add"]
    table: Table
    values: dict[str, Any] = Field(description="Its keys, as the job file has them.")
    alternative: Item | None = Field(None, description="Into this alternative instead of the job itself.")


class RemoveItem(Request):
    """Remove a row of a table."""

    kind: Literal["remove"]
    table: Table
    item: Item
    alternative: Item | None = Field(None, description="Out of this alternative instead of the job itself.")


class SlideItem(Request):
    """Move a gate, crossing or mark along its line, or onto another: to a station, or by so much."""

    kind: Literal["slide"]
    table: StationTable
    item: Item
    at: Amount | None = Field(None, description="Its new station.")
    by: Amount | None = Field(None, description="How much further along; back where it is negative.")
    line: str = Field("", description="Another line; left out: the same.")


class MoveObstacle(Request):
    """Move an obstacle, or one of its points."""

    kind: Literal["move_obstacle"]
    item: Item
    by: Place | None = Field(None, description="Moves all of it.")
    point: _Number | None = Field(None, description="Moves this point alone, to `to`.")
    to: Place | None = None


class AtStation(Request):
    """What every mark on a post shares: its line and station."""

    line: str = Field(min_length=1)
    at: Amount = Field(description="Station of the post.")


class PinTop(AtStation):
    """Pin a post's top: by its height above ground or by its elevation."""

    kind: Literal["pin_top"]
    height: Amount | None = None
    top: Amount | None = None


class Unpin(AtStation):
    """Let the top of a pinned post flow again."""

    kind: Literal["unpin"]


class PostSet(AtStation):
    """A post already set: where it really stands and how deep; what is left out stays as it was entered before."""

    kind: Literal["post_set"]
    offset: Amount | None = Field(None, description="Of its centre, left of the line positive.")
    depth: Amount | None = None
    height: Amount | None = Field(None, description="Its cut top above ground, if it is cut already.")
    ground: Amount | None = Field(None, description="Elevation of the ground at it, as measured there.")


class MetRock(AtStation):
    """A hole that met rock."""

    kind: Literal["met_rock"]
    depth: Amount


class StrainPost(AtStation):
    """Let the rail end both ways at a station."""

    kind: Literal["strain_post"]


class ImportFile(Request):
    """Use a file that was given to the job: as a line, as something in the way, or as its ground."""

    kind: Literal["import_file"]
    file: str = Field(min_length=1, max_length=300)
    use: Literal["line", "obstacle", "ground"]
    layer: str = ""
    feature: str = ""
    name: str = ""
    obstacle: str = Field("", description="Kind of obstacle, for `obstacle`.")
    closed: bool | None = None


class ReplaceText(Request):
    """Replace the whole text of the job file."""

    kind: Literal["replace_text"]
    text: str


Figure = Annotated[
    str | float, Field(union_mode="left_to_right"), _kind((str, int, float), "figure: write it like 12.50")
]
"""A plain number as typed (`1,250.00`), or a number."""


class OnePrice(BaseModel):
    """One price: of what, by which unit, and what it is."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_max_length=200, str_strip_whitespace=True)

    item: str = Field(min_length=1, description="Name of what is bought, a trade, or a machine.")
    size: str = Field("", description="Where the name alone does not tell.")
    kind: Literal["material", "labour", "plant", "travel", "other"] = "material"
    unit: str = Field(min_length=1, description="`piece`, `bag`, `h`, `day`, `ft`, ...")
    price: Figure | None = Field(
        None, description="Of one pack; null or empty takes it out of the price book."
    )
    pack: Figure | None = Field(
        None, description="So many units are one pack; left out: as it stands, else 1."
    )
    low: Figure | None = Field(None, description="The least that it may become; left out: as it stands.")
    high: Figure | None = Field(None, description="The most.")
    date: str | None = Field(None, description="Day of the price, `2026-05-01`; empty: none.")
    supplier: str | None = None


class SetPrices(Request):
    """Set prices in the job's price book; where the job names none, one is begun and named."""

    kind: Literal["prices"]
    prices: list[OnePrice] = Field(min_length=1, max_length=2000)


OneEdit = Annotated[
    AddLine
    | RemoveLine
    | RenameLine
    | MoveLine
    | MoveCorner
    | InsertCorner
    | RemoveCorner
    | SplitLine
    | JoinLines
    | CloseLine
    | OwnPoints
    | SetField
    | AddItem
    | RemoveItem
    | SlideItem
    | MoveObstacle
    | PinTop
    | Unpin
    | PostSet
    | MetRock
    | StrainPost
    | ImportFile
    | ReplaceText,
    Field(discriminator="kind"),
]


class Many(Request):
    """Several edits as one: all or none."""

    kind: Literal["many"]
    label: str = Field("", max_length=200)
    edits: list[OneEdit] = Field(min_length=1, max_length=1000)


Edit = Annotated[OneEdit | Many | SetPrices, Field(discriminator="kind")]
"""Any edit."""
