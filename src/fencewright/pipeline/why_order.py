"""Why a line of the order is as long as it is: what is counted, waste, pack, and the rounding up."""

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.pipeline.why_order_counts import Counted, counted_net
from fencewright.pipeline.why_origin import computed, practice
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.quantity.show import UnitSystem, few_figures
from fencewright.tables.fence import OrderLine


def explain_order_line(design: Design, row: int) -> Explanation:
    """Explain every number of a line of the order: net, waste, and what is bought."""
    line = design.order[row]
    counted = counted_net(design, line)
    reasons = [_net(line, counted)]
    if counted.is_rolls:
        reasons += [_left_over(design, line), _rolls(design, line)]
    else:
        reasons += [_waste(design, line), _bought(line)]
    where = f"line of the order: {line.item}, {line.size}" if line.size else f"line of the order: {line.item}"
    return Explanation(line.id, "order line", where, tuple(reasons))


def _net(line: OrderLine, counted: Counted) -> Reason:
    return Reason(
        "net quantity",
        counted.says,
        counted.inputs,
        counted.words,
        counted.symbols,
        line.net,
        line.unit,
        counted.source,
        counted.smaller,
    )


def _waste(design: Design, line: OrderLine) -> Reason:
    job, net = design.job, computed("n", "net quantity", line.net, line.unit)
    default = "holes.concrete_waste" if line.item == "bagged concrete" else "order.hardware_waste"
    share = job.settings.holes.waste if line.item == "bagged concrete" else job.settings.hardware_waste
    if line.waste == 0 and line.item != "bagged concrete":
        return Reason(
            "waste",
            "none: what is bought by the piece, and counted by it, has none",
            (),
            "none",
            "w = 0",
            0.0,
            line.unit,
        )
    told = practice(job, default, ("f", "waste, a share of the net quantity"), share, "%")
    if line.item == "bagged concrete" and job.asked.holes.waste is not None:
        told = computed(
            "f", "waste, a share of the net quantity", share, "%", "stated in the job, [holes] waste"
        )
    source = "" if told.origin.startswith("stated") else job.catalogue.practice[default].source
    return Reason(
        "waste",
        "on what is bought loose or in packs",
        (net, told),
        "a share of the net quantity",
        "w = f n",
        line.waste,
        line.unit,
        source,
    )


def _bought(line: OrderLine) -> Reason:
    over = line.net + line.waste - (line.order - line.pack)
    inputs = (
        computed("n", "net quantity", line.net, line.unit),
        computed("w", "waste", line.waste, line.unit),
        computed("k", "in a pack", line.pack, line.unit, "catalogue"),
    )
    packs = f"{few_figures(line.order / line.pack)} packs of {few_figures(line.pack)}"
    if line.pack == 1:
        packs = f"up to a whole {line.unit}"
    return Reason(
        "to order",
        "what is counted, whole already" if line.pack == 1 and line.net == line.order else packs,
        inputs,
        "net and waste, rounded up to whole packs once for the whole job",
        "o = ceil((n + w) / k) k",
        line.order,
        line.unit,
        "",
        f"{few_figures(over)} {line.unit} less of net and waste together: a pack fewer",
    )


def _left_over(design: Design, line: OrderLine) -> Reason:
    return Reason(
        "waste",
        "what the cut list leaves on the rolls; long pieces go back to the yard",
        (_new_rolls(design, line), computed("n", "net quantity", line.net, line.unit)),
        "whole rolls less what is taken off them",
        "w = N - n",
        line.waste,
        line.unit,
    )


def _rolls(design: Design, line: OrderLine) -> Reason:
    cut = next(one.cut_list for one in design.cutting if one.rail == line.item)
    yard = float(cut.is_remainder.sum())
    inputs = (
        _new_rolls(design, line),
        computed(
            "y", "rolls and remainders of the yard that are used, not bought", yard, "1", "[rolls] remainders"
        ),
        computed("gap", "the cut list is within this part of the best", float(cut.gap), "1", "cut list"),
    )
    proven = "no cut list takes fewer" if cut.is_proven else "the best cut list found"
    longest = UnitSystem(design.job.asked.job.sheets).long(float(cut.longest_offcut_m))
    return Reason(
        "to order",
        f"{proven}; the longest piece left is {longest}",
        inputs,
        "rolls that the cut list begins, those of the yard left out",
        "o = N",
        line.order,
        line.unit,
    )


def _new_rolls(design: Design, line: OrderLine) -> Input:
    cut = next(one.cut_list for one in design.cutting if one.rail == line.item)
    return computed("N", "new rolls of the cut list", float(np.sum(~cut.is_remainder)), "roll", "cut list")
