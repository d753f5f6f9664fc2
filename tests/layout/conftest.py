"""Builder of designs for the layout's tests: a job from its parts, on flat ground or on spot heights."""

from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.record import Design

Points = list[tuple[float, float]]


def _line(name: str, points: Points, extra: str) -> str:
    rows = ", ".join(f'["{x:.6f} m", "{y:.6f} m"]' for x, y in points)
    return f'[[line]]\nname = "{name}"\npoints = [{rows}]\n{extra}\n'


@pytest.fixture
def laid(tmp_path: Path, one_set_of_defaults: None) -> Callable[..., Design]:
    """Design a job of named lines.

    `lines`: name to points, in metres, or to (points, more keys of the line); `more`: further tables; `fence` and
    `site`: more keys of those tables; `height`: ground as a function of x and y, on a grid of spot heights;
    `sheets`: their units; holes and braces are by the inch on either, as the tests reckon.
    """

    def build(
        lines: dict[str, Points | tuple[Points, str]],
        more: str = "",
        fence: str = "",
        site: str = "",
        height: Callable[[float, float], float] | None = None,
        sheets: str = "metric",
    ) -> Design:
        text = f'[job]\nname = "Layout"\nsheets = "{sheets}"\n'
        text += f'[site]\ncrs = "local"\nsoil = "sand"\nfrost_depth = "0.4 m"\ncoldest = "-30 C"\nhottest = "40 C"\n{site}\n'
        if height is not None:
            text += 'ground = "spots.csv"\n'
            places = range(-20, 141, 1)
            rows = [f"{x},{y},{height(x, y):.4f}" for x in places for y in range(-6, 61, 6)]
            (tmp_path / "spots.csv").write_text("x_m,y_m,z_m\n" + "\n".join(rows) + "\n")
        for name, asked in lines.items():
            points, extra = asked if isinstance(asked, tuple) else (asked, "")
            text += _line(name, points, extra)
        spacing = "" if "spacing_limit" in fence else 'spacing_limit = "4 m"\n'
        text += more + f"\n[fence]\nrails = 3\n{spacing}{fence}\n"
        return design(job_from_text(text, tmp_path))

    return build
