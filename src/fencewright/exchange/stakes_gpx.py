"""stakes.gpx: a waypoint at every hole, for a receiver in the hand."""

import re
from typing import Any
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from fencewright.exchange.fence_geojson import LonLat
from fencewright.quantity.show import UnitSystem

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NO_PLACE = (
    "No waypoints: this job is drawn on a plane that has no place on the Earth. Give [site] origin (latitude"
    " and longitude of the plane's 0, 0) and [site] north, or an EPSG code as [site] crs, and design it again."
)
_HANDHELD = (
    "A receiver in the hand is off by metres: use these to find the holes, and the stake-out to mark them."
)


def write_gpx(record: dict[str, Any], lon_lat: LonLat | None) -> bytes:
    """Give the bytes of a GPX 1.1 file with a waypoint for each post's hole and each brace's footing.

    Parameters
    ----------
    record : dict
        The record of design.json.
    lon_lat : callable or None
        From plane coordinates (n, 2) [m] to longitude and latitude (n, 2) [deg]; None for a plane without a
        place on the Earth: then there is no waypoint, and the file says how to give the job a place.

    Returns
    -------
    bytes
        UTF-8. No elevations: the datum that a receiver shows is not known.
    """
    holes = _holes(record) if lon_lat else []
    head = "" if record["may_be_built"] else "NOT TO BE BUILT. "
    words = head + (_HANDHELD if lon_lat else _NO_PLACE)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<gpx version="1.1" creator={quoteattr(record["program"] + " " + record["version"])}'
        ' xmlns="http://www.topografix.com/GPX/1/1">',
        f"<metadata><name>{_text(record['job']['name'])}</name><desc>{_text(words)}</desc></metadata>",
    ]
    if lon_lat and holes:
        places = lon_lat(np.array([hole[:2] for hole in holes], dtype=np.float64))
        for (longitude, latitude), (_, _, name, says, role) in zip(places.tolist(), holes, strict=True):
            lines.append(
                f'<wpt lat="{latitude:.8f}" lon="{longitude:.8f}"><name>{_text(name)}</name>'
                f"<desc>{_text(says)}</desc><type>{_text(role)}</type></wpt>"
            )
    return ("\n".join([*lines, "</gpx>"]) + "\n").encode("utf-8", "replace")


def _text(value: str) -> str:
    """Text that XML allows."""
    return escape(_NOT_XML.sub("", value))


def _holes(record: dict[str, Any]) -> list[tuple[float, float, str, str, str]]:
    """Place, name, description and role of every hole."""
    units = UnitSystem(record["job"]["sheets"])
    posts = [
        (
            post["x_m"],
            post["y_m"],
            post["id"],
            _post_says(post, units),
            post["role"],
        )
        for post in record["posts"]
    ]
    feet = [
        (
            brace["x_m"],
            brace["y_m"],
            brace["id"],
            f"brace of {brace['post']}, {_hole(brace, units)}",
            "brace foot",
        )
        for brace in record["braces"]
        if brace["kind"] == "diagonal"
    ]
    return posts + feet


def _post_says(post: dict[str, Any], units: UnitSystem) -> str:
    place = f"{post['line']}, {units.long(post['station_m'])}"
    return f"{place}: {post['role']} post, {_hole(post, units)}, {post['set']}"


def _hole(row: dict[str, Any], units: UnitSystem) -> str:
    wide, deep = (np.nan if row[key] is None else row[key] for key in ("hole_diameter_m", "hole_depth_m"))
    return f"hole {units.small(wide)} x {units.small(deep)} deep"
