"""A gate whose post would stand in a clearance: the nearest station that is clear."""

from pathlib import Path

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.findings import Finding

JOB = """\
[job]
name = "Home"
sheets = "{sheets}"
[site]
frost_depth = "30 in"
soil = "sand"
[[line]]
name = "home"
points = [["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "120 ft"], ["0 ft", "120 ft"]]
closed = true
[[gate]]
line = "home"
at = "{at}"
opening = "12 ft"
[[obstacle]]
kind = "buried water"
points = [["95 ft", "-20 ft"], ["95 ft", "{reaches}"]]
clearance = "2 ft"
"""


def stops(folder: Path, sheets: str, at: str, reaches: str = "150 ft") -> list[Finding]:
    made = design(job_from_text(JOB.format(sheets=sheets, at=at, reaches=reaches), folder))
    return [one for one in made.findings if one.code == "post-in-clearance"]


# The hole is 18 in wide at its bottom, so its centre keeps 2 ft 9 in from the pipe at 95 ft; a 6 in post makes the
# gate 12 ft 6 in from centre to centre. The far post at 94.5 ft: clear at 92.25 ft, the near one at 79.5 ft in half
# feet. The near post at 95 ft: clear at 97.75 ft, 98 ft in half feet; 29 m is 0.15 ft past the pipe, 29.8 m clear.
@pytest.mark.parametrize(
    ("sheets", "at", "to"),
    [("us", "82 ft", "79.5 ft"), ("us", "95 ft", "98.0 ft"), ("metric", "29 m", "29.8 m")],
)
def test_the_nearest_clear_station_is_given_as_an_edit_that_mends_it(
    tmp_path: Path, sheets: str, at: str, to: str
) -> None:
    (stop,) = stops(tmp_path, sheets, at)
    assert stop.edits == ({"path": ["gate", 0, "at"], "value": to},)
    assert f'at = "{to}"' in stop.remedy
    assert not stops(tmp_path, sheets, to)


def test_a_corner_that_carries_a_gate_is_not_moved(tmp_path: Path) -> None:
    """The gate's nearer post is the corner at 0 ft: moved with its gate it would leave the corner without a post."""
    text = JOB.format(sheets="us", at="0 ft", reaches="150 ft").replace("95 ft", "1 ft")
    found = [
        one
        for one in design(job_from_text(text, tmp_path)).findings
        if one.code == "post-in-clearance" and "corner" in one.message
    ]
    assert found
    assert all(not one.edits for one in found)
