"""Finding a price: which row of a price book prices a thing, and what its pack comes to in the thing's unit."""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from fencewright.quantity.parse import UNITS, QuantityError, parse_quantity
from fencewright.tables.price import PriceBook, PriceRow

_KINDS_OF_UNIT = ("length", "area", "volume", "mass")
_SAME = {
    "piece": ("pieces", "each", "ea", "pc", "pcs", "no", "off"),
    "h": ("hr", "hrs", "hour", "hours"),
    "day": ("days",),
    "delivery": ("deliveries", "trip", "trips"),
    "hole": ("holes",),
    "bag": ("bags",),
    "roll": ("rolls",),
    "set": ("sets", "kit", "kits"),
    "job": ("lot", "sum"),
}
_ALIKE = 0.01  # sizes of one thing in feet and in metres differ by their rounding
_NAMED = 6  # sizes that a hint names
_UNIT_OF = {word: unit for unit, words in _SAME.items() for word in (unit, *words)}


@dataclass(frozen=True, slots=True)
class Found:
    """A row that prices a thing, and how many of the thing's units one of the row's units is."""

    row: PriceRow
    factor: float


def same_text(text: str) -> str:
    """Text as it is compared: case, hyphens and spaces make no difference."""
    return re.sub(r"[\s_-]+", " ", text).strip().casefold()


def plain_unit(unit: str) -> str:
    """A unit by its one name: `each` is `piece`, `hr` is `h`."""
    text = re.sub(r"\s+", " ", unit).strip().rstrip(".")
    return _UNIT_OF.get(text.casefold(), text)


def unit_factor(have: str, want: str) -> float | None:
    """How many `want` one `have` is; None where the two do not fit.

    Lengths, areas, volumes and masses are converted; pieces, rolls, hours and days only fit themselves.
    """
    have, want = plain_unit(have), plain_unit(want)
    if have == want:
        return 1.0
    for kind in _KINDS_OF_UNIT:
        units = UNITS[kind]
        if have in units and want in units:
            return units[have] / units[want]
    return None


def same_size(written: str, wanted: str) -> bool:
    """Tell whether two sizes are the same, in whatever units they are written.

    `6" x 9'`, `6 in x 9 ft` and `152 mm x 2.74 m` are one; lengths and masses agree within a hundredth. Sizes that are
    no measures are the same where their words are.
    """
    if same_text(written) == same_text(wanted):
        return True
    first, second = (_measures(text) for text in (written, wanted))
    if first is None or second is None or len(first) != len(second):
        return False
    return all(
        a[0] == b[0] and math.isclose(a[1], b[1], rel_tol=_ALIKE) for a, b in zip(first, second, strict=True)
    )


def _measures(size: str) -> list[tuple[str, float]] | None:
    """Lengths and masses of a size, each with its kind; None where a part of it is neither."""
    found = []
    for part in re.split(r"\s+(?:x|by|×)\s+", re.sub(r"^\s*roll of\s+", "", size)):
        for kind in ("length", "mass"):
            try:
                found.append((kind, parse_quantity(part.replace(",", "").strip(), kind)))
            except QuantityError:
                continue
            break
        else:
            return None
    return found


class PriceIndex:
    """Rows of a price book, ready to be asked; remembers which were used."""

    def __init__(self, book: PriceBook | None) -> None:
        self.rows: tuple[PriceRow, ...] = book.rows if book else ()
        self._by_name: dict[str, list[PriceRow]] = {}
        for row in self.rows:
            self._by_name.setdefault(same_text(row.item), []).append(row)
        self.used: dict[str, PriceRow] = {}

    def find(self, names: Iterable[str], size: str, units: Iterable[str]) -> Found | str:
        """Find the price of a thing.

        Parameters
        ----------
        names : iterable of str
            Names by which it goes, the most certain first: id, name with size, name.
        size : str
            Its size; a row that states another one is passed over.
        units : iterable of str
            Units in which it may be priced, the most wanted first.

        Returns
        -------
        Found or str
            The row, or in words why there is none.
        """
        wanted = list(units)
        misfit = ""
        for name in dict.fromkeys(same_text(one) for one in names):
            rows = [row for row in self._by_name.get(name, ()) if not row.size or same_size(row.size, size)]
            rows.sort(key=lambda row: not row.size)
            for unit in wanted:
                for row in rows:
                    factor = unit_factor(row.unit, unit)
                    if factor is not None:
                        self.used[row.where or row.item] = row
                        return Found(row, factor)
            if rows and not misfit:
                misfit = (
                    f"priced by the {rows[0].unit or '(no unit)'} in {rows[0].where or 'the price book'}, "
                    f"needed by the {wanted[0]}"
                )
        return misfit

    def near(self, name: str, base: str = "") -> str:
        """Say what the book has that is nearest to a thing without a price: other sizes of it, or a like name."""
        sizes = [row.size for row in self._by_name.get(same_text(base or name), ()) if row.size]
        if sizes:
            return f"the price book has {base or name} in other sizes: {', '.join(sizes[:_NAMED])}"
        known = {same_text(row.item): row.item for row in self.rows}
        close = get_close_matches(same_text(name), known, n=1, cutoff=0.75)
        return f"the price book has {known[close[0]]!r}" if close else "no such item in the price book"
