"""From the lines to the total: overhead, margin, rounding, tax; by activity and by paddock; per foot and per metre."""

from collections.abc import Sequence
from decimal import Decimal

from fencewright.job.price_settings import Terms
from fencewright.price.money import cents, split, to_multiple
from fencewright.tables.price import KINDS, NeighbourShare, Payment, PriceLine, PriceStep, Subtotal

_FOOT_M = Decimal("0.3048")


def price_steps(lines: Sequence[PriceLine], terms: Terms, digits: int) -> tuple[PriceStep, ...]:
    """Steps from the lines to the total.

    Parameters
    ----------
    lines : sequence of PriceLine
        A line without a price adds nothing.
    terms : Terms
        Overhead, contingency, margin or markup, tax, rounding.
    digits : int
        Decimal places of the minor unit.

    Returns
    -------
    tuple of PriceStep
        One for each kind, then `direct`, `contingency`, `overhead`, `margin`, `rounding`, `net`, `tax`, `total`.

    Notes
    -----
    Contingency is a share of the direct costs, overhead of direct costs and contingency; a margin m makes the price
    cost / (1 - m), a markup k makes it cost x (1 + k). The price before tax is rounded to whole multiples of
    `rounding`; tax is reckoned after that. Every step is rounded half up to whole minor units before the next is
    reckoned from it, so that the shown steps add up to the shown total.
    """
    zero, one = Decimal(0), Decimal(1)

    def made(name: str, rule: str, base: Decimal, rate: Decimal, amount: Decimal) -> PriceStep:
        return PriceStep(name, rule, base, rate, cents(amount, digits))

    sums = {kind: sum((line.amount or zero for line in lines if line.kind == kind), zero) for kind in KINDS}
    steps = [made(kind, "sum", sums[kind], one, sums[kind]) for kind in KINDS]
    direct = sum(sums.values(), zero)
    steps.append(made("direct", "sum", direct, one, direct))
    more = made("contingency", "rate", direct, terms.contingency, direct * terms.contingency)
    base = direct + more.amount
    over = made("overhead", "rate", base, terms.overhead, base * terms.overhead)
    cost = base + over.amount
    if terms.markup is not None:
        profit = made("margin", "rate", cost, terms.markup, cost * terms.markup)
    else:
        profit = made("margin", "margin", cost, terms.margin, cost * terms.margin / (one - terms.margin))
    exact = cost + profit.amount
    rounding = made("rounding", "round", exact, terms.rounding, to_multiple(exact, terms.rounding) - exact)
    net = exact + rounding.amount
    taxed = net if terms.taxes_all else sums["material"]
    tax = made("tax", "rate", taxed, terms.tax, taxed * terms.tax)
    steps += [more, over, profit, rounding, made("net", "sum", net, one, net), tax]
    return (*steps, made("total", "sum", net + tax.amount, one, net + tax.amount))


# Activities as a fence is built; data/catalogue/work.toml names them.
_ORDER = (
    *("preparation", "staking", "holes", "posts", "concrete", "braces", "tops", "rails", "gates", "clean-up"),
    "travel",
)


def by_activity(lines: Sequence[PriceLine], total: Decimal, digits: int) -> tuple[Subtotal, ...]:
    """Direct costs of each activity in the order of the work, those of the job's own after it; and its part of the total."""
    named = {line.activity for line in lines}
    direct = {name: Decimal(0) for name in _ORDER if name in named}
    for line in lines:
        direct[line.activity] = direct.get(line.activity, Decimal(0)) + (line.amount or Decimal(0))
    return _subtotals(direct, total, digits)


def by_paddock(
    lines: Sequence[PriceLine], paddocks: Sequence[str], total: Decimal, digits: int
) -> tuple[Subtotal, ...]:
    """Direct costs of each line of the fence, and its part of the total."""
    direct = dict.fromkeys(paddocks, Decimal(0))
    for line in lines:
        for name, part in zip(paddocks, line.by_paddock, strict=True):
            direct[name] += part
    return _subtotals(direct, total, digits)


def _subtotals(direct: dict[str, Decimal], total: Decimal, digits: int) -> tuple[Subtotal, ...]:
    parts = split(total, [float(one) for one in direct.values()], digits)
    return tuple(
        Subtotal(name, cents(own, digits), part)
        for (name, own), part in zip(direct.items(), parts, strict=True)
    )


def per_length(amount: Decimal, length_m: float, digits: int) -> tuple[Decimal, Decimal]:
    """An amount per foot and per metre of fence, to whole minor units; nothing where there is no fence."""
    if length_m <= 0:
        return Decimal(0), Decimal(0)
    metre = amount / Decimal(repr(length_m))
    return cents(metre * _FOOT_M, digits), cents(metre, digits)


def neighbour_shares(
    common: Sequence[tuple[str, str, float, float]],
    paddocks: Sequence[Subtotal],
    length_m: Sequence[float],
    digits: int,
) -> tuple[NeighbourShare, ...]:
    """What each neighbour pays: the share of the part of that line's price that goes with the common length."""
    found = {one.name: (one, length) for one, length in zip(paddocks, length_m, strict=True)}
    rows = []
    for name, line, part_m, share in common:
        subtotal, length = found[line]
        part = Decimal(repr(min(part_m / length, 1.0))) if length > 0 else Decimal(0)
        amount = cents(subtotal.total * part * Decimal(repr(share)), digits)
        rows.append(NeighbourShare(name, line, part_m, Decimal(repr(share)), amount))
    return tuple(rows)


def payments(
    stages: Sequence[tuple[str, float]], customer_total: Decimal, digits: int
) -> tuple[Payment, ...]:
    """Stages of payment, adding up to what the customer pays."""
    parts = split(customer_total, [share for _, share in stages], digits)
    return tuple(
        Payment(stage, Decimal(repr(share)), part) for (stage, share), part in zip(stages, parts, strict=True)
    )
