"""docs/web-api.md says what the server does: every address, edit and error code, and nothing else."""

import re
from pathlib import Path

from fencewright.edits.applying import KINDS
from fencewright.server.app import openapi_record
from fencewright.server.errors import CODES

PAGE = (Path(__file__).parents[2] / "docs" / "web-api.md").read_text("utf-8")


def test_every_edit_is_described_and_no_other() -> None:
    table = PAGE.split("| `kind` |")[1].split("\n\n")[0]
    assert re.findall(r"^\| `(\w+)` \|", table, re.MULTILINE) == list(KINDS)


def test_every_error_code_is_listed_with_its_status_and_meaning() -> None:
    rows = re.findall(r"^\| `([a-z-]+)` \| (\d{3}) \| (.+) \|$", PAGE, re.MULTILINE)
    assert {code: (int(status), meaning) for code, status, meaning in rows} == dict(CODES)


def test_every_address_is_described() -> None:
    told = PAGE.replace("`...", "`/api/jobs/{id}").replace("`.../", "`/api/jobs/{id}/")
    told = re.sub(r"`(GET|POST|PUT|DELETE) \.\.\.", r"`\1 /api/jobs/{id}", told)
    for path in openapi_record()["paths"]:
        bare = path.replace("{path}", "{path}")
        tail = bare.removeprefix("/api/jobs/{id}")
        assert bare in told or (tail and tail in told) or "parts" in bare, path
