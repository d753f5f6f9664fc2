"""The strands of a fence: which rail, how high, and what holds each."""

from dataclasses import replace

from fencewright.catalogue.rows import Kept, Rail
from fencewright.findings import InputError
from fencewright.job.filling import Filling, pick
from fencewright.job.schema import Strand
from fencewright.job.settings import StrandSetting
from fencewright.quantity.show import UnitSystem


def lay_strands(filling: Filling, kept: Kept | None, top_m: float) -> tuple[tuple[StrandSetting, ...], float]:
    """Lay the strands between the bottom gap and the top, lowest first.

    Parameters
    ----------
    filling : Filling
        The job and its catalogue.
    kept : Kept, optional
        What the stock proposes.
    top_m : float
        Of the cut top above ground. [m]

    Returns
    -------
    strands : tuple of StrandSetting
        Lowest first.
    bottom_m : float
        Gap under the lowest rail. [m]

    Raises
    ------
    InputError
        Strands that overlap, stand above the top or in the ground; an unknown rail.
    """
    asked = filling.asked
    proposed = kept.bottom_gap_m if kept else filling.catalogue.practice["fence.bottom_gap"].value
    bottom = asked.fence.bottom_gap if asked.fence.bottom_gap is not None else float(str(proposed))
    reveal = filling.take(asked.fence.top_reveal, "fence.top_reveal")
    rails, heights = _asked_rails(filling, kept)
    placed = _spread(rails, heights, bottom, top_m - reveal)
    _check_strands(rails, placed, top_m, UnitSystem(asked.job.sheets))
    lowest = placed[0] - rails[0].face_height_m / 2
    return tuple(StrandSetting(rail, height) for rail, height in zip(rails, placed, strict=True)), lowest


def _asked_rails(filling: Filling, kept: Kept | None) -> tuple[list[Rail], list[float | None]]:
    """Rails as the job asks for them, lowest first, and their heights where it states them."""
    asked, rows = filling.asked, filling.catalogue.rails
    if not asked.strand:
        count = asked.fence.rails or (kept.rails if kept else int(filling.take(None, "fence.rails")))
        return [pick(rows, asked.fence.rail, "rail", "fence, rail")] * count, [None] * count
    if asked.fence.rails is not None and asked.fence.rails != len(asked.strand):
        raise InputError(
            f"rails = {asked.fence.rails} but {len(asked.strand)} [[strand]] tables: leave rails out",
            item="fence",
        )
    return [_own_rail(pick(rows, row.rail, "rail", "strand"), row) for row in asked.strand], [
        row.height for row in asked.strand
    ]


def _own_rail(rail: Rail, strand: Strand) -> Rail:
    """Give a strand's rail with its own roll, tensioner and fixing; another name keeps it apart in the order."""
    changed = [text for text in (strand.tensioner, strand.fixing) if text]
    if strand.roll is not None and strand.roll != rail.roll_length_m:
        changed.append(UnitSystem("metric").long(strand.roll) + " roll")
    if not changed:
        return rail
    return replace(
        rail,
        name=f"{rail.name}, {', '.join(changed)}",
        roll_length_m=rail.roll_length_m if strand.roll is None else float(strand.roll),
        tensioner=strand.tensioner or rail.tensioner,
        fixing=strand.fixing or rail.fixing,
    )


def _spread(rails: list[Rail], heights: list[float | None], bottom_m: float, upper_m: float) -> list[float]:
    """Give each strand without a height an even place between its stated neighbours."""
    first = heights[0] if heights[0] is not None else bottom_m + rails[0].face_height_m / 2
    last = heights[-1] if heights[-1] is not None else upper_m - rails[-1].face_height_m / 2
    known: dict[int, float] = {0: float(first)} if len(rails) > 1 else {}
    known[len(rails) - 1] = float(last)
    known.update({index: float(height) for index, height in enumerate(heights) if height is not None})
    marks = sorted(known)
    placed = []
    for index in range(len(rails)):
        after = next(mark for mark in marks if mark >= index)
        before = max((mark for mark in marks if mark <= index), default=after)
        share = 0.0 if after == before else (index - before) / (after - before)
        placed.append(known[before] + share * (known[after] - known[before]))
    return placed


def _check_strands(rails: list[Rail], placed: list[float], top_m: float, show: UnitSystem) -> None:
    for index in range(1, len(rails)):
        room = (rails[index].face_height_m + rails[index - 1].face_height_m) / 2
        apart = placed[index] - placed[index - 1]
        if apart < room - 1e-9:
            raise InputError(
                f"strands {index} and {index + 1} overlap: they need {show.small(room)} between centres and have "
                f"{show.small(apart)}; use fewer rails or a higher top",
                item="strand" if len(rails) else "fence",
            )
    if placed[-1] + rails[-1].face_height_m / 2 > top_m + 1e-9:
        raise InputError(
            "the top strand stands above the cut top: lower it or raise top_height", item="strand"
        )
    if placed[0] - rails[0].face_height_m / 2 < 0:
        raise InputError("the lowest strand lies in the ground: raise it", item="strand")
