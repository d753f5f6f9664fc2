"""What the live stream of a job says: GET /api/jobs/{id}/live, a stream of server-sent events."""

from typing import Any

from pydantic import Field

from fencewright.server.models import ErrorText, Told


class Splice(Told):
    """How a column changes: `remove` values from `start` on give way to `values`; then `changed` stands in `rows`."""

    start: int
    remove: int
    values: list[Any]
    rows: list[int] = Field(default=[], description="Single rows that change too; not there where none does.")
    changed: list[Any] = Field(default=[], description="Their values.")


class TableChange(Told):
    """How a table changes; a column that then has not `rows` values is stale until a later stage sends it."""

    rows: int
    columns: dict[str, Splice]


class StageEvent(Told):
    """Event `stage`: what one stage of the design gave, as changes to what this stream has sent before."""

    revision: int = Field(description="The revision that it answers; drop it if a newer one is shown.")
    trial: int | None = Field(description="The trial that it answers; null: the job itself.")
    stage: str = Field(description="`site`, then the stages of a design; `design` is the last.")
    pending: list[str] = Field(description="Stages still to come.")
    elapsed_ms: float = Field(description="Since the design was begun.")
    tables: dict[str, TableChange] = Field(
        description="By the names and columns of design.json; `drawn`, `obstacles` and `ground` are the stream's own."
    )
    values: dict[str, Any] = Field(
        description="`findings` as far as known; with `design` also `digest`, `may_be_built`, `summary`, "
        "`certificate`, `plane`, `crs`, `job`, as design.json has them."
    )


class RefusedEvent(Told):
    """Event `refused`: no design is possible."""

    revision: int
    trial: int | None
    error: ErrorText
    kept: dict[str, list[str]] | None = Field(
        description="Tables and columns that a page keeps: what could be told of the job. Null, of a trial or a fault of "
        "the program: all of them, which are of the design before."
    )


class HeadEvent(Told):
    """Event `head`: the job is at another revision; fetch its state if this window did not make it."""

    revision: int
    label: str
    window: str
    undo: str | None
    redo: str | None


class HereEvent(Told):
    """Event `here`: nothing has happened for a while; a stream that does not even say that has been cut."""


class LiveEvents(Told):
    """The events of the stream, each by its name; in the stream every one is an `event:` with its `data:`."""

    stage: StageEvent
    refused: RefusedEvent
    head: HeadEvent
    here: HereEvent
