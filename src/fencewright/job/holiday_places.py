"""Countries and their parts of which public holidays are known: asked whenever a job is read, so looked up once."""

from functools import cache


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
    if country.upper() not in _countries():
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
    known = _subdivisions(code)
    own = next((one for one in known if one.upper() == subdivision.upper()), None)
    if own is None:
        some = f"write one such as {', '.join(known[:8])}" if known else "leave it out"
        raise ValueError(f"{code} has no subdivision {subdivision[:40]!r}: {some}")
    return str(own)


@cache
def _countries() -> frozenset[str]:
    from holidays.registry import COUNTRIES  # slow, and of use only to a job that states a country

    return frozenset(code for names in COUNTRIES.values() for code in names[1:])


@cache
def _subdivisions(code: str) -> tuple[str, ...]:
    import holidays  # as above

    return tuple(holidays.country_holidays(code).subdivisions)
