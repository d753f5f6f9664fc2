"""Colours as the bytes of a PNG or JPEG, for a browser to show."""

import warnings

from fencewright.exchange.picture_file import Colours

_JPEG_QUALITY = 88


def encode_picture(colours: Colours) -> tuple[bytes, str]:
    """Encode colours (4, rows, columns): as JPEG where all of it is opaque, else as PNG.

    Returns
    -------
    content : bytes
        The picture.
    media_type : str
        `image/jpeg` or `image/png`.
    """
    import rasterio
    from rasterio.errors import NotGeoreferencedWarning

    _, rows, columns = colours.shape
    is_opaque = bool((colours[3] == 255).all())
    options = {"driver": "JPEG", "quality": _JPEG_QUALITY} if is_opaque else {"driver": "PNG", "zlevel": 1}
    bands = 3 if is_opaque else 4
    with warnings.catch_warnings(), rasterio.MemoryFile() as memory:
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        with memory.open(width=columns, height=rows, count=bands, dtype="uint8", **options) as picture:
            picture.write(colours[:bands])
        content = bytes(memory.getbuffer())
    return content, "image/jpeg" if is_opaque else "image/png"
