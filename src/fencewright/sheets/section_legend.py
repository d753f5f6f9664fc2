"""What the marks of the long section mean."""

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.sheets.frame import LegendEntry
from fencewright.sheets.picture import Symbol, box_of, line_of
from fencewright.sheets.section_rows import any_lifted
from fencewright.tables.fence import Setting


def section_legend(design: Design) -> list[LegendEntry]:
    """Entries for what the drawing shows, and no others."""
    flat = ((-0.004, 0.0), (0.004, 0.0))
    post, hole = box_of(-0.0004, -0.0015, 0.0004, 0.0015, "post"), (-0.0011, -0.0015, 0.0011, 0.0003)
    entries = [
        LegendEntry((line_of(flat, "top"),), "top line, through the cut tops"),
        LegendEntry((box_of(-0.004, -0.001, 0.004, 0.001, "band"),), "band that the top may use"),
        LegendEntry((line_of(flat, "rail"),), "rail"),
        LegendEntry((line_of(flat, "ground"),), "ground"),
    ]
    if np.any(design.holes.set == Setting.CONCRETE):
        entries.append(LegendEntry((box_of(*hole, "concrete"), post), "post in concrete"))
    if np.any(design.holes.set == Setting.TAMPED):
        entries.append(LegendEntry((box_of(*hole, "hole"), post), "post tamped"))
    if np.any(design.holes.set == Setting.DRIVEN):
        entries.append(LegendEntry((post,), "post driven"))
    if any_lifted(design):
        entries.append(LegendEntry((Symbol("uplift", 0.0, 0.0, 0.0032),), "rail lifts the post"))
    if np.any(design.is_control):
        entries.append(
            LegendEntry((Symbol("control", 0.0, 0.0, 0.0026),), "control post: string between these")
        )
    if not np.all(design.cuts.is_cut):
        entries.append(LegendEntry((Symbol("long", 0.0, 0.0, 0.0026),), "set long, cut to a string"))
    if design.top_line.clashes.kind:
        entries.append(LegendEntry((Symbol("clash", 0.0, 0.0, 0.0026),), "clash: a band cannot be kept"))
    return entries
