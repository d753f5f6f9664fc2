"""A builder's logo: good ones are wrapped as they are, others refused in one sentence."""

import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image

from fencewright.exchange.logo import LARGEST_LOGO_BYTES, read_logo
from fencewright.findings import InputError

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0L9 9"/></svg>'


def picture(kind: str, mode: str = "RGB", size: tuple[int, int] = (30, 20)) -> bytes:
    stream = BytesIO()
    Image.new(mode, size).save(stream, kind)
    return stream.getvalue()


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "RGBA", "LA"])
def test_png_of_every_kind(mode: str) -> None:
    assert 'viewBox="0 0 30 20"' in read_logo(picture("PNG", mode), "logo.png")


def test_jpeg_and_svg() -> None:
    assert 'viewBox="0 0 30 20"' in read_logo(picture("JPEG"), "logo.jpg")
    assert "data:image/jpeg;base64," in read_logo(picture("JPEG"), "logo.jpg")
    assert read_logo(SVG, "logo.svg") == SVG.decode()


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def bomb() -> bytes:
    """A PNG of a few bytes that says it is 60,000 pixels each way."""
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"0")) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"GIF89a....", "not a picture"),
        (b"", "not a picture"),
        (b"just text", "not a picture"),
        (picture("PNG")[:-20], "damaged or cut short"),
        (picture("JPEG")[:100], "damaged or cut short"),
        (picture("PNG").replace(b"IDAT", b"IDAU"), "damaged or cut short"),
        (bomb(), "pixels are too many"),
        (b"\x89PNG\r\n\x1a\n" + bytes(LARGEST_LOGO_BYTES), "5.0 MB are too much"),
        (SVG.replace(b"<path", b'<image href="/etc/passwd"/><path'), "reaches for other files"),
        (SVG.replace(b"<path", b"<script>1</script><path"), "reaches for other files"),
        (SVG.replace(b"<path", b'<use href="http://x/y"/><path'), "reaches for other files"),
        (b'<!DOCTYPE svg [<!ENTITY a "a">]>' + SVG, "document type"),
        (SVG[:-6], "cut short"),
    ],
)
def test_others_are_refused_in_one_sentence(data: bytes, says: str) -> None:
    with pytest.raises(InputError, match=says) as error:
        read_logo(data, "logo.png")
    assert "\n" not in str(error.value)
    assert "logo.png" in str(error.value)
