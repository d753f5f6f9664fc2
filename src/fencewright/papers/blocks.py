"""What a paper is made of: sections of words, facts, tables, drawings and tick lists, as plain records.

A paper is data from end to end: nothing of it is ever read as markup. `typeset` turns it into PDF.
"""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from typing import Any, Literal

from fencewright.papers.glyphs import fitted

_PT_MM = 25.4 / 72
_INSET_MM = 2.4  # kept free at both sides of a cell, as the template does
Align = Literal["left", "right", "centre"]
WordStyle = Literal["text", "strong", "small", "caution", "title"]


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph; `style` `title` is the large one on a cover, `caution` stands in a frame."""

    text: str
    style: WordStyle = "text"
    kind: str = field(default="words", init=False)


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values side by side; an empty value becomes a line to fill in by hand.

    `rows` of (name, value); `name_mm` width of the names [mm]; `is_strong` the values are bold, else the names.
    """

    rows: Sequence[tuple[str, str]]
    name_mm: float = 45.0
    is_strong: bool = True
    kind: str = field(default="facts", init=False)


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    `head` over it, a line break allowed; `width_mm` [mm]; `align`; `is_strong` bold and larger; `is_blank` left
    empty with a rule to write on.
    """

    head: str
    width_mm: float
    align: Align = "left"
    is_strong: bool = False
    is_blank: bool = False


@dataclass(frozen=True, slots=True)
class Band:
    """A row over the whole width of a table that heads the rows after it, such as the name of a line."""

    text: str


@dataclass(frozen=True, slots=True)
class Table:
    """Rows with bands, the head again on every page.

    Attributes
    ----------
    columns : sequence of Column
        Their widths together are those of the table; wider than the page is refused by a test, not here.
    rows : sequence of (sequence of str, or Band)
        One text a column, one line each: what is too long is cut with an ellipsis.
    row_mm : float
        Height of a row, room to write by hand included. [mm]
    letter_pt : float
        Letter size. [pt]
    has_room : bool
        The numbers stand in the upper part of a row, so that a measure can be written under each.
    is_kept : bool
        Not parted between pages; for one that fits a page.
    """

    columns: Sequence[Column]
    rows: Sequence[Sequence[str] | Band]
    row_mm: float = 9.0
    letter_pt: float = 10.0
    has_room: bool = True
    is_kept: bool = False
    kind: str = field(default="table", init=False)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing as SVG text at its true size, with what it shows in words.

    `svg` the text; `alt` for those who cannot see it; `width_mm`, `height_mm` on paper [mm].
    """

    svg: str
    alt: str
    width_mm: float
    height_mm: float
    align: Align = "centre"
    kind: str = field(default="drawing", init=False)


@dataclass(frozen=True, slots=True)
class Ticks:
    """A list to tick off: `rows` of (what to do, within what; empty where nothing is measured)."""

    rows: Sequence[tuple[str, str]]
    kind: str = field(default="ticks", init=False)


@dataclass(frozen=True, slots=True)
class Points:
    """A list of short texts, each behind a point."""

    rows: Sequence[str]
    kind: str = field(default="points", init=False)


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading within a section; it stands in the bookmarks too, one `level` below its section's."""

    text: str
    level: int = 2
    kind: str = field(default="heading", init=False)


@dataclass(frozen=True, slots=True)
class Contents:
    """Names of the sections and the pages on which they begin."""

    kind: str = field(default="contents", init=False)


Block = Words | Facts | Table | Drawing | Ticks | Points | Heading | Contents


@dataclass(frozen=True, slots=True)
class Section:
    """One sheet or more under one title: it begins on a new page.

    `is_landscape` turns the paper; `level` 2 puts it below the last section of level 1 in the bookmarks, and out of
    the contents.
    """

    title: str
    blocks: Sequence[Block]
    is_landscape: bool = False
    level: int = 1


@dataclass(frozen=True, slots=True)
class Paper:
    """A whole document.

    Attributes
    ----------
    title : str
        `Field pack: Small paddock`; the document's title.
    kind : str
        `Field pack`, `Quote`, `Hand-over`: stands in the header.
    size : str
        `letter` or `a4`.
    marks : mapping
        `job`, `revision`, `digest`, `program`, `banner` (empty, or NOT TO BE BUILT): header and footer of each page.
    sections : sequence of Section
        In order; the first one is the cover.
    """

    title: str
    kind: str
    size: Literal["letter", "a4"]
    marks: Mapping[str, str]
    sections: Sequence[Section]


def paper_data(paper: Paper) -> dict[str, Any]:
    """Give a paper as JSON holds it; a row of a table is a list, a band is its text alone."""
    return {
        "title": paper.title,
        "kind": paper.kind,
        "size": paper.size,
        "marks": dict(paper.marks),
        "sections": [_section(section) for section in paper.sections],
    }


def _section(section: Section) -> dict[str, Any]:
    return {
        "title": section.title,
        "is_landscape": section.is_landscape,
        "level": section.level,
        "blocks": [_block(block) for block in section.blocks],
    }


def is_cut(text: str, column: Column, letter_pt: float = 10.0) -> bool:
    """Whether a text is too long for a column, and so ends there in an ellipsis."""
    return fitted(text, _limit(column, letter_pt), column.is_strong) != text


def _limit(column: Column, letter_pt: float) -> float:
    """Room of a column in letter sizes."""
    return max(0.0, (column.width_mm - _INSET_MM) / (letter_pt * _PT_MM))


def _block(block: Block) -> dict[str, Any]:
    if not isinstance(block, Table):
        return asdict(block)
    limits = [(_limit(column, block.letter_pt), column.is_strong) for column in block.columns]
    rows = [
        row.text
        if isinstance(row, Band)
        else [fitted(cell, *limit) for cell, limit in zip(row, limits, strict=True)]
        for row in block.rows
    ]
    return {
        "kind": block.kind,
        "columns": [asdict(column) for column in block.columns],
        "rows": rows,
        "row_mm": block.row_mm,
        "letter_pt": block.letter_pt,
        "has_room": block.has_room,
        "is_kept": block.is_kept,
    }
