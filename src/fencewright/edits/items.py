"""Edits of what stands on lines or in their way: gates, crossings, obstacles, marks on posts, files."""

from typing import Any

from fencewright.edits.document import (
    Document,
    add_row,
    find_row,
    length_text,
    metres,
    place_texts,
    plain_array,
    remove_row,
    row_name,
    rows_of,
    set_key,
)
from fencewright.edits.lines import Drawn, free_name, move_points
from fencewright.edits.requests import (
    AddItem,
    AtStation,
    ImportFile,
    Item,
    MetRock,
    MoveObstacle,
    PinTop,
    PostSet,
    RemoveItem,
    SetField,
    SlideItem,
    StrainPost,
    Unpin,
)
from fencewright.findings import InputError

SAME_POST_M = 0.3  # two marks nearer than this along a line are on one post


def set_field(document: Document, edit: SetField, drawn: Drawn) -> str:
    """Set one key of the job file, or take it out."""
    path, of = _found(document, list(edit.path))
    if isinstance(path[-1], int) and len(path) == 2:
        raise InputError("name the key to set", field=tuple(path))
    set_key(document, tuple(path), edit.value)
    keys = [str(step) for step in path if isinstance(step, str)]
    name = " ".join(keys[-2:] if len(path) == 4 and isinstance(path[-1], str) else keys[-1:])
    return f"{'set' if edit.value is not None else 'leave out'} {name.replace('_', ' ')} of {of}"


def _found(document: Document, path: list[str | int]) -> tuple[list[str | int], str]:
    """A path with rows by their numbers, and what the last row on it is called, or the table."""
    holder: Any = document
    of = str(path[0]).replace("_", " ")
    for place in range(0, len(path) - 1, 2):
        table, item = str(path[place]), path[place + 1]
        if not isinstance(item, int) and place + 2 >= len(path):
            break
        number = find_row(holder, table, item)
        inner = rows_of(holder, table)[number]
        path[place + 1] = number
        if not hasattr(inner, "keys"):
            break
        of = row_name(holder, table, number) + (f" in {of}" if place else "")
        holder = inner
    return path, of


def add_item(document: Document, edit: AddItem, drawn: Drawn) -> str:
    """Add a row to a table."""
    values = {
        key: _value(document, key, value) for key, value in edit.values.items() if value not in (None, "")
    }
    holder, of = _alternative(document, edit.alternative)
    number = add_row(document, edit.table, values, holder)
    return f"add {row_name(holder, edit.table, number)}{of}"


def _alternative(document: Document, item: Item | None) -> tuple[Any, str]:
    """Where a row is added or removed: the document, or one of its alternatives; and how to say so."""
    if item is None:
        return document, ""
    number = find_row(document, "alternative", item)
    return rows_of(document, "alternative")[number], f" in {row_name(document, 'alternative', number)}"


_LENGTHS = ("at", "from", "to", "opening", "leaf", "width", "offset")
_SMALL = ("height", "depth", "clearance", "radius", "top")


def _value(document: Document, key: str, value: Any) -> Any:
    """Write a number of metres with its unit; points likewise; all else as it is."""
    if key == "points" and isinstance(value, list):
        return [
            place_texts(document, (point[0], point[1]))
            if isinstance(point, (list, tuple)) and len(point) == 2
            else point
            for point in value
        ]
    if isinstance(value, float | int) and not isinstance(value, bool) and key in (*_LENGTHS, *_SMALL):
        return length_text(document, value, "small" if key in _SMALL else "station")
    return value


def remove_item(document: Document, edit: RemoveItem, drawn: Drawn) -> str:
    """Remove a row of a table."""
    holder, of = _alternative(document, edit.alternative)
    number = find_row(holder, edit.table, edit.item)
    label = row_name(holder, edit.table, number)
    remove_row(holder, edit.table, number)
    return f"remove {label}{of}"


def slide_item(document: Document, edit: SlideItem, drawn: Drawn) -> str:
    """Move a gate, crossing or mark along its line, or onto another."""
    number = find_row(document, edit.table, edit.item)
    row = rows_of(document, edit.table)[number]
    if (edit.at is None) == (edit.by is None):
        raise InputError("say where to, or by how much", item=row_name(document, edit.table, number))
    at = edit.at if edit.at is not None else metres(str(row["at"])) + metres(edit.by or 0.0)
    row["at"] = length_text(document, at, "station")
    if edit.line:
        row["line"] = edit.line
    return f"slide {row_name(document, edit.table, number)} to {row['at']}"


def move_obstacle(document: Document, edit: MoveObstacle, drawn: Drawn) -> str:
    """Move an obstacle, or one of its points."""
    number = find_row(document, "obstacle", edit.item)
    label, points = (
        row_name(document, "obstacle", number),
        rows_of(document, "obstacle")[number].get("points"),
    )
    if points is None:
        raise InputError(
            "its points stand in a file: move them there", item=label, field=("obstacle", number, "file")
        )
    if edit.by is not None:
        move_points(document, points, edit.by)
    elif edit.point is not None and edit.to is not None and edit.point < len(points):
        points[edit.point] = plain_array(place_texts(document, edit.to))
    else:
        raise InputError(
            "say by how much, or which point and where to", item=label, field=("obstacle", number, "points")
        )
    return f"move {label}"


def pin_top(document: Document, edit: PinTop, drawn: Drawn) -> str:
    """Pin a post's top by its height above ground or by its elevation."""
    if (edit.height is None) == (edit.top is None):
        raise InputError("give either the height above ground or the elevation of the top", item="pin")
    values = {}
    if edit.height is not None:
        values["height"] = length_text(document, edit.height, "small")
    if edit.top is not None:
        values["top"] = length_text(document, edit.top, "station")
    _mark(document, "pin", edit, values, ("height", "top"))
    return f"pin the top at {length_text(document, edit.at, 'station')} on {edit.line}"


def unpin(document: Document, edit: Unpin, drawn: Drawn) -> str:
    """Let the top of a pinned post flow again; a post that the pin asks for stays."""
    number = mark_at(document, "pin", edit)
    if number is None:
        raise InputError("no top is pinned at this post", item="pin")
    row = rows_of(document, "pin")[number]
    if row.get("post"):
        for key in ("height", "top"):
            if key in row:
                del row[key]
    else:
        remove_row(document, "pin", number)
    return f"unpin the top at {length_text(document, edit.at, 'station')} on {edit.line}"


def post_set(document: Document, edit: PostSet, drawn: Drawn) -> str:
    """Enter a post already set: where it really stands and how deep."""
    values = {
        key: length_text(document, amount, "small")
        for key, amount in (("offset", edit.offset), ("depth", edit.depth), ("height", edit.height))
        if amount is not None
    }
    if edit.ground is not None:
        values["ground"] = length_text(document, edit.ground, "station")
    _mark(document, "built", edit, values, tuple(values), moves=True)
    return f"a post set at {length_text(document, edit.at, 'station')} on {edit.line}"


def met_rock(document: Document, edit: MetRock, drawn: Drawn) -> str:
    """Enter a hole that met rock."""
    _mark(document, "rock", edit, {"depth": length_text(document, edit.depth, "small")}, ("depth",))
    return f"rock met at {length_text(document, edit.at, 'station')} on {edit.line}"


def strain_post(document: Document, edit: StrainPost, drawn: Drawn) -> str:
    """Let the rail end both ways at a station."""
    _mark(document, "strain", edit, {}, ())
    return f"a strain post at {length_text(document, edit.at, 'station')} on {edit.line}"


def mark_at(document: Document, table: str, edit: AtStation) -> int | None:
    """Row of a mark on the post at a station, None where there is none."""
    wanted_m = metres(edit.at)
    near = [
        (abs(metres(str(row["at"])) - wanted_m), number)
        for number, row in enumerate(rows_of(document, table))
        if row.get("line") == edit.line and "at" in row
    ]
    return min(near)[1] if near and min(near)[0] <= SAME_POST_M else None


def _mark(
    document: Document,
    table: str,
    edit: AtStation,
    values: dict[str, str],
    keys: tuple[str, ...],
    *,
    moves: bool = False,
) -> None:
    """Set the mark of a table on a post: the one that is there is changed, else one is added."""
    if edit.line not in {row.get("name") for row in rows_of(document, "line")}:
        raise InputError(
            f'there is no line "{edit.line}"; lines: '
            + ", ".join(str(row.get("name")) for row in rows_of(document, "line")),
            item=table,
            field=(table,),
        )
    number = mark_at(document, table, edit)
    if number is None:
        add_row(
            document, table, {"line": edit.line, "at": length_text(document, edit.at, "station"), **values}
        )
        return
    row = rows_of(document, table)[number]
    for key in keys:
        set_key(document, (table, number, key), values.get(key))
    if moves:
        row["at"] = length_text(document, edit.at, "station")


def import_file(document: Document, edit: ImportFile, drawn: Drawn) -> str:
    """Use a file that was given to the job."""
    where = {key: value for key, value in (("layer", edit.layer), ("feature", edit.feature)) if value}
    if edit.use == "ground":
        set_key(document, ("site", "ground"), edit.file)
        return f"take the ground from {edit.file}"
    if edit.use == "line":
        name = edit.name or edit.feature or free_name(document)
        closed = {} if edit.closed is None else {"closed": edit.closed}
        add_row(document, "line", {"name": name, "file": edit.file, **where, **closed})
        return f'take line "{name}" from {edit.file}'
    if not edit.obstacle:
        raise InputError("say what kind of obstacle it holds", item="obstacle", field=("obstacle", "kind"))
    named = {"name": edit.name} if edit.name else {}
    closed = {"closed": True} if edit.closed else {}
    add_row(document, "obstacle", {**named, "kind": edit.obstacle, "file": edit.file, **where, **closed})
    return f"take {edit.obstacle} from {edit.file}"
