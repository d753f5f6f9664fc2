"""Plain numbers exactly as they are written: prices, counts, rates."""

import math
import re
from decimal import Decimal

from fencewright.quantity.parse import QuantityError
from fencewright.quantity.shown import shown_value

_PLAIN = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
_GROUPED = re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?")
_MOST_DIGITS, _MOST_PLACES = 12, 6
_WORDS = {"money": "price", "count": "number"}


def parse_decimal(value: object, kind: str = "money") -> Decimal:
    """Read a plain number, 0 or more, without a unit or a currency sign.

    Parameters
    ----------
    value : object
        `12.5`, `"12.50"` or `"1,250.00"`; a comma stands between thousands, never before decimals.
    kind : str
        `money` or `count`, for the message.

    Returns
    -------
    Decimal
        Exactly as written; a binary number gives its shortest decimal form.

    Raises
    ------
    QuantityError
        Text, a negative number, none that is finite, or more digits than money has.
    """
    word = _WORDS[kind]
    if isinstance(value, bool) or not isinstance(value, int | float | str | Decimal):
        raise QuantityError(f"{shown_value(value)} is no {word}: write a plain number such as 12.50")
    if isinstance(value, float) and not math.isfinite(value):
        raise QuantityError(f"{shown_value(value)} is no {word}: write a plain number such as 12.50")
    text = value.strip() if isinstance(value, str) else format(Decimal(str(value)), "f")
    if text.startswith("-"):
        raise QuantityError(f"{text[:40]!r} is less than nothing: a {word} is 0 or more")
    if not (_PLAIN.fullmatch(text) or _GROUPED.fullmatch(text)):
        raise QuantityError(f"{text[:40]!r} is no {word}: write a plain number such as 12.50")
    number = Decimal(text.replace(",", ""))
    places = -int(number.normalize().as_tuple().exponent)
    if number >= Decimal(10) ** _MOST_DIGITS or places > _MOST_PLACES:
        raise QuantityError(f"{text[:40]!r} has too many digits for a {word}: check it")
    return number
