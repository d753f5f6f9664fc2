"""SVG: well-formed, the same bytes, markup escaped, millimetres, words for those who cannot see it."""

import re
from collections.abc import Callable
from itertools import pairwise
from xml.etree.ElementTree import Element

import pytest
from defusedxml.ElementTree import fromstring

from fencewright.pipeline.record import Design
from fencewright.sheets.look import CODE_COLOURS, OBSTACLE_LOOKS, obstacle_style, style_named
from fencewright.sheets.picture import Circle, Layer, Picture, Polygon, Polyline, Symbol, Text
from fencewright.sheets.plan import draw_plan
from fencewright.sheets.section import draw_section
from fencewright.sheets.svg import write_svg
from fencewright.sheets.symbols import SYMBOLS, placed_shapes
from fencewright.site.letters import OBSTACLE_LETTERS, obstacle_letter

Builder = Callable[..., Design]
SVG = "{http://www.w3.org/2000/svg}"


def _picture(*items: Polyline | Polygon | Circle | Symbol | Text) -> Picture:
    return Picture("a title", "what it shows", 0.1, 0.05, 0.05, "test", 100.0, (Layer("only", "all", items),))


def _said(root: Element, tag: str) -> str:
    return root.findtext(f"{SVG}{tag}") or ""


@pytest.mark.parametrize("draw", [draw_plan, draw_section])
def test_well_formed_and_deterministic(paddock: Builder, draw: Callable[[Design], Picture]) -> None:
    first, second = write_svg(draw(paddock())), write_svg(draw(paddock()))
    assert first == second
    root = fromstring(first.encode())
    assert root.tag == f"{SVG}svg"
    assert _said(root, "title").endswith("Small paddock")
    assert len(_said(root, "desc")) > 40


@pytest.mark.parametrize("draw", [draw_plan, draw_section])
def test_markup_in_a_name_is_text(paddock: Builder, draw: Callable[[Design], Picture]) -> None:
    name = "<script>alert('x')</script> & \"q\" \x00\x1b\ud800 ]]>"
    text = write_svg(draw(paddock(name)))
    root = fromstring(text.encode())
    assert not [e for e in root.iter() if e.tag.endswith("script")]
    assert "<script>" in _said(root, "title")


def test_size_is_that_of_the_paper(paddock: Builder) -> None:
    root = fromstring(write_svg(draw_plan(paddock())).encode())
    assert (root.get("width"), root.get("height")) == ("279.4mm", "215.9mm")
    assert root.get("viewBox") == "0 0 279.4 215.9"
    metric = fromstring(write_svg(draw_plan(paddock(sheets="metric"))).encode())
    assert metric.get("viewBox") == "0 0 297 210"


def test_coordinates_are_millimetres_downward() -> None:
    text = write_svg(
        _picture(Polyline(((0.01, 0.02), (0.0300004, 0.05)), "fence"), Circle(0.0, 0.0, 0.001, "mark"))
    )
    assert 'd="M10 30L30 0"' in text
    assert 'cx="0" cy="50" r="1"' in text


def test_numbers_have_no_needless_digits(paddock: Builder) -> None:
    text = write_svg(draw_section(paddock()))
    assert not re.search(r"\d\.\d{4,}", re.sub(r"<style>.*?</style>", "", text, flags=re.S))


def test_text_turns_against_the_clock_on_paper() -> None:
    text = write_svg(_picture(Text(0.01, 0.01, "up", "text", 0.002, "middle", 1.5707963)))
    assert 'text-anchor="middle" transform="rotate(-90 10 40)"' in text


def test_every_mark_is_its_own_shape() -> None:
    """No two post marks may be told apart by colour alone."""
    marks = {name: SYMBOLS[name] for name in SYMBOLS if name.startswith("post-")}
    assert len({repr(shapes) for shapes in marks.values()}) == len(marks)
    placed = list(placed_shapes(Symbol("post-end", 1.0, 2.0, 0.01)))
    assert isinstance(placed[0], Polygon)
    assert min(x for x, _ in placed[0].rings[0]) == pytest.approx(0.996)


def test_services_differ_by_letter_and_dash_and_have_the_public_works_colours() -> None:
    """APWA uniform colour code: red electric, yellow gas, orange telecom, blue water, green sewer, purple reclaimed."""
    buried = {kind: look.dash_mm for kind, look in OBSTACLE_LOOKS.items() if kind.startswith("buried")}
    letters = {obstacle_letter(kind) for kind in buried}
    assert len(letters) == len(set(buried.values())) == len(buried) == 6
    assert "" not in letters
    assert set(OBSTACLE_LETTERS) <= set(OBSTACLE_LOOKS)
    red, green, blue = (int(CODE_COLOURS["red"][k : k + 2], 16) for k in (1, 3, 5))
    assert red > 2 * max(green, blue)
    for kind in OBSTACLE_LOOKS:
        for part in ("line", "area", "text", "band"):
            assert style_named(obstacle_style(kind, "blue", part)).width_mm > 0


def test_colours_are_dark_enough_to_read_on_white() -> None:
    """Contrast of at least 3 to 1 with white for lines (WCAG 2.2, 1.4.11)."""
    for code in CODE_COLOURS.values():
        channels = [int(code[k : k + 2], 16) / 255 for k in (1, 3, 5)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
        shine = sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
        assert 1.05 / (shine + 0.05) >= 3.0, code


def test_narrow_drawing_is_inside_and_shown_on_small_screens_only(paddock: Builder) -> None:
    text = write_svg(draw_plan(paddock()))
    root = fromstring(text.encode())
    (phone,) = [e for e in root if e.get("class") == "phone"]
    assert phone.get("width") == "279.4"
    assert ".fw>.phone{display:none}" in text
    assert "max-width:600px" in text


def test_an_unknown_style_is_a_fault() -> None:
    with pytest.raises(KeyError):
        write_svg(_picture(Circle(0.0, 0.0, 0.001, "no such style")))


def test_layers_come_in_order(paddock: Builder) -> None:
    text = write_svg(draw_plan(paddock()))
    places = [
        text.index(f"layer-{name}") for name in ("sheet", "clearances", "fence", "posts", "labels", "frame")
    ]
    assert all(a < b for a, b in pairwise(places))
