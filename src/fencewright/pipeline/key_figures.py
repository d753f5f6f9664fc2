"""What a design comes to in a few figures, to lay beside those of another."""

from fencewright.pipeline.record import Design
from fencewright.tables.price import KeyFigures, Price


def key_figures(design: Design, priced: Price) -> KeyFigures:
    """Counts, rail, concrete and hours of a design and its price."""
    return KeyFigures(
        posts=len(design.layout.posts),
        braces=len(design.layout.braces),
        pulls=len(design.pulls),
        rolls=sum(len(one.cut_list.roll_length_m) for one in design.cutting),
        rail_m=float(design.pulls.rail_m.sum()),
        concrete_m3=float(design.holes.concrete_m3.sum() + design.brace_holes.concrete_m3.sum()),
        labour_hours=priced.labour_hours,
        crew_days=priced.crew_days,
        may_be_built=design.may_be_built,
    )
