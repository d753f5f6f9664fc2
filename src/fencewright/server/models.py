"""What the server takes and gives; /openapi.json and the page's types are made from these."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from fencewright.edits.requests import Edit
from fencewright.job.fields import NUMBER

RevisionNumber = Annotated[int, Field(ge=1, le=2**31 - 1), NUMBER]
"""Number of a revision, as far as the job store counts."""


class Told(BaseModel):
    """A model that is given out: every key is there."""

    model_config = ConfigDict(json_schema_serialization_defaults_required=True)


class ErrorText(Told):
    """What is wrong, in one sentence, and where."""

    sentence: str = Field(description="What is wrong and what to do, one sentence; the command line's own.")
    file: str = Field("", description="The file that holds it.")
    item: str = Field("", description="The item in that file, in words.")
    field: list[str | int] = Field(
        default_factory=list,
        description='Where it stands in the job file: `["gate", 0, "at"]`; empty: nowhere.',
    )
    code: str = Field(description="Stable short name: docs/web-api.md lists them.")
    head: int | None = Field(None, description="`moved`, `clash`: the job's present revision.")
    kept: int | None = Field(None, description="`clash`: the revision under which the edit is kept.")


class ErrorAnswer(Told):
    """Every answer that is an error."""

    error: ErrorText


class About(Told):
    """What the server is."""

    program: str
    version: str
    stages: list[str] = Field(description="Stages of a design, in order.")
    largest_upload_bytes: int
    file_kinds: list[str] = Field(description="Extensions of files that a job may hold.")
    missing_parts: list[str] = Field(
        description="Parts that this version has not: `price`, `programme`, `papers`."
    )
    deleted_kept_days: int = Field(description="So long a deleted job can be brought back.")
    cautions: list[str] = Field(description="The usual cautions, to be shown with every design.")


class JobSummary(Told):
    """A job in the list."""

    id: str
    name: str
    head: int = Field(description="Its present revision.")
    made_ms: int = Field(description="Milliseconds since 1970.")
    changed_ms: int
    deleted_ms: int | None
    picture: str = Field(description="Address of a small picture.")


class RevisionInfo(Told):
    """One accepted state of a job."""

    number: int
    parent: int | None
    label: str = Field(description="What was done.")
    name: str = Field(description="What a person called it; empty: nothing.")
    window: str = Field(description="Which window made it.")
    aside: bool = Field(description="Kept beside the job: it touched what another window had changed.")
    merged: bool
    made_ms: int
    present: bool = Field(description="The job is at this revision.")
    done: bool = Field(description="Part of the present state; false: undone, or aside.")


class JobFileInfo(Told):
    """A file that the job holds."""

    path: str
    digest: str


class JobState(Told):
    """A job as it is."""

    id: str
    name: str
    head: int
    revision: RevisionInfo
    text: str = Field(description="The job file, comments and all.")
    asked: dict[str, Any] = Field(
        description="Its values as they stand there: text with units, numbers, flags."
    )
    files: list[JobFileInfo]
    undo: str | None = Field(description="What undo would undo; null: nothing.")
    redo: str | None = Field(description="What redo would do again; null: nothing.")


class NewJob(BaseModel):
    """A new job."""

    name: str = Field("New paddock", min_length=1, max_length=300)
    sheets: Literal["us", "metric"] = "us"
    start: Literal["empty", "example"] = Field(
        "empty", description="`empty`: no line yet; `example`: a paddock."
    )
    window: str = Field("", max_length=64)


class CopyJob(BaseModel):
    """A copy of a job."""

    name: str = Field("", max_length=300, description="Left out: the old name with `copy`.")
    window: str = Field("", max_length=64)


class EditAsked(BaseModel):
    """An edit, and the revision that it was made on."""

    base: RevisionNumber
    window: str = Field("", max_length=64, description="Any text that names the window.")
    edit: Edit


class EditAnswer(Told):
    """The job after an edit."""

    state: JobState
    merged: bool = Field(description="Another window had changed the job since; both edits stand.")
    merged_with: list[str] = Field(description="What the other window had done.")


class TrialAsked(BaseModel):
    """An edit to be shown in the live answer of one window, and not kept: what a hand drags."""

    base: RevisionNumber
    window: str = Field(min_length=1, max_length=64)
    trial: Annotated[int, Field(ge=1, le=2**53 - 1), NUMBER] = Field(
        description="A number that rises; older answers are dropped."
    )
    edit: Edit


class TrialAnswer(Told):
    """The trial was taken; its answer comes in the live stream."""

    trial: int


class ExpectAsked(BaseModel):
    """An edit that will probably come: what is being typed, the button that a hand is over."""

    base: RevisionNumber
    window: str = Field(min_length=1, max_length=64)
    edit: Edit


class ExpectAnswer(Told):
    """Whether the edit can be made as far as is known, and is designed ahead; nobody is told of it."""

    begun: bool


class MoveAsked(BaseModel):
    """Undo, redo or go back, and the revision that the window shows."""

    base: RevisionNumber
    window: str = Field("", max_length=64)


class NameAsked(BaseModel):
    """A name for a revision; empty takes it away."""

    name: str = Field(max_length=200)


class ChangeInfo(Told):
    """One key that differs between two revisions."""

    table: str
    row: int | None = Field(description="Number of the row before; null: a new row, or a plain table.")
    new_row: int | None = Field(description="Number of the row after; null: removed, or a plain table.")
    item: str = Field(description="What it is called.")
    key: str = Field(description="The key; empty: the whole row.")
    before: Any
    after: Any


class LayerInfo(Told):
    """What one layer of a site file holds."""

    layer: str
    points: list[str] = Field(description="Names of its features, by kind.")
    lines: list[str]
    polygons: list[str]


class FileGiven(Told):
    """A file that was given to a job."""

    path: str
    layers: list[LayerInfo] = Field(description="Empty for ground files and companions.")
    is_ground: bool = Field(description="It can be the job's ground.")
    is_picture: bool = Field(False, description="It can be shown under the plan as a picture.")
    sentence: str = Field(
        "", description="What it is good for, where it is neither ground, picture nor features."
    )


class FilesAnswer(Told):
    """The job after files were given to it."""

    state: JobState
    given: list[FileGiven]


class OutputInfo(Told):
    """One file to take away."""

    name: str
    media_type: str


class LeftOutInfo(Told):
    """What could not be made, and why."""

    what: str = Field(description="In words: `the price and quote.pdf`.")
    sentence: str = Field(description="Why, and what to do; the command line's own.")


class OutputsAnswer(Told):
    """What is to be taken away."""

    files: list[OutputInfo]
    left_out: list[LeftOutInfo] = Field(description="What is not among them.")


class WhyInput(Told):
    """One number that went into another."""

    symbol: str
    name: str
    value: float | str | list[float | None] | None
    unit: str
    origin: str


class WhyReason(Told):
    """Why one number is what it is."""

    name: str
    says: str
    inputs: list[WhyInput]
    words: str
    symbols: str
    result: float | str | list[float | None] | None
    unit: str
    source: str
    source_text: str = ""
    clause: str = ""
    next_smaller: str = ""


class WhyAnswer(Told):
    """Everything about one thing: a post, roll, order line, sum, line of the price, activity, ..."""

    id: str
    kind: str
    where: str
    reasons: list[WhyReason]


class NeededPriceInfo(Told):
    """One price that the job is paid by, whatever lines it pays."""

    item: str
    size: str
    kind: str = Field(description="`material`, `labour`, `plant`, `travel`, `other`.")
    unit: str
    pack: str = Field(description="So many units are one pack. Figures are text, as they are written.")
    price: str | None = Field(description="Of one pack; null: nobody states it.")
    low: str | None
    high: str | None
    date: str
    supplier: str
    where: str = Field(description="The row that states it; `the job`: an `[[extra]]`; empty: it is missing.")
    why: str = Field(description="What the price book has instead, where it is missing.")
    quantity: float = Field(description="Of all lines that it pays, in `unit`.")
    used_for: list[str] = Field(description="What those lines are called.")


class PricesAnswer(Told):
    """The prices that a job is paid by, known and missing."""

    currency: str
    book: str = Field(description="File that holds them; empty: the job names none.")
    prices: list[NeededPriceInfo]
    left_out: int = Field(description="Lines that the total leaves out for want of a price.")


class TerrainAnswer(Told):
    """Elevations on a grid over the job, for contours and shading."""

    x_m: float = Field(description="Of the first column. [m]")
    y_m: float = Field(description="Of the first row, the southernmost. [m]")
    step_m: float
    columns: int
    rows: int
    elevation_m: list[float | None] = Field(description="Row by row, west to east; null: not known. [m]")
    source: str


class BackdropFeature(Told):
    """A point, line or outline of a site file, to be drawn under the plan."""

    name: str
    geometry: str = Field(description="`point`, `line` or `polygon`.")
    points_m: list[float] = Field(description="East and north in the job's plane, in turn. [m]")
    closed: bool


class BackgroundAnswer(Told):
    """What a file of the job can show under the plan, and where."""

    path: str
    kind: Literal["picture", "features", "none"]
    bounds_m: list[float] = Field(
        description="West, south, east and north in the job's plane; empty: none. [m]"
    )
    cell_m: float = Field(description="Side of a cell of the picture itself; 0: no picture. [m]")
    shown_cell_m: float = Field(description="Side of a cell of the whole picture as `address` gives it. [m]")
    address: str = Field(description="Of the picture; add `west`, `south`, `east`, `north` for a finer part.")
    features: list[BackdropFeature]
    sentence: str = Field(description="Why it cannot be shown, or what to look at; empty: nothing.")
    plane: str = Field(
        description="EPSG code that the job may name as [site] crs so that the file has a place."
    )
    needs_unit: bool = Field(description="It can be shown once [site] file_unit is named.")


class CatalogueAnswer(Told):
    """Names that the job file may use, for lists to pick from."""

    rails: list[str]
    obstacles: list[str]
    soils: list[str]
    bags: list[str]
    timbers: list[str]
    pipes: list[str]
    stock: list[str]
