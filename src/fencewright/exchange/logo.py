"""A builder's logo, PNG, JPEG or SVG, checked and given as an SVG picture that holds nothing but itself."""

import base64
import re
import struct
import zlib
from collections.abc import Iterator

from fencewright.exchange.xml_text import check_xml
from fencewright.findings import InputError

LARGEST_LOGO_BYTES = 5_000_000
_MOST_PIXELS = 25_000_000
_PNG, _JPEG = b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff"
_CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}  # values a pixel by the format's kind of colour
_REACHES_OUT = re.compile(
    rb"<\s*(script|foreignObject|image)\b|href\s*=\s*[\"'](?!#)|url\(\s*[\"']?(?!#)|@import", re.I
)


def read_logo(data: bytes, file: str) -> str:
    """Give a logo as the text of an SVG picture.

    Parameters
    ----------
    data : bytes
        The file.
    file : str
        Its name, for messages.

    Returns
    -------
    str
        An SVG file: the logo's own, or a wrapping round the PNG or JPEG.

    Raises
    ------
    InputError
        Too large, not a picture of these kinds, cut short, or an SVG that reaches for other files.
    """
    if len(data) > LARGEST_LOGO_BYTES:
        raise InputError(
            f"{len(data) / 1e6:,.1f} MB are too much for a logo: use a picture of at most 5 MB", file=file
        )
    if data.startswith(_PNG):
        return _wrapped(data, "png", _png_size(data, file), file)
    if data.startswith(_JPEG):
        return _wrapped(data, "jpeg", _jpeg_size(data, file), file)
    if b"<svg" in data[:4096]:
        return _svg(data, file)
    raise InputError("this is not a picture: use a PNG, JPEG or SVG file", file=file)


def _broken(file: str) -> InputError:
    return InputError("the picture is damaged or cut short: save it again", file=file)


def _wrapped(data: bytes, kind: str, size: tuple[int, int], file: str) -> str:
    width, height = size
    if width < 1 or height < 1:
        raise _broken(file)
    if width * height > _MOST_PIXELS:
        raise InputError(f"{width:,} x {height:,} pixels are too many for a logo: make it smaller", file=file)
    body = base64.b64encode(data).decode("ascii")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}">'
        f'<image width="{width}" height="{height}" href="data:image/{kind};base64,{body}"/></svg>'
    )


def _svg(data: bytes, file: str) -> str:
    check_xml(data, file, "svg", "an SVG picture")
    if _REACHES_OUT.search(data):
        raise InputError(
            "the picture reaches for other files or holds a script: save it as a plain SVG, or as PNG",
            file=file,
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(
            "the picture is not UTF-8 text: save it as a plain SVG, or as PNG", file=file
        ) from error


def _chunks(data: bytes, file: str) -> Iterator[tuple[bytes, bytes]]:
    """Give each part of a PNG by its name, checked by its sum, up to its end."""
    at = len(_PNG)
    while at + 12 <= len(data):
        size = struct.unpack_from(">I", data, at)[0]
        name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        check = data[at + 8 + size : at + 12 + size]
        if len(check) < 4 or zlib.crc32(name + body) != struct.unpack(">I", check)[0]:
            break
        yield name, body
        if name == b"IEND":
            return
        at += 12 + size
    raise _broken(file)


def _png_size(data: bytes, file: str) -> tuple[int, int]:
    parts = list(_chunks(data, file))
    if parts[0][0] != b"IHDR" or len(parts[0][1]) != 13:
        raise _broken(file)
    width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", parts[0][1])
    if width * height > _MOST_PIXELS:
        return width, height
    wanted = height * (1 + (width * depth * _CHANNELS.get(colour, 0) + 7) // 8)
    try:
        unpacker = zlib.decompressobj()
        pixels = unpacker.decompress(b"".join(body for name, body in parts if name == b"IDAT"), wanted + 1)
    except zlib.error as error:
        raise _broken(file) from error
    if colour not in _CHANNELS or (len(pixels) != wanted and not interlaced) or not pixels:
        raise _broken(file)
    return width, height


def _jpeg_size(data: bytes, file: str) -> tuple[int, int]:
    at = 2
    while at + 9 < len(data) and data[at] == 0xFF:
        marker, size = data[at + 1], struct.unpack_from(">H", data, at + 2)[0]
        if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
            height, width = struct.unpack_from(">HH", data, at + 5)
            if b"\xff\xd9" not in data[-64:]:
                raise _broken(file)
            return width, height
        at += 2 + size
    raise _broken(file)
