"""Generated pages are as the program would make them now, and hold every command, option and key."""

import json
import re
import tomllib
from importlib import resources
from pathlib import Path
from types import ModuleType

import jsonschema
import pytest

from fencewright import design, read_job
from fencewright.desk.writing import outputs
from fencewright.job.schema import JobFile
from fencewright.sources import all_sources
from fencewright.store.files import MANIFEST

DOCS = Path(__file__).parents[2] / "docs"


PAGES = [
    "commands.md",
    "job-file.md",
    "job.schema.json",
    "sources.md",
    "outputs.md",
    "design.schema.json",
    "openapi.json",
    "../src/fencewright/data/holiday_places.json",
]


@pytest.mark.parametrize("name", PAGES)
def test_page_is_fresh(make_docs: ModuleType, name: str) -> None:
    assert (DOCS / name).read_text("utf-8") == make_docs.pages()[name], "stale: run `make docs`"


def test_no_generated_page_goes_unchecked(make_docs: ModuleType) -> None:
    assert sorted(make_docs.pages()) == sorted(PAGES)


def test_every_output_is_in_the_docs(small_job_path: Path) -> None:
    page = (DOCS / "outputs.md").read_text("utf-8")
    names = [*outputs(design(read_job(small_job_path))), MANIFEST]
    assert len(names) == 19
    assert not [name for name in names if f"`{name}`" not in page]


def test_every_command_and_option_is_in_the_docs(make_docs: ModuleType) -> None:
    page = (DOCS / "commands.md").read_text("utf-8")
    for name, context in make_docs.command_contexts():
        own = page.split(f"## `{name}`\n", 1)[1].split("\n## ", 1)[0]
        options = [option for one in context.command.params for option in one.opts if option.startswith("-")]
        assert not [option for option in options if option not in own], name


def test_every_key_of_the_job_file_is_in_the_docs(make_docs: ModuleType) -> None:
    page = (DOCS / "job-file.md").read_text("utf-8")
    schema = JobFile.model_json_schema(by_alias=True)
    for table, field in JobFile.model_fields.items():
        own = re.split(rf"\n## `\[+{table}\]+`\n", page)[1].split("\n## ", 1)[0]
        model = make_docs._model(field.annotation).__name__
        missing = [key for key in schema["$defs"][model]["properties"] if f"| `{key}` |" not in own]
        assert not missing, table


def test_every_source_is_in_the_docs() -> None:
    page = (DOCS / "sources.md").read_text("utf-8")
    assert not [key for key in all_sources() if f"## {key}\n" not in page]


def test_the_small_job_and_the_new_job_keep_the_published_schema(small_job_text: str) -> None:
    schema = json.loads((DOCS / "job.schema.json").read_text("utf-8"))
    new = resources.files("fencewright").joinpath("data").joinpath("new-job.toml").read_text("utf-8")
    for text in (small_job_text, new):
        jsonschema.validate(tomllib.loads(text), schema)


def test_the_published_schema_refuses_an_unknown_key(small_job_text: str) -> None:
    schema = json.loads((DOCS / "job.schema.json").read_text("utf-8"))
    job = tomllib.loads(small_job_text)
    job["fence"]["railz"] = 3
    with pytest.raises(jsonschema.ValidationError, match="railz"):
        jsonschema.validate(job, schema)
