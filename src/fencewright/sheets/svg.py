"""A picture as SVG: its own small stylesheet, millimetres, the same bytes for the same picture."""

import math
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from fencewright.sheets.look import Style, style_named
from fencewright.sheets.picture import Circle, Item, Picture, Polyline, Symbol, Text
from fencewright.sheets.symbols import SYMBOLS, placed_shapes

FONT_FAMILY = 'Arial, "Liberation Sans", Helvetica, "DejaVu Sans", sans-serif'
_BASELINE_EM = 0.36  # from a text's middle down to its baseline: half the height of a capital


def _number(value: float, digits: int = 3) -> str:
    text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _plain(text: str) -> str:
    """Escape for XML, leaving out characters that XML 1.0 cannot hold."""
    if text.isascii() and text.isprintable():
        return escape(text)
    kept = "".join(c for c in text if c in "\t\n" or (ord(c) >= 32 and not 0xD800 <= ord(c) <= 0xDFFF))
    return escape("".join(c for c in kept if ord(c) not in (0xFFFE, 0xFFFF)))


class _Pen:
    """Maps paper metres, y up, to millimetres, y down."""

    def __init__(self, height_m: float, factor: float) -> None:
        self.height_m = height_m
        self.factor = factor

    def x(self, value_m: float) -> str:
        return _number(value_m * self.factor)

    def y(self, value_m: float) -> str:
        return _number((self.height_m - value_m) * self.factor)

    def path(self, points: Iterable[tuple[float, float]], is_closed: bool) -> str:
        return "M" + "L".join(f"{self.x(x)} {self.y(y)}" for x, y in points) + ("Z" if is_closed else "")


def _turn(rotation_rad: float, x: str, y: str) -> str:
    degrees = _number(-math.degrees(rotation_rad), 2)
    return "" if degrees == "0" else f' transform="rotate({degrees} {x} {y})"'


def _text(item: Text, pen: _Pen, names: dict[str, str]) -> str:
    x, y = pen.x(item.x_m), pen.y(item.y_m)
    size_mm = item.height_m * pen.factor
    anchor = "" if item.anchor == "start" else f' text-anchor="{item.anchor}"'
    return (
        f'<text class="{names[item.style]}" x="{x}" y="{y}" dy="{_number(_BASELINE_EM * size_mm)}"'
        f' font-size="{_number(size_mm)}"{anchor}{_turn(item.rotation_rad, x, y)}>{_plain(item.text)}</text>'
    )


def _shape(item: Item, pen: _Pen, names: dict[str, str]) -> str:
    if isinstance(item, Text):
        return _text(item, pen, names)
    if isinstance(item, Symbol):
        return "".join(_shape(shape, pen, names) for shape in placed_shapes(item))
    name = names[item.style]
    if isinstance(item, Circle):
        radius = _number(item.radius_m * pen.factor)
        return f'<circle class="{name}" cx="{pen.x(item.x_m)}" cy="{pen.y(item.y_m)}" r="{radius}"/>'
    if isinstance(item, Polyline):
        return f'<path class="{name}" d="{pen.path(item.points, item.is_closed)}"/>'
    return f'<path class="{name}" d="{"".join(pen.path(ring, True) for ring in item.rings)}"/>'


def _rule(name: str, style: Style, pattern: str) -> str:
    parts = [f"fill:{f'url(#{pattern})' if style.hatch_rad is not None else style.fill}"]
    if style.has_halo:
        parts += ["stroke:#fff", "stroke-width:.7", "paint-order:stroke", "stroke-linejoin:round"]
    elif style.stroke != "none":
        parts += [f"stroke:{style.stroke}", f"stroke-width:{_number(style.width_mm)}"]
    if style.dash_mm:
        parts.append("stroke-dasharray:" + " ".join(_number(length) for length in style.dash_mm))
    if style.opacity < 1:
        parts.append(f"opacity:{_number(style.opacity)}")
    if style.is_bold:
        parts.append("font-weight:bold")
    return f".fw .{name}{{{';'.join(parts)}}}"


def _pattern(pattern: str, style: Style) -> str:
    pitch, turn = _number(style.hatch_mm), _number(-math.degrees(style.hatch_rad or 0.0), 1)
    back = "" if style.fill == "none" else f'<rect width="{pitch}" height="{pitch}" fill="{style.fill}"/>'
    return (
        f'<pattern id="{pattern}" width="{pitch}" height="{pitch}" patternUnits="userSpaceOnUse"'
        f' patternTransform="rotate({turn})">{back}<path d="M0 0H{pitch}" stroke="{style.stroke}"'
        f' stroke-width="{_number(style.width_mm * 1.6)}"/></pattern>'
    )


def _styles_of(picture: Picture) -> set[str]:
    marks = {item.name for item in picture.items() if isinstance(item, Symbol)}
    styles = {shape.style for name in marks for shape in SYMBOLS[name]}
    return styles | {item.style for item in picture.items() if not isinstance(item, Symbol)}


def _narrow_rules(phone: Picture) -> list[str]:
    """Rules that show the narrow drawing instead of the sheet on a small upright screen."""
    tall = _number(100 * phone.height_m / phone.width_m, 2)
    return [
        ".fw>.phone{display:none}",
        "@media screen and (max-width:600px) and (max-aspect-ratio:3/4){",
        f"svg.fw{{width:100vw;height:{tall}vw;max-width:none}}",
        ".fw>.phone{display:inline}.fw>.wide{display:none}}",
    ]


def _head(picture: Picture, names: dict[str, str]) -> list[str]:
    styles = {style: style_named(style) for style in names}
    rules = [
        "svg.fw{background:#fff}",
        ".fw path,.fw circle{stroke-linejoin:round;fill-rule:evenodd}",
        f".fw text{{font-family:{FONT_FAMILY}}}",
        *(_rule(names[style], styles[style], f"h-{names[style]}") for style in names),
        "@media screen{svg.fw{max-width:100%;height:auto}}",
        *(_narrow_rules(picture.phone) if picture.phone else []),
    ]
    patterns = [
        _pattern(f"h-{names[s]}", style) for s, style in styles.items() if style.hatch_rad is not None
    ]
    return ["<style>", *rules, "</style>", "<defs>", *patterns, "</defs>"]


def _layers(picture: Picture, names: dict[str, str]) -> list[str]:
    pen = _Pen(picture.height_m, 1000.0)
    lines: list[str] = []
    for layer in picture.layers:
        lines.append(f'<g class="layer-{layer.name}" data-title={quoteattr(layer.title)}>')
        lines += [_shape(item, pen, names) for item in layer.items]
        lines.append("</g>")
    return lines


def _narrow(picture: Picture, phone: Picture, names: dict[str, str]) -> list[str]:
    """Write the drawing for a small screen, as wide as the sheet's own coordinates."""
    width, height = _number(phone.width_m * 1000), _number(phone.height_m * 1000)
    across = picture.width_m * 1000
    tall = _number(across * phone.height_m / phone.width_m)
    return [
        f'<svg class="phone" width="{_number(across)}" height="{tall}" viewBox="0 0 {width} {height}">',
        *_layers(phone, names),
        "</svg>",
    ]


def write_svg(picture: Picture) -> str:
    """Write a picture as an SVG file's text.

    Parameters
    ----------
    picture : Picture
        The drawing.

    Returns
    -------
    str
        One `svg` element in millimetres, true to scale when printed at 100 %; it ends with a line break.
        Where the picture has a `phone`, a small upright screen shows that instead of the sheet.

    Notes
    -----
    Coordinates are rounded to 0.001 mm on paper. Every text of the user's is escaped. O(primitives).
    """
    used = _styles_of(picture) | (_styles_of(picture.phone) if picture.phone else set())
    names = {style: style if "|" not in style else f"ob{k}" for k, style in enumerate(sorted(used))}
    width, height = _number(picture.width_m * 1000), _number(picture.height_m * 1000)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" class="fw" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}" preserveAspectRatio="xMinYMin" role="img"'
        ' aria-labelledby="title desc">',
        f'<title id="title">{_plain(picture.title)}</title>',
        f'<desc id="desc">{_plain(picture.description)}</desc>',
        *_head(picture, names),
        '<g class="wide">',
        *_layers(picture, names),
        "</g>",
        *(_narrow(picture, picture.phone, names) if picture.phone else []),
    ]
    return "\n".join([*lines, "</svg>"]) + "\n"
