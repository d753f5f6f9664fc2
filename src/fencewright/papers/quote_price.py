"""What a customer sees of a price: totals by activity and paddock, tax, options, payment, a few dates."""

from collections.abc import Sequence
from typing import Any

from fencewright.papers.blocks import Band, Block, Column, Heading, Points, Table, Words, is_cut
from fencewright.papers.measures import Record
from fencewright.quantity.show import counted

_NAME_MM, _AMOUNT_MM, _ALL_MM = 131.0, 55.0, 186.0
_MOST_MISSING = 40
_BESIDE = 4  # options that stand side by side in one table
_ROW_MM = 6.4
_KEPT = 24  # rows of a table that is not parted between pages
_OPTION_NAME_MM = 38.0
# Tables of the job whose changes a customer may read in an option; the builder's terms are none of them.
_OPEN_CHANGES = ("fence", "posts", "holes", "brace", "top_line", "strand:", "gate:", "line:", "crossing:")
_DATES = (
    (
        "Work begins on the site",
        ("remove-old", "clear-line", "contain-stock", "make-access", "stake", "dig-ends", "dig-line"),
        "start",
    ),
    ("Last post set", ("set-ends", "set-line"), "finish"),
    ("Rails drawn tight", ("pull", "corners"), "finish"),
)


def money(amount: float, priced: Record) -> str:
    """Write an amount with its thousands parted and the currency's own decimals."""
    return f"{amount:,.{priced['minor_digits']}f}"


def of_currency(amount: float, priced: Record) -> str:
    """Write an amount with its currency."""
    return f"{money(amount, priced)} {priced['currency'] or ''}".rstrip()


def tax_amount(priced: Record) -> float:
    """Tax in a total; 0 where there is none."""
    return next((float(step["amount"]) for step in priced["steps"] if step["name"] == "tax"), 0.0)


def incomplete_words(priced: Record) -> list[Block]:
    """Say in a frame what a price leaves out for want of prices; nothing where it is whole."""
    missing = priced["missing"]
    if priced["total"] is None:
        return [Words("THIS QUOTE IS INCOMPLETE: nothing is priced yet.", "caution")]
    if not missing:
        return []
    named = [f"{one['item']} ({counted(one['quantity'], one['unit'])})" for one in missing[:_MOST_MISSING]]
    more = f" and {len(missing) - _MOST_MISSING} more" if len(missing) > _MOST_MISSING else ""
    count = "1 thing has" if len(missing) == 1 else f"{len(missing)} things have"
    said = f"{count} no price yet and {'is' if len(missing) == 1 else 'are'} not in the total"
    return [Words(f"THIS QUOTE IS INCOMPLETE: {said}: {', '.join(named)}{more}.", "caution")]


def price_blocks(record: Record, priced: Record) -> list[Block]:
    """Give the price as the customer sees it, and the options beside it."""
    if priced["total"] is None:
        return incomplete_words(priced)
    return [*incomplete_words(priced), *_totals(record, priced), *_options(record, priced)]


def terms_blocks(priced: Record, programme: Record | None) -> list[Block]:
    """Give stages of payment, and when it is built."""
    paid = _payment(priced) if priced["total"] is not None else []
    return [*paid, *_dates(programme, priced["day"])]


def _totals(record: Record, priced: Record) -> list[Block]:
    """Parts of the whole price, tax included, by activity and by paddock; each table adds up to the total."""
    tax = tax_amount(priced)
    whole = "Total" if priced["is_whole"] else "Total of what is priced so far"
    total = Band(f"{whole}: {of_currency(priced['total'], priced)}")
    parts = ", its tax included" if tax else ""
    blocks: list[Block] = []
    for key, head in (("activity", "By activity"), ("paddock", "By paddock")):
        rows = [[one["name"].capitalize() if key == "activity" else one["name"], money(one["total"], priced)]
                for one in priced["subtotals"][key]]  # fmt: skip
        columns = [
            Column(f"Part of the price{parts}", _NAME_MM),
            Column(priced["currency"] or "Amount", _AMOUNT_MM, "right", is_strong=True),
        ]
        blocks += [
            Heading(head),
            Table(columns, [*rows, total], _ROW_MM, has_room=False, is_kept=len(rows) <= _KEPT),
            *_in_full(rows, columns[0]),
        ]
    is_us = record["job"]["sheets"] == "us"
    per = of_currency(priced["per_foot"] if is_us else priced["per_metre"], priced)
    said = [
        _tax_words(priced, tax),
        f"That is {per} a {'foot' if is_us else 'metre'} of fence, gates included.",
    ]
    said += [_neighbour_words(one, priced) for one in priced["neighbours"]]
    if priced["neighbours"]:
        said.append(f"You pay {of_currency(priced['customer_total'], priced)}.")
    return [*blocks, Points(said)]


def _neighbour_words(one: Record, priced: Record) -> str:
    amount = of_currency(one["amount"], priced)
    return f"{one['name'][:1].upper()}{one['name'][1:]} pays {amount} of it for the common boundary on {one['paddock']}."


def _tax_words(priced: Record, tax: float) -> str:
    if not tax:
        return "No tax is in this price."
    return f"Tax of {of_currency(tax, priced)} is in the total; before it the price is {of_currency(_net(priced), priced)}."


def _net(priced: Record) -> float:
    return next(float(step["amount"]) for step in priced["steps"] if step["name"] == "net")


def _options(record: Record, priced: Record) -> list[Block]:
    """Options side by side with what is quoted."""
    options = priced["alternatives"]
    if not options or priced["figures"] is None:
        return []
    is_us = record["job"]["sheets"] == "us"
    own = {"name": "As quoted", "difference": None, "missing": len(priced["missing"]),
           **{key: priced[key] for key in ("total", "per_foot", "per_metre", "figures")}}  # fmt: skip
    wide = (_ALL_MM - _OPTION_NAME_MM) / (_BESIDE + 1)
    blocks: list[Block] = [Heading("Options")]
    for first in range(0, len(options), _BESIDE):
        some = [own, *options[first : first + _BESIDE]]
        columns = [
            Column("", _OPTION_NAME_MM),
            *(Column(one["name"], wide, "right", is_strong=one is own) for one in some),
        ]
        blocks.append(
            Table(columns, _option_rows(some, priced, is_us=is_us), _ROW_MM, has_room=False, is_kept=True)
        )
    blocks.append(Points([_option_words(one) for one in options]))
    return blocks


def _option_rows(some: Sequence[Record], priced: Record, *, is_us: bool) -> list[list[str]]:
    key, unit = ("per_foot", "foot") if is_us else ("per_metre", "metre")
    rows = [
        ("Total", [_amount(one["total"], priced) for one in some]),
        ("Difference", [_amount(one["difference"], priced, sign="+") for one in some]),
        (f"A {unit}", [_amount(one[key], priced) for one in some]),
        ("Posts", [f"{one['figures']['posts']:,}" for one in some]),
        ("Braces", [f"{one['figures']['braces']:,}" for one in some]),
        ("Without a price", [f"{one['missing']:,}" if one["missing"] else "–" for one in some]),
    ]
    return [[name, *cells] for name, cells in rows if name != "Without a price" or set(cells) != {"–"}]


def _amount(amount: float | None, priced: Record, sign: str = "") -> str:
    return "–" if amount is None else f"{amount:{sign},.{priced['minor_digits']}f}"


def _option_words(one: Record) -> str:
    """What differs, in the job's words, the builder's terms left out; and whether it can be built."""
    parts = [part for part in str(one["change"]).split("; ") if part.split(" ")[0] in _OPEN_CHANGES]
    what = ", ".join(
        part.removeprefix("fence ").replace("_", " ") for part in parts
    )  # all of it is the fence
    built = (
        ""
        if one["figures"]["may_be_built"]
        else " It cannot be built as it is drawn: ask before you choose it."
    )
    incomplete = " Its total is incomplete." if one["missing"] else ""
    return f"{one['name']}{f': {what}' if what else ''}.{built}{incomplete}"


def _payment(priced: Record) -> list[Block]:
    stages = priced["payments"]
    if not stages:
        return [Heading("Payment"), Words("Stages of payment are to be agreed upon before work begins.")]
    columns = [
        Column("When", _NAME_MM - 25.0),
        Column("Part", 25, "right"),
        Column(priced["currency"] or "Amount", _AMOUNT_MM, "right", is_strong=True),
    ]
    rows = [[one["stage"], f"{one['share'] * 100:.4g} %", money(one["amount"], priced)] for one in stages]
    due = Band(f"Together: {of_currency(priced['customer_total'], priced)}")
    return [
        Heading("Payment"),
        Table(columns, [*rows, due], _ROW_MM, has_room=False, is_kept=len(rows) <= _KEPT),
        *_in_full(rows, columns[0]),
    ]


def _in_full(rows: Sequence[Sequence[str]], column: Column) -> list[Block]:
    """Repeat in full what is too long for the first column of a table."""
    long = [row[0] for row in rows if is_cut(row[0], column)]
    return [Points(long)] if long else []


def _dates(programme: Record | None, day: str | None) -> list[Block]:
    """When it is built, in the few dates that a customer asks for."""
    if programme is None:
        return []
    rows = programme_dates(programme)
    if not rows:
        return []
    said = "These days move with the weather and with the locating service."
    if not programme["may_start"]:
        said += " They hold once everything that must be known before digging is settled."
    if rows[0][1].startswith("day "):
        said += " Days are counted from the day on which the order is placed; no date is agreed yet."
    if day and rows[0][1] < day and not rows[0][1].startswith("day "):
        said += " They begin before the date of this quote: new ones are to be agreed upon."
    columns = [Column("What", _NAME_MM), Column("When", _AMOUNT_MM, is_strong=True)]
    return [
        Heading("When"),
        Table(columns, [list(row) for row in rows], _ROW_MM, has_room=False, is_kept=len(rows) <= _KEPT),
        Words(said),
    ]


def programme_dates(programme: Record) -> list[tuple[str, str]]:
    """Give the milestones of a programme, days as programme.json has them."""
    activities: list[dict[str, Any]] = programme["activities"]
    rows = []
    for name, kinds, edge in _DATES:
        own = [one for one in activities if one["kind"] in kinds]
        if own:  # activities stand in order of starting
            rows.append((name, own[0]["start"] if edge == "start" else _last(own)))
    rows.append(("Hand-over", programme["hand_over"] or programme["finish"]))
    return rows


def _last(activities: Sequence[dict[str, Any]]) -> str:
    """Last day of several: ISO days by themselves, numbered ones by their number."""
    days = [str(one["finish"]) for one in activities]
    return max(days, key=lambda day: (len(day), day))
