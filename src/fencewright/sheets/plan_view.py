"""From the job's plane to paper: scale, turn and the area that the plan may fill."""

import math
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.quantity.show import UnitSystem
from fencewright.sheets.labels import Frame
from fencewright.sheets.leaves import open_leaves
from fencewright.sheets.picture import XY
from fencewright.sheets.scales import standard_scale
from fencewright.tables.fence import Floats

_EDGE_M = 0.013  # kept free around the fence for its labels and dimensions
_PHONE_LOW_M, _PHONE_TALL_M = 0.050, 0.120  # bounds of the frame's height on a narrow screen
_TURN_GAIN = 1.5  # a plan is turned on its side where that makes it this much larger


@dataclass(frozen=True, slots=True)
class View:
    """A map from plane to paper.

    Attributes
    ----------
    scale : float
        Metres on the ground for one on paper. [-]
    turn_rad : float
        By which the plane is turned on paper, counter-clockwise. [rad]
    middle_m, centre_m : pair of float
        A point of the plane, and where it lies on paper. [m]
    frame : tuple of 4 floats
        Left, low, right, high of the drawing on paper. [m]
    """

    scale: float
    turn_rad: float
    middle_m: XY
    centre_m: XY
    frame: Frame

    def points(self, xy_m: Floats) -> Floats:
        """Points of the plane (n, 2) on paper (n, 2). [m]."""
        c, s = math.cos(self.turn_rad), math.sin(self.turn_rad)
        x, y = (np.asarray(xy_m, dtype=float) - np.asarray(self.middle_m)).T / self.scale
        return np.column_stack([self.centre_m[0] + c * x - s * y, self.centre_m[1] + s * x + c * y])

    def point(self, x_m: float, y_m: float) -> XY:
        """One point of the plane on paper. [m]."""
        x, y = self.points(np.array([[x_m, y_m]]))[0]
        return float(x), float(y)


def _extent(design: Design) -> Floats:
    """Points that the plan must hold (n, 2): posts, brace feet, open leaves. [m]."""
    layout = design.layout
    parts = [np.column_stack([layout.posts.x_m, layout.posts.y_m])]
    parts.append(np.column_stack([layout.braces.x_m, layout.braces.y_m]))
    parts += [
        leaf.tip_m[None, :] for row in range(len(layout.openings.name)) for leaf in open_leaves(layout, row)
    ]
    return np.vstack(parts)


def _fitted(design: Design, room_m: tuple[float, float]) -> tuple[Floats, Floats, float, bool]:
    """Middle and size of the fence, the scale that just fits a room on paper [m], whether turned for it."""
    points = _extent(design)
    low, high = points.min(axis=0), points.max(axis=0)
    size = np.maximum(high - low, 1.0)
    room = np.array(room_m) - 2 * _EDGE_M
    upright, turned = float(np.max(size / room)), float(np.max(size[::-1] / room))
    is_turned = upright > _TURN_GAIN * turned
    return (low + high) / 2, size, turned if is_turned else upright, is_turned


def _view(scale: float, is_turned: bool, middle_m: Floats, frame: Frame) -> View:
    centre = ((frame[0] + frame[2]) / 2, (frame[1] + frame[3]) / 2)
    turn = math.pi / 2 if is_turned else 0.0
    return View(scale, turn, (float(middle_m[0]), float(middle_m[1])), centre, frame)


def fit_view(design: Design, frame: Frame, units: UnitSystem) -> View:
    """Find the largest standard scale at which the whole fence fits a frame [m].

    Notes
    -----
    Turned a quarter to the left where the fence is so much taller than wide that this enlarges it by half.
    """
    middle, _, scale, is_turned = _fitted(design, (frame[2] - frame[0], frame[3] - frame[1]))
    return _view(standard_scale(scale, units), is_turned, middle, frame)


def fit_width(design: Design, left_m: float, right_m: float, top_m: float) -> View:
    """Find a view of a given width on a narrow screen, as tall as the fence asks [m]; any scale."""
    middle, size, scale, is_turned = _fitted(design, (right_m - left_m, _PHONE_TALL_M))
    tall = max(float(size[0 if is_turned else 1]) / scale + 2 * _EDGE_M, _PHONE_LOW_M)
    return _view(scale, is_turned, middle, (left_m, top_m - tall, right_m, top_m))
