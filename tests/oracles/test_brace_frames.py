"""End assemblies against two frame programs, PyNite and anastruct: pinned and clamped feet, one bay and two.

Both are imported inside fixtures with their own warnings filtered. Members: E 10 GPa, upright 150 mm round,
brace and rail 100 mm round with pinned ends, tie of 11 mm2 steel. The upright has a node at every pull.
"""

from __future__ import annotations

import importlib
import warnings
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from fencewright.mechanics import brace_statics, brace_stiffness, sections
from fencewright.mechanics.resultant import resultant_at_grade

PULLS_N, HEIGHTS_M = np.full(4, 1500.0), np.array([0.35, 0.70, 1.05, 1.40])
TIMBER_PA, STEEL_PA, TIE_M2 = 10e9, 200e9, 11.0e-6
POST_M, BRACE_M = 0.15, 0.10
POST_AXIAL_N = TIMBER_PA * float(sections.round_area_m2(POST_M))
BRACE_AXIAL_N = TIMBER_PA * float(sections.round_area_m2(BRACE_M))
POST_BENDING_N_M2 = TIMBER_PA * float(sections.round_inertia_m4(POST_M))
# Both ends of a pin-ended member are free to bend; its twist is left held.
END_I, END_J = {"Ryi": True, "Rzi": True}, {"Ryj": True, "Rzj": True}

Node = tuple[float, float]


def quietly(name: str) -> Any:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return importlib.import_module(name)


@pytest.fixture(scope="module")
def pynite() -> Any:
    return quietly("Pynite")


@pytest.fixture(scope="module")
def anastruct() -> Any:
    return quietly("anastruct")


@dataclass(frozen=True)
class Bar:
    """A straight pin-ended member between two points, of one of three kinds."""

    start: Node
    end: Node
    kind: str


@dataclass(frozen=True)
class Post:
    """An upright at a place, from its foot up through its nodes."""

    x: float
    levels: tuple[float, ...]
    is_clamped: bool = False


class PyniteFrame:
    """A plane frame in PyNite: uprights that bend, and pin-ended members; pulls act the way of +x."""

    def __init__(self, pynite: Any, posts: list[Post], bars: list[Bar], grounds: list[Node]) -> None:
        self.model = pynite.FEModel3D()
        self.model.add_material("timber", TIMBER_PA, TIMBER_PA / 16, 0.3, 0.0)
        self.model.add_material("steel", STEEL_PA, STEEL_PA / 2.6, 0.3, 0.0)
        for name, area, inertia in (
            ("post", sections.round_area_m2(POST_M), sections.round_inertia_m4(POST_M)),
            ("brace", sections.round_area_m2(BRACE_M), sections.round_inertia_m4(BRACE_M)),
            ("tie", TIE_M2, 1e-12),
        ):
            self.model.add_section(name, float(area), float(inertia), float(inertia), 2 * float(inertia))
        self.names: dict[Node, str] = {}
        for post in posts:
            self._post(post)
        for x, y in grounds:
            self._hold(self._node((x, y)), is_clamped=True)
        for number, bar in enumerate(bars):
            start, end = self._node(bar.start), self._node(bar.end)
            self.model.add_member(
                f"bar{number}", start, end, "steel" if bar.kind == "tie" else "timber", bar.kind
            )
            self.model.def_releases(f"bar{number}", **END_I, **END_J)

    def _node(self, place: Node) -> str:
        if place not in self.names:
            name = f"N{len(self.names)}"
            self.names[place] = name
            self.model.add_node(name, place[0], place[1], 0.0)
            self.model.def_support(name, support_DZ=True, support_RX=True, support_RY=True)
        return self.names[place]

    def _hold(self, name: str, *, is_clamped: bool) -> None:
        self.model.def_support(name, True, True, True, True, True, is_clamped)

    def _post(self, post: Post) -> None:
        nodes = [self._node((post.x, level)) for level in post.levels]
        self._hold(nodes[0], is_clamped=post.is_clamped)
        for number in range(len(nodes) - 1):
            name = f"post{post.x:g}_{number}"
            self.model.add_member(name, nodes[number], nodes[number + 1], "timber", "post")

    def solve(self, x: float) -> None:
        for pull, height in zip(PULLS_N, HEIGHTS_M, strict=True):
            self.model.add_node_load(self.names[x, float(height)], "FX", float(pull))
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            self.model.analyze_linear()

    def compression(self, number: int) -> float:
        return float(self.model.members[f"bar{number}"].axial(0.0))

    def reaction(self, place: Node) -> tuple[float, float, float]:
        node = self.model.nodes[self.names[place]]
        return float(node.RxnFX["Combo 1"]), float(node.RxnFY["Combo 1"]), float(node.RxnMZ["Combo 1"])

    def movement(self, place: Node) -> float:
        return float(self.model.nodes[self.names[place]].DX["Combo 1"])


def levels(foot_m: float, *others: float) -> tuple[float, ...]:
    return tuple(sorted({foot_m, *map(float, HEIGHTS_M), *others}))


def diagonal(pynite: Any, pivot_depth_m: float, *, is_clamped: bool) -> PyniteFrame:
    post = Post(0.0, levels(-pivot_depth_m, 1.0), is_clamped)
    frame = PyniteFrame(pynite, [post], [Bar((0.0, 1.0), (2.0, 0.0), "brace")], [(2.0, 0.0)])
    frame.solve(0.0)
    return frame


@pytest.mark.parametrize("pivot_depth_m", [0.0, 0.8])
def test_diagonal_brace_on_a_pinned_foot(pynite: Any, pivot_depth_m: float) -> None:
    frame = diagonal(pynite, pivot_depth_m, is_clamped=False)
    load = resultant_at_grade(PULLS_N, HEIGHTS_M)
    forces = brace_statics.diagonal_brace(*load, 1.0, 2.0, pivot_depth_m)
    level, upright, _ = frame.reaction((0.0, -pivot_depth_m))
    assert frame.compression(0) == pytest.approx(float(forces.axial_n), rel=1e-9)
    assert -level == pytest.approx(float(forces.pivot_n), rel=1e-8)
    assert -upright == pytest.approx(float(forces.uplift_n), rel=1e-9)
    assert frame.reaction((2.0, 0.0))[:2] == pytest.approx(
        (-float(forces.footing_push_n), float(forces.footing_down_n)), rel=1e-9
    )


def test_diagonal_brace_on_a_clamped_foot(pynite: Any) -> None:
    frame = diagonal(pynite, 0.0, is_clamped=True)
    flexibility = brace_stiffness.diagonal_flexibility_m_n(1.0, 2.0, POST_AXIAL_N, BRACE_AXIAL_N)
    forces = brace_stiffness.clamped_brace(PULLS_N, HEIGHTS_M, 1.0, 2.0, POST_BENDING_N_M2, flexibility)
    level, upright, moment = frame.reaction((0.0, 0.0))
    assert frame.compression(0) == pytest.approx(float(forces.brace.axial_n), rel=1e-9)
    assert -level == pytest.approx(float(forces.brace.pivot_n), rel=1e-8)
    assert -upright == pytest.approx(float(forces.brace.uplift_n), rel=1e-9)
    assert abs(moment) == pytest.approx(float(forces.foot_moment_n_m), rel=1e-8)
    moved = forces.brace.thrust_n * flexibility
    assert frame.movement((0.0, 1.0)) == pytest.approx(float(moved), rel=1e-8)


def test_movement_of_a_pinned_upright(pynite: Any) -> None:
    """Movement at the brace is thrust times flexibility, whatever the upright's bending."""
    frame = diagonal(pynite, 0.0, is_clamped=False)
    flexibility = brace_stiffness.diagonal_flexibility_m_n(1.0, 2.0, POST_AXIAL_N, BRACE_AXIAL_N)
    assert frame.movement((0.0, 1.0)) == pytest.approx(5250.0 * float(flexibility), rel=1e-9)


def tied(pynite: Any, bays: int) -> PyniteFrame:
    posts = [Post(0.0, levels(0.0, 1.2))] + [Post(2.4 * (n + 1), (0.0, 1.2)) for n in range(bays)]
    bars = []
    for bay in range(bays):
        here, there = 2.4 * bay, 2.4 * (bay + 1)
        bars += [Bar((here, 1.2), (there, 1.2), "brace"), Bar((there, 1.2), (here, 0.0), "tie")]
    frame = PyniteFrame(pynite, posts, bars, [])
    frame.solve(0.0)
    return frame


def test_horizontal_brace_with_a_diagonal_tie(pynite: Any) -> None:
    frame = tied(pynite, 1)
    forces = brace_statics.tied_brace(*resultant_at_grade(PULLS_N, HEIGHTS_M), 1.2, 2.4)
    level, upright, _ = frame.reaction((0.0, 0.0))
    assert frame.compression(0) == pytest.approx(float(forces.rail_n), rel=1e-9)
    assert -frame.compression(1) == pytest.approx(float(forces.tie_n), rel=1e-9)
    assert -upright == pytest.approx(float(forces.uplift_n), rel=1e-9)
    assert -level == pytest.approx(float(forces.foot_n), rel=1e-9)
    assert frame.reaction((2.4, 0.0))[:2] == pytest.approx((0.0, float(forces.uplift_n)), abs=1e-6)
    tie = brace_stiffness.tie_flexibility_m_n(1.2, 2.4, STEEL_PA * TIE_M2, POST_AXIAL_N)
    rail = brace_stiffness.rail_flexibility_m_n(2.4, BRACE_AXIAL_N)
    assert frame.movement((0.0, 1.2)) == pytest.approx(float(forces.rail_n * (tie + rail)), rel=1e-9)


def test_two_bays_share_by_stiffness(pynite: Any) -> None:
    frame = tied(pynite, 2)
    tie = brace_stiffness.tie_flexibility_m_n(1.2, 2.4, STEEL_PA * TIE_M2, POST_AXIAL_N)
    rail = brace_stiffness.rail_flexibility_m_n(2.4, BRACE_AXIAL_N)
    share = brace_stiffness.first_bay_share(tie, rail)
    load = resultant_at_grade(PULLS_N, HEIGHTS_M)
    first, second = brace_statics.tied_two_bays(*load, 1.2, 2.4, share)
    found = [frame.compression(0), -frame.compression(1), frame.compression(2), -frame.compression(3)]
    known = [first.rail_n, first.tie_n, second.rail_n, second.tie_n]
    np.testing.assert_allclose(found, np.array(known, dtype=np.float64), rtol=1e-9)
    level, upright, _ = frame.reaction((0.0, 0.0))
    assert (-level, -upright) == pytest.approx((float(first.foot_n), float(first.uplift_n)), rel=1e-9)
    level, upright, _ = frame.reaction((2.4, 0.0))
    down = float(first.uplift_n - second.uplift_n)
    assert (-level, upright) == pytest.approx((float(second.foot_n), down), rel=1e-9)


def two_diagonals() -> tuple[float, np.ndarray]:
    """Thrust, and compression along the nearer and the farther of two diagonals, feet 1.8 and 2.7 m out."""
    load = resultant_at_grade(PULLS_N, HEIGHTS_M)
    thrust = float(brace_statics.diagonal_brace(*load, 1.0, 1.8).thrust_n)
    share = float(brace_stiffness.near_diagonal_share(1.0, 1.8, 2.7, BRACE_AXIAL_N, POST_AXIAL_N))
    reach = np.array([1.8, 2.7])
    return thrust, thrust * np.array([share, 1 - share]) * np.hypot(reach, 1.0) / reach


def test_two_diagonals_share_by_stiffness(pynite: Any) -> None:
    post = Post(0.0, levels(0.0, 1.0))
    feet = [(1.8, 0.0), (2.7, 0.0)]
    frame = PyniteFrame(pynite, [post], [Bar((0.0, 1.0), foot, "brace") for foot in feet], feet)
    frame.solve(0.0)
    thrust, axial = two_diagonals()
    assert [frame.compression(0), frame.compression(1)] == pytest.approx(axial.tolist(), rel=1e-9)
    level, upright, _ = frame.reaction((0.0, 0.0))
    assert -level == pytest.approx(float(PULLS_N.sum()) - thrust, rel=1e-8)
    lifted = float((axial / np.hypot([1.8, 2.7], 1.0)).sum())
    assert -upright == pytest.approx(lifted, rel=1e-9)


def test_the_second_frame_program_agrees_on_two_diagonals(anastruct: Any) -> None:
    frame = anastruct.SystemElements(EA=POST_AXIAL_N, EI=POST_BENDING_N_M2)
    for low, high in pairwise(levels(0.0, 1.0)):
        frame.add_element([[0.0, low], [0.0, high]])
    braces = [frame.add_truss_element([[0.0, 1.0], [x, 0.0]], EA=BRACE_AXIAL_N) for x in (1.8, 2.7)]
    for place in ([0.0, 0.0], [1.8, 0.0], [2.7, 0.0]):
        frame.add_support_hinged(frame.find_node_id(place))
    found = solved(frame, braces)
    assert found == pytest.approx(two_diagonals()[1].tolist(), rel=1e-6)


def solved(frame: Any, bars: list[int]) -> list[float]:
    """Pull the first upright and give the size of the force in each bar."""
    for pull, height in zip(PULLS_N, HEIGHTS_M, strict=True):
        frame.point_load(frame.find_node_id([0.0, float(height)]), Fx=float(pull))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        frame.solve()
    return [abs(float(frame.get_element_results(bar)["Nmin"])) for bar in bars]


@pytest.mark.parametrize("bays", [1, 2])
def test_the_second_frame_program_agrees_on_bays(anastruct: Any, bays: int) -> None:
    """Level braces at 1.2 m, uprights 2.4 m apart, each tie from the far head to the near foot's side of its bay."""
    frame = anastruct.SystemElements(EA=POST_AXIAL_N, EI=POST_BENDING_N_M2)
    for bay in range(bays + 1):
        places = levels(0.0, 1.2) if bay == 0 else (0.0, 1.2)
        for low, high in pairwise(places):
            frame.add_element([[2.4 * bay, low], [2.4 * bay, high]])
    bars = []
    for bay in range(bays):
        left, right = 2.4 * bay, 2.4 * (bay + 1)
        bars.append(frame.add_truss_element([[left, 1.2], [right, 1.2]], EA=BRACE_AXIAL_N))
        bars.append(frame.add_truss_element([[left, 0.0], [right, 1.2]], EA=STEEL_PA * TIE_M2))
    for bay in range(bays + 1):
        frame.add_support_hinged(frame.find_node_id([2.4 * bay, 0.0]))
    found = solved(frame, bars)
    tie = brace_stiffness.tie_flexibility_m_n(1.2, 2.4, STEEL_PA * TIE_M2, POST_AXIAL_N)
    share = brace_stiffness.first_bay_share(tie, brace_stiffness.rail_flexibility_m_n(2.4, BRACE_AXIAL_N))
    load = resultant_at_grade(PULLS_N, HEIGHTS_M)
    first, second = brace_statics.tied_two_bays(*load, 1.2, 2.4, share if bays == 2 else 1.0)
    known = [first.rail_n, first.tie_n, second.rail_n, second.tie_n][: 2 * bays]
    assert found == pytest.approx([float(one) for one in known], rel=1e-6)


@pytest.mark.parametrize(("pivot_depth_m", "is_clamped"), [(0.0, False), (0.8, False), (0.0, True)])
def test_the_second_frame_program_agrees(anastruct: Any, pivot_depth_m: float, is_clamped: bool) -> None:
    """Key figures to 1e-6: anastruct's pinned members are solved by its own springs."""
    frame = anastruct.SystemElements(EA=POST_AXIAL_N, EI=POST_BENDING_N_M2)
    places = levels(-pivot_depth_m, 1.0)
    for low, high in pairwise(places):
        frame.add_element([[0.0, low], [0.0, high]])
    brace = frame.add_truss_element([[0.0, 1.0], [2.0, 0.0]], EA=BRACE_AXIAL_N)
    foot, ground = frame.find_node_id([0.0, -pivot_depth_m]), frame.find_node_id([2.0, 0.0])
    (frame.add_support_fixed if is_clamped else frame.add_support_hinged)(foot)
    frame.add_support_hinged(ground)
    for pull, height in zip(PULLS_N, HEIGHTS_M, strict=True):
        frame.point_load(frame.find_node_id([0.0, float(height)]), Fx=float(pull))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        frame.solve()
    axial = abs(frame.get_element_results(brace)["Nmin"])
    if is_clamped:
        flexibility = brace_stiffness.diagonal_flexibility_m_n(1.0, 2.0, POST_AXIAL_N, BRACE_AXIAL_N)
        forces = brace_stiffness.clamped_brace(
            PULLS_N, HEIGHTS_M, 1.0, 2.0, POST_BENDING_N_M2, flexibility
        ).brace
    else:
        load = resultant_at_grade(PULLS_N, HEIGHTS_M)
        forces = brace_statics.diagonal_brace(*load, 1.0, 2.0, pivot_depth_m)
    assert axial == pytest.approx(float(forces.axial_n), rel=1e-6)
    reaction = frame.get_node_results_system(foot)
    assert abs(reaction["Fx"]) == pytest.approx(float(forces.pivot_n), rel=1e-6)
    assert abs(reaction["Fy"]) == pytest.approx(float(forces.uplift_n), rel=1e-6)


@pytest.mark.parametrize(("first_deg", "second_deg"), [(0.0, 90.0), (-20.0, 100.0), (10.0, 60.0)])
def test_corner_post_with_two_braces_in_space(pynite: Any, first_deg: float, second_deg: float) -> None:
    """A post on a ball foot, a level force at the contact, and one brace in each of two directions."""
    force = np.array([4000.0, 2500.0])
    angles = (float(np.radians(first_deg)), float(np.radians(second_deg)))
    model = pynite.FEModel3D()
    model.add_material("timber", TIMBER_PA, TIMBER_PA / 16, 0.3, 0.0)
    for name, diameter in (("post", POST_M), ("brace", BRACE_M)):
        inertia = float(sections.round_inertia_m4(diameter))
        model.add_section(name, float(sections.round_area_m2(diameter)), inertia, inertia, 2 * inertia)
    model.add_node("foot", 0.0, 0.0, 0.0)
    model.add_node("head", 0.0, 1.0, 0.0)
    model.add_member("post", "foot", "head", "timber", "post")
    model.def_support("foot", True, True, True, False, True, False)
    for number, angle in enumerate(angles):
        model.add_node(f"ground{number}", 2 * np.cos(angle), 0.0, 2 * np.sin(angle))
        model.def_support(f"ground{number}", True, True, True, True, True, True)
        model.add_member(f"brace{number}", "head", f"ground{number}", "timber", "brace")
        model.def_releases(f"brace{number}", Rxi=True, **END_I, **END_J)
    model.add_node_load("head", "FX", force[0])
    model.add_node_load("head", "FZ", force[1])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model.analyze_linear()
    thrusts = brace_statics.corner_thrusts_n(force, *angles)
    for number, thrust in enumerate(thrusts):
        forces = brace_statics.diagonal_from_thrust(thrust, 0.0, 1.0, 2.0)
        found = model.members[f"brace{number}"].axial(0.0)
        assert found == pytest.approx(float(forces.axial_n), rel=1e-9)
    lifted = brace_statics.diagonal_from_thrust(np.array(thrusts), 0.0, 1.0, 2.0).uplift_n.sum()
    foot = model.nodes["foot"].RxnFY["Combo 1"]
    assert -foot == pytest.approx(float(lifted), rel=1e-9)
    flexibility = brace_stiffness.diagonal_flexibility_m_n(1.0, 2.0, np.inf, BRACE_AXIAL_N)
    stretch = float(lifted) / POST_AXIAL_N  # of the post, 1 m high, which lets both braces down
    sink = stretch * 1.0 / 2.0
    moved = brace_stiffness.corner_movement_m(force, angles[0], angles[1], flexibility, flexibility)
    head = model.nodes["head"]
    found_xz = np.array([head.DX["Combo 1"], head.DZ["Combo 1"]])
    for angle in angles:
        along = np.array([np.cos(angle), np.sin(angle)])
        assert found_xz @ along == pytest.approx(float(moved @ along) + sink, rel=1e-8)
