"""Currencies by their ISO 4217 code, with the decimal places of their minor unit."""

import tomllib
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from importlib import resources

from fencewright.findings import InputError


@cache
def currency_digits() -> Mapping[str, int]:
    """Decimal places by code.

    References
    ----------
    .. [1] iso-4217
    """
    text = resources.files("fencewright").joinpath("data").joinpath("currencies.toml").read_text("utf-8")
    lists = tomllib.loads(text)["digits"]
    return {code: int(digits) for digits, codes in lists.items() for code in codes.split()}


def digits_of(code: str, item: str) -> int:
    """Decimal places of one currency; `item` says where the code stands.

    Raises
    ------
    InputError
        No currency of that code.
    """
    known = currency_digits()
    if code in known:
        return known[code]
    near = get_close_matches(code.upper(), known, n=1, cutoff=0.65)  # no mere chance
    hint = f"did you mean {near[0]!r}?" if near else 'write a code of ISO 4217, such as "USD" or "EUR"'
    raise InputError(f"there is no currency {code[:40]!r}; {hint}", item=item)
