"""The command price --rough: a range from a telephone call, and what would narrow it."""

from pathlib import Path

from fencewright.cli.report import findings_text
from fencewright.desk.rough import RoughPrice
from fencewright.desk.rough_asked import RoughAsked
from fencewright.findings import InputError
from fencewright.findings.cautions import BURIED_SERVICES, NOT_A_SEAL
from fencewright.pipeline.risk_words import range_words
from fencewright.quantity.parse import FOOT_M
from fencewright.quantity.show import UnitSystem, counted

_MOST_NARROWING = 8
_COUNTED = (
    ("Posts", "posts"),
    ("Braces", "braces"),
    ("Pulls", "pulls"),
    ("Rolls", "rolls"),
    ("Crew days", "crew_days"),
)
_TERMS = ("overhead", "margin", "markup", "tax", "tax_on", "distance", "rock_share", "rounding", "currency")
_FINDINGS = ("price-book-missing", "price-missing", "price-unit", "price-old", "price-terms-assumed", "tax-not-stated",
             "travel-not-stated", "rock-not-priced")  # fmt: skip


def refuse_mixture(job: Path | None, out: Path | None, *, rough: bool, has_words: bool) -> None:
    """Refuse a job with the words of a call, or neither.

    Raises
    ------
    InputError
        What to add or leave away.
    """
    if rough and (job is not None or out is not None):
        raise InputError(
            "a rough price takes no job and writes nothing: leave JOB.toml and --out away", item="--rough"
        )
    if rough:
        return
    if has_words:
        raise InputError("these words belong to a rough price: add --rough", item="--length, --book")
    if job is None:
        raise InputError('name a job file, or ask with --rough --length "1200 ft"', item="price")
    if out is None:
        raise InputError("name a folder for the price: add --out DIR", item="price")


def asked_of(
    length: list[str],
    counts: tuple[int | None, int | None, int | None, bool | None],
    words: dict[str, str],
    terms: list[str],
    sheets: str,
) -> RoughAsked:
    """Gather what was said: `counts` are corners, gates, strands, and whether the line closes.

    Raises
    ------
    InputError
        Units that are neither, or a term that is not written `key=value`.
    """
    if sheets not in ("us", "metric"):
        raise InputError(f"{sheets[:40]!r} is not one of us, metric", item="--units")
    corners, gates, strands, closed = counts
    pairs = []
    for term in terms:
        key, sign, value = term.partition("=")
        if not sign or key.strip() not in _TERMS:
            raise InputError(
                f"{term[:60]!r} is not KEY=VALUE with a key of {', '.join(_TERMS)}", item="--term"
            )
        pairs.append((key.strip(), value.strip()))
    return RoughAsked(
        tuple(length),
        corners,
        gates,
        strands=strands,
        is_closed=closed,
        terms=tuple(pairs),
        sheets=sheets,
        **words,
    )


def price_roughly(asked: RoughAsked, book: str) -> int:
    """Price a fence from what a customer says and print it; 0 as its exit code.

    Raises
    ------
    InputError
        What no fence can be, or a price book that cannot be read.
    """
    from fencewright.desk.rough import rough_price
    from fencewright.exchange.price_book import read_price_book

    if not asked.length:
        raise InputError('a rough price needs a length: add --length "1200 ft"', item="--rough")
    prices = read_price_book(Path(book)) if book else None
    print(rough_text(rough_price(asked, prices)))
    return 0


def rough_text(rough: RoughPrice) -> str:
    """Give a rough price as text: the fence, the range, quantities, what narrows it, what is left out."""
    call, price = rough.call, rough.price
    said = [one for one in price.findings if one.code in _FINDINGS]
    parts = [_fence(rough), _range(rough), _quantities(rough), _narrowing(rough), _lacking(rough)]
    parts += [findings_text(said, call.sheets) if said else "", f"{NOT_A_SEAL}\n{BURIED_SERVICES}"]
    return "\n\n".join(part for part in parts if part)


def _fence(rough: RoughPrice) -> str:
    call, show = rough.call, UnitSystem(rough.call.sheets)
    lengths = " and ".join(show.long(one) for one in call.length_m)
    way = "coming back to its start" if call.is_closed else "open"
    gates = f"{counted(call.gates, 'gate')} of {show.long(call.gate_m)}" if call.gates else "no gate"
    return (
        f"Taken: {lengths}, {way}, {counted(call.corners, 'corner')}, {gates}, {counted(call.strands, 'strand')} of "
        f"{call.rail};\n       {call.ground} ground, {call.soil}, frost to {show.small(call.frost_m)}."
    )


def _range(rough: RoughPrice) -> str:
    """The range in money; nothing where there is no price."""
    price, call = rough.price, rough.call
    risk = price.risk
    if risk is None:
        return "No range: without a price book (--book) there are quantities and hours, and no money."
    low, middle, high = (risk.quantile(one) for one in (0.1, 0.5, 0.9))
    length = sum(call.length_m) / (FOOT_M if call.sheets == "us" else 1.0)
    unit = "foot" if call.sheets == "us" else "metre"
    return (
        f"Range: {low:,.0f} to {high:,.0f} {price.currency} (P10 to P90), P50 {middle:,.0f}; "
        f"{low / length:,.2f} to {high / length:,.2f} a {unit}."
    )


def _quantities(rough: RoughPrice) -> str:
    show = UnitSystem(rough.call.sheets)
    own, least, most = rough.figures, rough.least, rough.most

    def spread(low: str, high: str) -> str:
        return "" if low == high else f" ({low} to {high})"

    rows = [
        (name, f"{getattr(own, key)}" + spread(str(getattr(least, key)), str(getattr(most, key))))
        for name, key in _COUNTED
    ]
    rows += [
        ("Rail", show.long(own.rail_m) + spread(show.long(least.rail_m), show.long(most.rail_m))),
        (
            "Concrete",
            show.volume(own.concrete_m3)
            + spread(show.volume(least.concrete_m3), show.volume(most.concrete_m3)),
        ),
        (
            "Labour",
            f"{own.labour_hours:,.0f} h"
            + spread(f"{least.labour_hours:,.0f} h", f"{most.labour_hours:,.0f} h"),
        ),
    ]
    return "\n".join(f"{name + ':':11}{text}" for name, text in rows)


def _narrowing(rough: RoughPrice) -> str:
    """What would narrow the range, the most first."""
    price = rough.price
    risk = price.risk
    if risk is None:
        return ""
    swings, rows = risk.swings, risk.uncertainties
    lines = ["What would narrow it, the most first (P80 if it turns out well, and badly):"]
    for k in range(min(len(swings), _MOST_NARROWING)):
        row = int(swings.row[k])
        low, high = float(swings.low_total[k]), float(swings.high_total[k])
        if low == high:
            continue
        said = range_words(rows, row, float(swings.low_value[k]), float(swings.high_value[k]))
        lines.append(f"  {rows.words[row]} ({said}): {low:,.0f} to {high:,.0f}. {rows.remedy[row]}")
    return "\n".join(lines)


def _lacking(rough: RoughPrice) -> str:
    """What the price book lacks, of this fence and of others that fit."""
    if not rough.price.book:
        return ""
    lines = [f"Left out, for want of a price in {rough.price.book}:"]
    lines += [f"  {one.item}: {counted(float(one.quantity), one.unit)}" for one in rough.price.missing]
    lines += [f"  {words}: it may take {', '.join(names)}" for words, names in rough.unpriced]
    return "\n".join(lines) if len(lines) > 1 else ""
