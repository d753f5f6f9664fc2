"""A small picture of a job for the list: its lines as drawn, gates apart, what lies in the way in its code colour."""

import numpy as np
from numpy.typing import NDArray

from fencewright.job.record import Job
from fencewright.sheets.look import ACCENT, CODE_COLOURS, GREY, INK, code_colour, obstacle_look

_WIDE, _HIGH, _EDGE = 160.0, 120.0, 10.0
_HEAD = (
    f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDE:g} {_HIGH:g}" fill="none" '
    'stroke-linejoin="round" stroke-linecap="round">'
)
_FENCE, _WAY, _DOT = INK, GREY, ACCENT


def thumbnail_svg(job: Job) -> str:
    """Draw a job small.

    Returns
    -------
    str
        An SVG that holds numbers alone, no text of the job; it needs no design and costs O(points).
    """
    drawn = [line.xy_m for line in job.site.lines if len(line.xy_m)]
    if not drawn:
        return _HEAD + f'<path d="M60 60h40M80 40v40" stroke="{_WAY}" stroke-width="2"/></svg>'
    every = np.vstack(drawn)
    low, high = every.min(axis=0), every.max(axis=0)
    size = np.maximum(high - low, 1e-9)
    scale = min((_WIDE - 2 * _EDGE) / size[0], (_HIGH - 2 * _EDGE) / size[1])
    shift = np.array([_WIDE, _HIGH]) / 2

    def paper(xy_m: NDArray[np.float64]) -> NDArray[np.float64]:
        at: NDArray[np.float64] = (xy_m - (low + high) / 2) * np.array([scale, -scale]) + shift
        return at

    parts = [_HEAD]
    for obstacle in job.site.obstacles:
        points, colour = paper(obstacle.xy_m), CODE_COLOURS[code_colour(obstacle)]
        if len(points) == 1:
            parts.append(
                f'<circle cx="{points[0, 0]:.1f}" cy="{points[0, 1]:.1f}" r="2" stroke="{colour}" stroke-width="1"/>'
            )
        else:
            dashes = obstacle_look(obstacle.kind).dash_mm
            parts.append(_path(points, obstacle.geometry == "polygon", colour, 1.0, dashes))
    parts += [
        _path(paper(line.xy_m), line.is_closed, _FENCE, 2.0) for line in job.site.lines if len(line.xy_m)
    ]
    for point in paper(_gate_places(job)):
        parts.append(f'<circle cx="{point[0]:.1f}" cy="{point[1]:.1f}" r="3" fill="{_DOT}"/>')
    return "".join([*parts, "</svg>"])


def unreadable_svg() -> str:
    """Draw a job that cannot be read."""
    return _HEAD + f'<path d="M65 45l30 30M95 45l-30 30" stroke="{_DOT}" stroke-width="3"/></svg>'


def _path(
    points: NDArray[np.float64], is_closed: bool, colour: str, width: float, dashes: tuple[float, ...] = ()
) -> str:
    steps = np.linspace(0, len(points) - 1, min(len(points), 400)).astype(
        np.int64
    )  # small: few points will do
    text = "L".join(f"{x:.1f} {y:.1f}" for x, y in points[steps].tolist())
    dashed = f' stroke-dasharray="{" ".join(f"{dash:g}" for dash in dashes)}"' if dashes else ""
    return f'<path d="M{text}{"Z" if is_closed else ""}" stroke="{colour}" stroke-width="{width:g}"{dashed}/>'


def _gate_places(job: Job) -> NDArray[np.float64]:
    """Points on the lines as drawn where gates begin, near enough for a small picture. (gates, 2) [m]"""
    lines = {line.name: line for line in job.site.lines}
    places = []
    for gate in job.asked.gate:
        line = lines.get(gate.line)
        if line is None or len(line.xy_m) < 2:
            continue
        xy = np.vstack([line.xy_m, line.xy_m[:1]]) if line.is_closed else line.xy_m
        station = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(xy, axis=0).T))])
        places.append([np.interp(gate.at, station, xy[:, axis]) for axis in (0, 1)])
    return np.array(places, np.float64).reshape(-1, 2)
