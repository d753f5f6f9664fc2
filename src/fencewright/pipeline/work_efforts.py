"""A design's work: how many hours of which work in each stretch, by the catalogue's production rates."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.work_rows import WorkRow
from fencewright.findings import InputError
from fencewright.job.programme_settings import ProgrammeSettings
from fencewright.pipeline.bridges import soils_of
from fencewright.pipeline.record import Design
from fencewright.pipeline.work_stretches import WorkStretches, work_stretches
from fencewright.tables.fence import Setting
from fencewright.tables.programme import Effort, FenceWork

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

_PREPARATION = (
    ("remove-old", "old_fence", "remove old fence"),
    ("clear-line", "clearing", "clear the line"),
    ("contain-stock", "containment", "contain the stock"),
    ("make-access", "access", "make access"),
)


@dataclass(frozen=True, slots=True, eq=False)
class _Basis:
    """What the hours are reckoned from."""

    design: Design
    settings: ProgrammeSettings
    stretches: WorkStretches

    def row(self, name: str) -> WorkRow:
        if name not in self.settings.works:
            raise InputError(f"the catalogue has no work {name!r}: put it back", item="work")
        return self.settings.works[name]

    def gang_h(self, name: str) -> float:
        """Hours of a gang for one of what a row counts. [h]"""
        return 1.0 / self.row(name).per_hour

    def summed(self, values: Floats, of: Ints) -> Floats:
        """Sums by stretch."""
        return np.bincount(of, weights=values, minlength=len(self.stretches)).astype(np.float64)

    def efforts(
        self, kind: str, unit: str, quantity: Floats, gang_h: Floats, hands: float, plant: str = ""
    ) -> Iterator[Effort]:
        """Efforts of the stretches where there is anything to do."""
        for stretch, (count, hours) in enumerate(zip(quantity.tolist(), gang_h.tolist(), strict=True)):
            if count > 0 and hours > 0:
                yield Effort(kind, stretch, count, unit, hours * hands, hands, plant)

    def counted(self, kind: str, name: str, quantity: Floats, share: float = 1.0) -> Iterator[Effort]:
        """Efforts of one row of work, or of a share of it."""
        row = self.row(name)
        yield from self.efforts(kind, row.unit, quantity, share * quantity * self.gang_h(name), row.hands)


def fence_work(design: Design, settings: ProgrammeSettings) -> FenceWork:
    """Reckon the work of a design, stretch by stretch.

    Parameters
    ----------
    design : Design
        The whole design.
    settings : ProgrammeSettings
        Rates, shares and plant.

    Returns
    -------
    FenceWork
        Posts already set ask for no hole and no setting. Hours are those of dry days without weather.

    Raises
    ------
    InputError
        A row of work is missing from the catalogue.

    Notes
    -----
    O(posts + pulls).
    """
    length_m = sum(line.length_m for line in design.layout.lines)
    zone_m = max(settings.shares.zone_m, length_m / settings.shares.zones_most)
    basis = _Basis(design, settings, work_stretches(design, zone_m))
    efforts = [
        *_whole_job(basis),
        *_staking(basis),
        *_digging(basis),
        *_setting(basis),
        *_tops(basis),
        *_rails(basis),
        *_openings(basis),
    ]
    holds, hangs = _loaded(basis)
    return FenceWork(tuple(efforts), basis.stretches.places, holds, hangs)


def _whole_job(basis: _Basis) -> Iterator[Effort]:
    asked, design = basis.design.job.asked.preparation, basis.design
    for kind, key, name in _PREPARATION:
        length_m = float(getattr(asked, key))
        if length_m > 0:
            row = basis.row(name)
            yield Effort(kind, -1, length_m, "m", length_m * basis.gang_h(name) * row.hands, row.hands)
    notice = basis.row("locating notice and white lines")
    yield Effort("white-line", -1, 1.0, "job", notice.hands / notice.per_hour, notice.hands)
    length_m = sum(line.length_m for line in design.layout.lines)
    spoil_m3 = float(design.holes.spoil_m3.sum() + design.brace_holes.spoil_m3.sum())
    clear, spread = basis.row("clear up"), basis.row("spread spoil")
    walk = basis.row("walk the fence and hand over")
    hours = length_m / clear.per_hour * clear.hands + spoil_m3 / spread.per_hour * spread.hands
    hours += (1.0 if walk.unit == "job" else length_m) / walk.per_hour * walk.hands
    yield Effort("clear-up", -1, length_m, "m", hours, clear.hands)
    again = basis.row("pull again")
    yield Effort(
        "re-pull",
        -1,
        len(design.pulls),
        "pull",
        len(design.pulls) / again.per_hour * again.hands,
        again.hands,
    )


def _staking(basis: _Basis) -> Iterator[Effort]:
    new = (~basis.design.layout.posts.is_built).astype(np.float64)
    yield from basis.counted("stake", "stake out", basis.summed(new, basis.stretches.of_post))


def _digging(basis: _Basis) -> Iterator[Effort]:
    """Holes of fixed posts and brace footings, and of line posts; a driven post has none."""
    design, stretches = basis.design, basis.stretches
    posts, holes, feet = design.layout.posts, design.holes, design.brace_holes
    classes = np.array([soil.soil_class for soil in soils_of(design.job, design.layout)], dtype=np.int64)
    dug = ~posts.is_built & (holes.set != int(Setting.DRIVEN))
    own_foot = (~design.layout.braces.is_horizontal).astype(np.float64)
    post_h = _hole_gang_h(basis, holes.diameter_m, holes.depth_m, holes.bell_m, classes)
    foot_class = classes[design.layout.braces.post_index]
    foot_h = _hole_gang_h(basis, feet.diameter_m, feet.depth_m, feet.bell_m, foot_class) * own_foot
    fixed = dug & _is_end(design)
    count = basis.summed(fixed.astype(float), stretches.of_post) + basis.summed(own_foot, stretches.of_brace)
    hours = basis.summed(post_h * fixed, stretches.of_post) + basis.summed(foot_h, stretches.of_brace)
    hands, plant = (_auger_rows(basis)[0].hands, "auger") if basis.settings.crew.augers else (1.0, "")
    yield from basis.efforts("dig-ends", "hole", count, hours, hands, plant)
    line = dug & ~_is_end(design)
    count = basis.summed(line.astype(float), stretches.of_post)
    yield from basis.efforts(
        "dig-line", "hole", count, basis.summed(post_h * line, stretches.of_post), hands, plant
    )


def _is_end(design: Design) -> Flags:
    """Posts that carry the pull and are set first: all but line posts. (posts,)"""
    posts = design.layout.posts
    return posts.is_fixed | (np.isin(np.arange(len(posts)), design.layout.braces.second_post))


def _hole_gang_h(basis: _Basis, diameter_m: Floats, depth_m: Floats, bell_m: Floats, classes: Ints) -> Floats:
    """Hours of a gang for each hole: by auger and ground and in proportion to depth, or by hand. [h]"""
    shares = basis.settings.shares
    if not basis.settings.crew.augers:
        return depth_m * shares.hand_h_m
    rows = _auger_rows(basis)
    keys = np.column_stack([np.round(diameter_m, 4), classes])
    kinds, which = np.unique(keys, axis=0, return_inverse=True)
    hours = np.array([_auger_h_m(rows, wide, int(ground)) for wide, ground in kinds.tolist()])
    bell = basis.row("bell holes")
    belled = (bell_m > diameter_m + 1e-6) * bell.hands / bell.per_hour / rows[0].hands
    return hours[which.reshape(-1)] * depth_m + belled


def _auger_rows(basis: _Basis) -> list[WorkRow]:
    """Rows of work for holes by auger."""
    rows = [
        row
        for row in basis.settings.works.values()
        if row.per == "auger hole" and row.auger_m and row.depth_m
    ]
    if not rows:
        raise InputError("the catalogue has no work for holes by auger: put it back", item="work")
    return rows


def _auger_h_m(rows: list[WorkRow], diameter_m: float, soil_class: int) -> float:
    """Hours of a gang for a metre of hole: the narrowest row that is wide enough, else the widest. [h/m]"""
    own = (
        [row for row in rows if soil_class in row.soil_classes]
        or [row for row in rows if not row.soil_classes]
        or rows
    )
    own.sort(key=lambda row: (row.auger_m or 0.0, row.per_hour))
    row = next((one for one in own if (one.auger_m or 0.0) >= diameter_m - 1e-4), own[-1])
    return 1.0 / row.per_hour / (row.depth_m or 1.0)


def _setting(basis: _Basis) -> Iterator[Effort]:
    """Posts set, their concrete mixed, braces fitted; line posts apart from the rest."""
    design, stretches = basis.design, basis.stretches
    posts, holes, braces = design.layout.posts, design.holes, design.layout.braces
    per_post = (
        np.select(
            [holes.set == int(Setting.CONCRETE), holes.set == int(Setting.DRIVEN)],
            [
                basis.gang_h("set posts in concrete"),
                basis.gang_h("drive posts") * basis.row("drive posts").hands,
            ],
            basis.gang_h("set and tamp posts"),
        )
        * ~posts.is_built
    )
    by_hand = 1.0 if basis.settings.crew.mixers else 1.0 / basis.settings.shares.by_hand
    mix_h = by_hand * basis.gang_h("mix and pour bags")  # for a cubic metre
    brace_h = np.where(
        braces.is_horizontal, basis.gang_h("fit horizontal braces"), basis.gang_h("fit diagonal braces")
    )
    end = _is_end(design)
    hours = basis.summed((per_post + holes.concrete_m3 * mix_h) * end, stretches.of_post)
    hours += basis.summed(brace_h + design.brace_holes.concrete_m3 * mix_h, stretches.of_brace)
    count = basis.summed((end & ~posts.is_built).astype(float), stretches.of_post)
    plant = "mixer" if basis.settings.crew.mixers else ""
    yield from basis.efforts("set-ends", "post", count, hours, 1.0, plant)
    line = ~end & ~posts.is_built
    count = basis.summed(line.astype(float), stretches.of_post)
    hours = basis.summed((per_post + holes.concrete_m3 * mix_h) * line, stretches.of_post)
    poured = basis.summed((line & (holes.concrete_m3 > 0)).astype(float), stretches.of_post)
    driven = basis.summed((line & (holes.set == int(Setting.DRIVEN))).astype(float), stretches.of_post) > 0
    for effort in basis.efforts("set-line", "post", count, hours, 1.0):
        machine = plant if poured[effort.stretch] else ""
        machine = "driver" if driven[effort.stretch] and basis.settings.crew.drivers else machine
        hands = 2.0 if machine == "driver" else 1.0
        yield Effort("set-line", effort.stretch, effort.quantity, "post", effort.labour_h, hands, machine)
    for stretch in np.flatnonzero(poured).tolist():
        yield Effort("cure-line", stretch, float(poured[stretch]), "post", 0.0, 0.0)
    foot = basis.summed(design.brace_holes.concrete_m3, stretches.of_brace)
    ends = basis.summed(holes.concrete_m3 * (end & ~posts.is_built), stretches.of_post) + foot
    for stretch in np.flatnonzero(ends > 0).tolist():
        yield Effort("cure", stretch, float(ends[stretch]), "m3", 0.0, 0.0)


def _tops(basis: _Basis) -> Iterator[Effort]:
    cut = basis.summed((~basis.design.layout.posts.is_built).astype(float), basis.stretches.of_post)
    paint = basis.settings.shares.paint
    yield from basis.counted("string-cut", "mark and cut tops", cut)
    yield from basis.counted("treat", "treat and paint tops", cut, 1.0 - paint)
    if basis.settings.is_painted:
        yield from basis.counted("paint", "treat and paint tops", cut, paint)


def _rails(basis: _Basis) -> Iterator[Effort]:
    design, stretches = basis.design, basis.stretches
    layout, pulls = design.layout, design.pulls
    spans, runs = layout.spans, layout.runs
    is_wire = np.array([row.rail.is_wire for row in design.job.settings.strands])
    rails, wires = int((~is_wire).sum()), int(is_wire.sum())
    inner = np.flatnonzero((spans.run_index[:-1] == spans.run_index[1:]) & (spans.run_index[:-1] >= 0))
    turns = np.abs(layout.posts.turning_rad[spans.to_post[inner]]) > 0
    of_inner = stretches.of_run[spans.run_index[inner]] if len(runs) else np.zeros(0, np.int64)
    straight = basis.summed((~turns).astype(float), of_inner)
    corners = basis.summed(turns.astype(float), of_inner)
    posts = straight + corners
    bracket_h = straight * rails * basis.gang_h("fasten rail brackets")
    bracket_h += corners * rails * basis.gang_h("fasten corner brackets") + posts * wires * basis.gang_h(
        "staple wires"
    )
    yield from basis.efforts("brackets", "bracket", posts * (rails + wires), bracket_h, 1.0)
    of_pull = stretches.of_run[pulls.run_index]
    wire_pull = is_wire[pulls.strand]
    rail_m, wire_m = (basis.summed(pulls.rail_m * mask, of_pull) for mask in (~wire_pull, wire_pull))
    splices = basis.summed(_splices(design), of_pull)
    out_h = rail_m * basis.gang_h("pay out rails") + wire_m * basis.gang_h("pay out wires")
    out_h += splices * basis.gang_h("splice") / basis.row("pay out rails").hands
    yield from basis.efforts("pay-out", "m", rail_m + wire_m, out_h, basis.row("pay out rails").hands)
    count = basis.summed(np.ones(len(pulls)), of_pull)
    shares, turned = basis.settings.shares, corners > 0
    corner = np.where(turned, shares.corner, 0.0)
    row, name = basis.row("anchor and pull"), "anchor and pull"
    one_h = count * basis.gang_h(name)
    yield from basis.counted("anchor", name, count, shares.anchor)
    yield from basis.efforts("pull", "pull", count, one_h * (1.0 - shares.anchor - corner), row.hands)
    yield from basis.efforts("corners", "bracket", corners * (rails + wires), one_h * corner, row.hands)
    yield from basis.counted("check", "prove tensions", count)


def _splices(design: Design) -> Floats:
    """Splices of each pull, shared by length where the cut lists give only their sum. (pulls,)"""
    splices = np.zeros(len(design.pulls))
    for cutting in design.cutting:
        length = design.pulls.rail_m[cutting.pull_index]
        splices[cutting.pull_index] = cutting.cut_list.splices * length / max(float(length.sum()), 1e-9)
    return splices


def _openings(basis: _Basis) -> Iterator[Effort]:
    openings, of = basis.design.layout.openings, basis.stretches.of_opening
    gates = basis.summed((~openings.is_crossing).astype(float), of)
    yield from basis.counted("gates", "hang gates", gates)
    yield from basis.counted(
        "water-gaps", "hang water gaps", basis.summed(openings.is_crossing.astype(float), of)
    )


def _loaded(basis: _Basis) -> tuple[tuple[tuple[int, ...], ...], tuple[tuple[int, ...], ...]]:
    """For each stretch: those whose posts its runs load, and those whose runs end at its openings."""
    layout, stretches = basis.design.layout, basis.stretches
    holds: list[set[int]] = [{row} for row in range(len(stretches))]
    hangs: list[set[int]] = [set() for _ in range(len(stretches))]
    runs, openings = layout.runs, layout.openings
    for run, stretch in enumerate(stretches.of_run.tolist()):
        part = slice(int(runs.from_span[run]), int(runs.to_span[run]))
        touched = np.concatenate([layout.spans.from_post[part], layout.spans.to_post[part]])
        holds[stretch] |= set(stretches.of_post[touched].tolist())
    for row, stretch in enumerate(stretches.of_opening.tolist()):
        posts = (openings.from_post[row], openings.to_post[row])
        ends = np.isin(runs.from_post, posts) | np.isin(runs.to_post, posts)
        hangs[stretch] |= set(stretches.of_run[ends].tolist())
    return tuple(tuple(sorted(one)) for one in holds), tuple(tuple(sorted(one)) for one in hangs)
