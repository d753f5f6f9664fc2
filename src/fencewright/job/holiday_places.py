"""Countries and their parts of which public holidays are known.

Asked whenever a job is read that states a country: the package that knows the days takes a third of a second to come, so
what it knows is shipped as a list (made by `make docs`), and it is asked itself only for what is not in that.
"""

import json
from collections.abc import Mapping, Sequence
from functools import cache
from importlib import resources


def refuse_unknown_country(country: str) -> None:
    """Refuse a country of which no holidays are known.

    Parameters
    ----------
    country : str
        Its ISO 3166 code of two or three letters, in capitals or not.

    Raises
    ------
    ValueError
        One sentence: what to write.
    """
    code = country.upper()
    if code not in _shipped() and code not in _countries():
        raise ValueError(
            f"no holidays are known of country {country[:40]!r}: write its two letters, like US, CA, GB or DE"
        )


def known_subdivision(country: str, subdivision: str) -> str:
    """Code of a state or province as the list of holidays has it.

    Parameters
    ----------
    country : str
        A country that `refuse_unknown_country` lets pass.
    subdivision : str
        Its code, in capitals or not.

    Raises
    ------
    ValueError
        One sentence: the country has none of that name, and which it has.
    """
    code = country.upper()
    shipped = _own(subdivision, _shipped().get(code, ()))
    if shipped:
        return shipped
    known = _subdivisions(code)
    own = _own(subdivision, known)
    if own is None:
        some = f"write one such as {', '.join(known[:8])}" if known else "leave it out"
        raise ValueError(f"{code} has no subdivision {subdivision[:40]!r}: {some}")
    return own


def _own(subdivision: str, known: Sequence[str]) -> str | None:
    return next((one for one in known if one.upper() == subdivision.upper()), None)


@cache
def _shipped() -> Mapping[str, Sequence[str]]:
    """Subdivisions by each code of a country, two letters or three."""
    text = resources.files("fencewright").joinpath("data").joinpath("holiday_places.json").read_text("utf-8")
    return {code: known for codes, known in json.loads(text)["places"] for code in codes.split()}


@cache
def _countries() -> frozenset[str]:
    from holidays.registry import COUNTRIES  # slow: see above

    return frozenset(code for names in COUNTRIES.values() for code in names[1:])


@cache
def _subdivisions(code: str) -> tuple[str, ...]:
    import holidays  # as above

    return tuple(str(one) for one in holidays.country_holidays(code).subdivisions)
