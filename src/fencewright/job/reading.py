"""Text of a job file to a typed job; opens nothing."""

import difflib
from collections.abc import Mapping, Sequence
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from fencewright.findings import InputError
from fencewright.findings.toml_faults import read_toml
from fencewright.job.schema import JobFile
from fencewright.job.wrong_values import wrong_value

_LARGEST_JOB_BYTES = 20_000_000


def decode_job(raw: bytes, file: str) -> str:
    """Decode a job file's bytes.

    Raises
    ------
    InputError
        Too large, empty, or not UTF-8 (with the line where it breaks).
    """
    if len(raw) > _LARGEST_JOB_BYTES:
        raise InputError(
            f"{len(raw):,} bytes are too many for a job file: put long lines in a site file", file=file
        )
    if not raw.strip():
        raise InputError("the job file is empty: start one with `fencewright new DIR`", file=file)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise InputError(f"line {line} is not UTF-8 text: save the file as UTF-8", file=file) from error


def parse_job(text: str, file: str = "job.toml") -> JobFile:
    """Read the text of a job file.

    Parameters
    ----------
    text : str
        TOML.
    file : str
        Its name, for messages.

    Returns
    -------
    JobFile
        Every quantity in SI.

    Raises
    ------
    InputError
        The first thing that is wrong: item, what, and what to do. An unknown key names the nearest known one.
    """
    return check_job(read_toml(text, file), file)


def check_job(data: Mapping[str, Any], file: str = "job.toml") -> JobFile:
    """Check a job given as a mapping; see `parse_job`."""
    try:
        asked = JobFile.model_validate(data)
    except ValidationError as error:
        errors = error.errors(include_url=False)
        first = next((one for one in errors if one["type"] == "extra_forbidden"), errors[0])
        raise InputError(
            _sentence(first, data), file=file, item=_item(first["loc"], data), field=tuple(first["loc"])
        ) from error
    _refuse_same_openings(asked, file)
    return asked


def _refuse_same_openings(asked: JobFile, file: str) -> None:
    """Refuse two gates or crossings of one name: papers and remedies would speak of either."""
    named = [("gate", number, row.name) for number, row in enumerate(asked.gate)]
    named += [("crossing", number, row.name) for number, row in enumerate(asked.crossing)]
    seen: set[str] = set()
    for kind, number, name in named:
        if name and name in seen:
            raise InputError(
                f'two openings are called "{name}": give each its own name',
                file=file,
                item=f"{kind} {number + 1}",
                field=(kind, number, "name"),
            )
        seen.add(name)


def _item(location: Sequence[int | str], data: Any) -> str:
    """Name an item as a person would: `[[gate]] 2 "main", opening`."""
    parts: list[str] = []
    node = data
    for step in location:
        node = _inner(node, step)
        if isinstance(step, int):
            name = node.get("name") if isinstance(node, dict) else None
            name = name if isinstance(name, str) else None
            parts[-1:] = (
                [f"{parts[-1]} {step + 1}" + (f' "{name}"' if name else "")] if parts else [str(step + 1)]
            )
        else:
            parts.append(str(step))
    return ", ".join(parts)


def _inner(node: Any, step: int | str) -> Any:
    """What stands under a key or number; None where there is nothing."""
    if isinstance(node, dict):
        return node.get(step)
    return node[step] if isinstance(node, list) and isinstance(step, int) and step < len(node) else None


def _model_at(location: Sequence[int | str]) -> type[BaseModel] | None:
    """Find the table class that holds the last step of a location."""
    model: type[BaseModel] | None = JobFile
    for step in location[:-1]:
        if isinstance(step, int) or model is None:
            continue
        field = _fields(model).get(step)
        inner = [field] + list(get_args(field)) if field is not None else []
        model = next((kind for kind in inner if isinstance(kind, type) and issubclass(kind, BaseModel)), None)
    return model


def _fields(model: type[BaseModel]) -> dict[str, Any]:
    return {field.alias or name: field.annotation for name, field in model.model_fields.items()}


def _sentence(error: Any, data: Any) -> str:
    kind, location = error["type"], error["loc"]
    if kind == "extra_forbidden":
        model = _model_at(location)
        known = list(_fields(model)) if model else []
        near = difflib.get_close_matches(str(location[-1]), known, n=1, cutoff=0.4)
        hint = f"did you mean `{near[0]}`?" if near else f"known here: {', '.join(known)}"
        return f"there is no key `{location[-1]}`; {hint}"
    return wrong_value(error)
