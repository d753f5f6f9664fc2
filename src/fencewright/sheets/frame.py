"""What stands around every drawing: title, facts, legend, findings, and the cautions at its foot."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from fencewright import __version__
from fencewright.findings import CAUTION, NOTE, STOP
from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.record import Design
from fencewright.quantity.show import UnitSystem, counted, unit_of
from fencewright.sheets.letters import one_line, shorten, wrap
from fencewright.sheets.picture import Item, Polygon, Polyline, Text, box_of, line_of
from fencewright.sheets.scales import ScaleBar

MARGIN_M = 0.009
SMALL_M = 0.0022
_LEADING = 1.5
NOT_TO_BE_BUILT = "NOT TO BE BUILT"


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """One line of a legend: what is drawn in a swatch 8 mm wide about (0, 0), and what it means."""

    swatch: tuple[Item, ...]
    text: str


def sheet_units(design: Design) -> UnitSystem:
    """Units in which the job's sheets are printed."""
    return UnitSystem(design.job.asked.job.sheets)


def cautions(design: Design) -> tuple[str, ...]:
    """Say what every sheet repeats: what it is not, what can hurt, and each assumption that the design runs on."""
    return (*DESIGN_CAUTIONS, *_assumed(design))


def _assumed(design: Design) -> list[str]:
    said = [finding.message for finding in design.findings if finding.code.startswith("assumed-")]
    return [f"Assumed: {one_line(message)}" for message in dict.fromkeys(said)]


def count_findings(design: Design) -> str:
    """Say how many findings there are: `1 stop, 2 cautions, 3 notes`."""
    counts = [(level, sum(f.level == level for f in design.findings)) for level in (STOP, CAUTION, NOTE)]
    said = [counted(count, level) for level, count in counts if count]
    return ", ".join(said) or "none"


def text_lines(
    lines: Iterable[str], left_m: float, top_m: float, *, style: str = "text", height_m: float = SMALL_M
) -> tuple[list[Item], float]:
    """Set lines of text below a height, left aligned; the items, and where the next may begin. [m]."""
    items: list[Item] = []
    for line in lines:
        items.append(Text(left_m, top_m - height_m * _LEADING / 2, line, style, height_m))
        top_m -= height_m * _LEADING
    return items, top_m


def foot(
    design: Design, left_m: float, right_m: float, low_m: float, note: str = ""
) -> tuple[list[Item], float]:
    """Set the cautions along the foot of a page; the items, and where the drawing may begin. [m]."""
    said = [*([note] if note else []), " ".join(DESIGN_CAUTIONS), *_assumed(design)]
    room = (right_m - left_m) / SMALL_M
    lines = [line for caution in said for line in wrap(caution, room)]
    top = low_m + len(lines) * SMALL_M * _LEADING
    items, _ = text_lines(lines, left_m, top)
    return [*items, line_of(((left_m, top + 0.001), (right_m, top + 0.001)), "rule")], top + 0.002


def title(
    design: Design, sheet: str, left_m: float, top_m: float, width_m: float
) -> tuple[list[Item], float]:
    """Set the name of the job and of the sheet; the items, and where the next may begin. [m]."""
    head = design.job.asked.job
    items, top = text_lines(
        wrap(head.name, width_m / 0.0046, 2), left_m, top_m, style="text-strong", height_m=0.0040
    )
    who = [head.client and f"for {head.client}", head.place, head.builder and f"built by {head.builder}"]
    lines = [shorten(line, width_m / SMALL_M) for line in [*who] if line]
    more, top = text_lines([sheet], left_m, top - 0.0005, style="text-strong", height_m=0.003)
    rest, top = text_lines(lines, left_m, top)
    return [*items, *more, *rest], top


def stop_box(design: Design, left_m: float, top_m: float, width_m: float) -> tuple[list[Item], float]:
    """Give the words that forbid building, boxed, where a finding does; else nothing. [m]."""
    if design.may_be_built:
        return [], top_m
    low = top_m - 0.0078
    words = Text(
        left_m + width_m / 2, (low + top_m - 0.001) / 2, NOT_TO_BE_BUILT, "text-accent", 0.004, "middle"
    )
    return [box_of(left_m, low, left_m + width_m, top_m - 0.001, "stop-box"), words], low - 0.001


def stop_messages(design: Design, left_m: float, top_m: float, width_m: float, low_m: float) -> list[Item]:
    """Set as many of the messages of stops as there is room for, and how many more there are. [m]."""
    messages = [
        f"{f.where.id + ': ' if f.where.id else ''}{f.message}" for f in design.findings if f.level == STOP
    ]
    items: list[Item] = []
    for k, message in enumerate(messages):
        lines = wrap(f"Stop: {message}", width_m / SMALL_M, 4)
        if top_m - (len(lines) + 1) * SMALL_M * _LEADING < low_m:
            rest = len(messages) - k
            said = f"{rest} {'more ' if k else ''}{unit_of(rest, 'stop')}: see the findings"
            more, _ = text_lines([said], left_m, top_m, style="text-accent")
            return [*items, *more]
        more, top_m = text_lines(lines, left_m, top_m)
        items += more
    return items


def facts(
    rows: Sequence[tuple[str, str]], left_m: float, top_m: float, width_m: float
) -> tuple[list[Item], float]:
    """Set two columns of facts; long values are broken into lines. [m]."""
    indent = 0.0175
    items: list[Item] = []
    for name, value in rows:
        label, _ = text_lines([name], left_m, top_m, style="text-quiet")
        lines = wrap(value, (width_m - indent) / SMALL_M, 3) or ("–",)
        more, top_m = text_lines(lines, left_m + indent, top_m)
        items += [*label, *more]
    return items, top_m


def common_facts(design: Design) -> list[tuple[str, str]]:
    """Facts that every sheet states."""
    job = design.job
    units = "feet and inches" if job.asked.job.sheets == "us" else "metres and millimetres"
    return [
        ("Units", units),
        ("Ground", job.site.ground.source),
        ("Revision", job.asked.job.revision),
        ("Program", f"fencewright {__version__}"),
        ("Findings", count_findings(design)),
    ]


def draw_scale_bar(bar: ScaleBar, scale: float, left_m: float, low_m: float) -> list[Item]:
    """Draw a scale bar of alternate parts, its numbers above; 5 mm high in all. [m]."""
    items: list[Item] = []
    step = bar.step_m / scale
    for k in range(bar.steps):
        style = "bar-dark" if k % 2 == 0 else "bar-light"
        items.append(box_of(left_m + k * step, low_m, left_m + (k + 1) * step, low_m + 0.0012, style))
    for k, label in enumerate(bar.labels):
        items.append(Text(left_m + k * step, low_m + 0.003, label, "text", 0.002, "middle" if k else "start"))
    return items


def moved(item: Item, dx_m: float, dy_m: float) -> Item:
    """Give the same primitive elsewhere. [m]."""
    if isinstance(item, Polyline):
        return replace(item, points=tuple((x + dx_m, y + dy_m) for x, y in item.points))
    if isinstance(item, Polygon):
        return replace(item, rings=tuple(tuple((x + dx_m, y + dy_m) for x, y in ring) for ring in item.rings))
    return replace(item, x_m=item.x_m + dx_m, y_m=item.y_m + dy_m)


def legend(
    entries: Sequence[LegendEntry], left_m: float, top_m: float, width_m: float
) -> tuple[list[Item], float]:
    """Set a legend, one entry a line; long texts take two. [m]."""
    items: list[Item] = []
    for entry in entries:
        lines = wrap(entry.text, (width_m - 0.0105) / SMALL_M, 2)
        middle = top_m - 0.0019
        items += [moved(item, left_m + 0.004, middle) for item in entry.swatch]
        texts, low = text_lines(lines, left_m + 0.0105, middle + SMALL_M * _LEADING / 2)
        items += texts
        top_m = min(top_m - 0.0038, low - 0.0003)
    return items, top_m
