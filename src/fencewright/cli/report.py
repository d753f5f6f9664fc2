"""What the command line prints: findings and totals."""

from collections.abc import Iterable

import numpy as np

from fencewright.findings import Finding
from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.record import Design
from fencewright.quantity.show import UnitSystem, counted
from fencewright.tables.fence import Role


def _where(finding: Finding, show: UnitSystem) -> str:
    place = finding.where
    parts = [place.id] if place.id else []
    if place.line and place.line != place.id:
        parts.append(f'line "{place.line}"')
    if place.station_m is not None:
        parts.append(f"at {show.long(place.station_m)}")
    return ", ".join(parts)


def findings_text(findings: Iterable[Finding], sheets: str) -> str:
    """Findings as text, stops first; says so where there are none."""
    show = UnitSystem(sheets)
    lines = []
    for finding in findings:
        where = _where(finding, show)
        lines.append(f"{finding.level.upper():8}{finding.code}" + (f" ({where})" if where else ""))
        lines.append(f"        {finding.message}")
        if finding.remedy:
            lines.append(f"        -> {finding.remedy}")
    return "\n".join(lines) if lines else "No findings."


def summary_text(design: Design) -> str:
    """Totals of a design as text."""
    show = UnitSystem(design.job.asked.job.sheets)
    layout = design.layout
    counts = {role.label: int((layout.posts.role == role).sum()) for role in Role}
    posts = ", ".join(f"{count} {name}" for name, count in counts.items() if count)
    length = sum(line.length_m for line in layout.lines)
    rail = float(design.pulls.rail_m.sum())
    concrete = float(design.holes.concrete_m3.sum() + design.brace_holes.concrete_m3.sum())
    bags = next(
        (f"{line.order:.0f} bags of {line.size}" for line in design.order if line.item == "bagged concrete"),
        "no bags",
    )
    rolls = sum(len(one.cut_list.roll_length_m) for one in design.cutting)
    splices = sum(one.cut_list.splices for one in design.cutting)
    certificate = design.top_line.certificate
    rows = [
        ("Fence", f"{show.long(length)} on plan, gates included, on {counted(len(layout.lines), 'line')}"),
        ("Posts", f"{len(layout.posts)}: {posts}"),
        ("Braces", f"{len(layout.braces)}"),
        (
            "Rail",
            f"{show.long(rail)} in {counted(len(design.pulls), 'pull')}, from {counted(rolls, 'roll')} "
            f"with {counted(splices, 'splice')}",
        ),
        ("Concrete", f"{show.volume(concrete)}, {bags}"),
        ("Top line", f"certified within {certificate.relative_gap:.1e} of the best"),
    ]
    heights = design.top_line.height_m
    if np.ptp(heights) > 1e-4:
        rows.append(
            ("Tops", f"{show.small(float(heights.min()))} to {show.small(float(heights.max()))} above ground")
        )
    return "\n".join(f"{name + ':':10}{text}" for name, text in rows) + "\n" + "\n".join(DESIGN_CAUTIONS)
