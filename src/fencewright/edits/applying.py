"""An edit applied to a job's text: the whole new text, or one sentence that says why not."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import TypeAdapter, ValidationError

from fencewright.edits import items, lines
from fencewright.edits.document import Document, open_document, text_and_values
from fencewright.edits.lines import Drawn
from fencewright.edits.requests import Edit, Many, ReplaceText, SetPrices
from fencewright.findings import InputError
from fencewright.job.alternatives import check_alternatives
from fencewright.job.reading import check_job, decode_job, parse_job
from fencewright.job.schema import JobFile
from fencewright.job.wrong_values import wrong_value

_ADAPTER: TypeAdapter[Any] = TypeAdapter(Edit)
_CHANGES: Mapping[str, Callable[[Document, Any, Drawn], str]] = {
    "add_line": lines.add_line,
    "remove_line": lines.remove_line,
    "rename_line": lines.rename_line,
    "move_line": lines.move_line,
    "move_corner": lines.move_corner,
    "insert_corner": lines.insert_corner,
    "remove_corner": lines.remove_corner,
    "split_line": lines.split_line,
    "join_lines": lines.join_lines,
    "close_line": lines.close_line,
    "own_points": lines.own_points,
    "set": items.set_field,
    "add": items.add_item,
    "remove": items.remove_item,
    "slide": items.slide_item,
    "move_obstacle": items.move_obstacle,
    "pin_top": items.pin_top,
    "unpin": items.unpin,
    "post_set": items.post_set,
    "met_rock": items.met_rock,
    "strain_post": items.strain_post,
    "import_file": items.import_file,
}
KINDS = (*_CHANGES, "replace_text", "many", "prices")


@dataclass(frozen=True, slots=True)
class Applied:
    """What an edit gave: the job's new `text`, what it asks (`asked`), and a `label` for the history."""

    text: str
    asked: JobFile
    label: str


def read_edit(record: Mapping[str, Any]) -> Any:
    """Read an edit from plain values, as JSON gives them.

    Raises
    ------
    InputError
        No such edit, or it is not complete.
    """
    try:
        return _ADAPTER.validate_python(dict(record))
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        where = ", ".join(str(step) for step in first["loc"])
        raise InputError(f"this edit cannot be read: {wrong_value(first)}", item=where or "edit") from error


def apply_edit(text: str, edit: Any, drawn: Drawn | None = None) -> Applied:
    """Apply an edit to a job's text.

    Parameters
    ----------
    text : str
        The job file before.
    edit : Edit
        A model of `edits.requests`, or a mapping with the same keys.
    drawn : mapping of str to DrawnPoints, optional
        Lines that come from files as these draw them, so that they can be redrawn.

    Returns
    -------
    Applied
        The job file after, comments kept.

    Raises
    ------
    InputError
        The job cannot be changed so; the sentence is the one that the command line would print for it.

    Notes
    -----
    Costs about 2 ms for each 1,000 characters of the job file.
    """
    asked_for = read_edit(edit) if isinstance(edit, Mapping) else edit
    if isinstance(asked_for, ReplaceText):
        written = decode_job(asked_for.text.encode("utf-8", "replace"), "job.toml")
        return Applied(written, parse_job(written), "change the text of the job")
    if isinstance(asked_for, SetPrices):
        raise InputError("prices stand in the job's price book, a file beside it: they are kept, not tried")
    document = open_document(text)
    label = _change(document, asked_for, drawn or {})
    after, values = text_and_values(document)
    asked = check_job(values)
    if _touches_alternatives(asked_for):
        check_alternatives(values)
    return Applied(after, asked, label[:200])


def _touches_alternatives(edit: Any) -> bool:
    """Whether an edit is of an alternative; one that was imported with a fault does not stand in the way of others."""
    if isinstance(edit, Many):
        return any(_touches_alternatives(one) for one in edit.edits)
    of_table = "alternative" in (getattr(edit, "table", ""), *getattr(edit, "path", ())[:1])
    return of_table or getattr(edit, "alternative", None) is not None


def _change(document: Document, edit: Any, drawn: Drawn) -> str:
    if isinstance(edit, Many):
        labels = [_change(document, one, drawn) for one in edit.edits]
        return edit.label or "; ".join(dict.fromkeys(labels))
    if isinstance(edit, ReplaceText):
        raise InputError("the whole text is replaced alone, not as one of many edits")
    return _CHANGES[edit.kind](document, edit, drawn)
