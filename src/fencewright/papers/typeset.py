"""A paper to PDF: the record goes to the typesetting engine as data, with a fixed template and our own fonts."""

import json
from functools import cache
from importlib import import_module, resources
from pathlib import Path
from typing import Any

from fencewright.findings import InternalFault
from fencewright.papers.blocks import Paper, paper_data
from fencewright.papers.glyphs import fonts_folder, plain_letters, plain_text

_STANDARD = "ua-1"  # a tagged PDF that a screen reader can follow
_OWN_WORDS = {"kind", "align", "style", "size"}  # keys of our own words


def typeset(paper: Paper) -> bytes:
    """Give a paper as the bytes of a PDF.

    Parameters
    ----------
    paper : Paper
        What is to be printed. Letters that the font lacks are replaced by a box.

    Returns
    -------
    bytes
        A tagged PDF with bookmarks, without a date; the same paper gives the same bytes.

    Raises
    ------
    InternalFault
        The engine refuses what it is given.

    Notes
    -----
    The text of a paper reaches the engine as JSON and is set as text, never read as its markup. Cost grows with
    the cells of the tables.
    """
    data = json.dumps(_plain(paper_data(paper)), ensure_ascii=False)
    return compile_template("paper.typ", {"data": data})


def compile_template(template: str, inputs: dict[str, str]) -> bytes:
    """Run the engine on one of our templates with texts as its inputs; see `typeset`."""
    typst: Any = import_module("typst")  # a large library that only papers need
    folder = Path(str(resources.files("fencewright").joinpath("data").joinpath("papers")))
    try:
        compiler = typst.Compiler(
            folder / template, root=folder, font_paths=_fonts(), ignore_system_fonts=True, sys_inputs=inputs
        )
        made: bytes = compiler.compile(format="pdf", timestamp=0, pdf_standards=[_STANDARD])
    except typst.TypstError as error:
        raise InternalFault(f"a paper cannot be typeset: {error.message}") from error
    return made


@cache
def _fonts() -> Any:
    typst: Any = import_module("typst")
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(fonts_folder())]
    )


def _plain(value: Any) -> Any:
    """Every text of a record as the font can print it; in a drawing the letters alone, our own words as they are."""
    if isinstance(value, str):
        return plain_text(value)
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    if isinstance(value, dict):
        return {key: _of_key(key, one) for key, one in value.items()}
    return value


def _of_key(key: str, value: Any) -> Any:
    if key in _OWN_WORDS:
        return value
    return plain_letters(value) if key == "svg" else _plain(value)


def prove_logo(svg: str) -> None:
    """Draw a logo on a page of its own.

    Raises
    ------
    InternalFault
        The engine cannot draw it.
    """
    compile_template("logo.typ", {"svg": plain_letters(svg)})
