"""Why a step from the lines to the total of a price is what it is."""

from fencewright.job.record import Job
from fencewright.pipeline.why_origin import asked, computed
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.tables.price import KINDS, Price, PriceLine, PriceStep

_FOOT_M = 0.3048
_PER = {"per-foot": ("foot", _FOOT_M), "per-metre": ("metre", 1.0)}
_TERMS = {
    "contingency": ("D", "direct costs"),
    "overhead": ("b", "direct costs and contingency"),
    "margin": ("b", "direct costs, contingency and overhead"),
    "rounding": ("b", "the price before rounding"),
    "tax": ("b", "what is taxed"),
}
ADDED = (*KINDS, *_TERMS)
"""Steps that add up to the total."""
_SUMS = {
    "direct": KINDS,
    "net": ("direct", "contingency", "overhead", "margin", "rounding"),
    "total": ("net", "tax"),
}
STEPS = (*KINDS, "direct", "contingency", "overhead", "margin", "rounding", "net", "tax", "total", *_PER)
"""Steps that may be asked, in order."""
_MOST_PARTS = 40  # beyond, the amounts stand in one row


def explain_step(price: Price, job: Job, name: str) -> Explanation:
    """Explain a step of a price that has a total."""
    if name in _PER:
        reason = _per_length(price, name)
    elif name in KINDS:
        reason = _of_kind(price, name)
    elif name in _SUMS:
        reason = _sum_of_steps(price, name)
    else:
        reason = _term(price, job, name)
    return Explanation(f"price:{name}", "price step", "how the price adds up", (reason,))


def _step(price: Price, name: str) -> PriceStep:
    found = price.step(name)
    if found is None:
        raise KeyError(name)
    return found


def line_words(line: PriceLine) -> str:
    """Name a line by its thing and size, or its work and trade: `stake out, fence builder`."""
    return ", ".join(part for part in (line.item, line.size) if part)


def _of_kind(price: Price, name: str) -> Reason:
    lines = [line for line in price.lines if line.kind == name and line.amount is not None]
    amounts = tuple(float(line.amount or 0) for line in lines)
    inputs: tuple[Input, ...]
    if len(lines) > _MOST_PARTS:
        inputs, symbols = (computed("a", "amounts of its lines", amounts, price.currency),), "s = sum(a)"
    else:
        inputs = tuple(
            computed(f"a_{number}", line_words(line), amount, price.currency, f"price:{line.id}")
            for number, (line, amount) in enumerate(zip(lines, amounts, strict=True), 1)
        )
        symbols = f"s = {' + '.join(one.symbol for one in inputs) or '0'}"
    left = sum(1 for line in price.lines if line.kind == name and line.amount is None)
    some = "1 line without a price is left out" if left == 1 else f"{left} lines without a price are left out"
    says = some if left else "every line of this kind"
    return Reason(
        name,
        says,
        inputs,
        "the amounts of its lines",
        symbols,
        float(_step(price, name).amount),
        price.currency,
    )


def _sum_of_steps(price: Price, name: str) -> Reason:
    inputs = tuple(
        computed(f"s_{number}", one, float(_step(price, one).amount), price.currency, f"price:{one}")
        for number, one in enumerate(_SUMS[name], 1)
    )
    says = {"direct": "before the terms", "net": "before tax", "total": "what the work costs the customer"}[
        name
    ]
    symbols = f"s = {' + '.join(one.symbol for one in inputs)}"
    return Reason(
        name, says, inputs, "the steps before it", symbols, float(_step(price, name).amount), price.currency
    )


def _term(price: Price, job: Job, name: str) -> Reason:
    step = _step(price, name)
    symbol, words = _TERMS[name]
    base = computed(symbol, words, float(step.base), price.currency)
    if name == "rounding":
        told = computed(
            "r", "to whole multiples of", float(step.rate), price.currency, "[price] rounding, or none"
        )
        formula = "e = round(b / r) r - b" if step.rate else "e = 0"
        says = "the price before tax is rounded half up" if step.rate else "the job asks for no rounding"
        return Reason(
            name, says, (base, told), "to the nearest multiple", formula, float(step.amount), price.currency
        )
    if name == "tax":
        told = computed("r", "tax", float(step.rate), "%", "[price] tax, or none")
        says = (
            "on materials alone, [price] tax_on" if job.asked.price.tax_on != "all" else "on the whole price"
        )
        words_, formula = "a share of what is taxed", "a = r b"
    elif step.rule == "margin":
        told = asked(
            job, "price.margin", "price.margin", ("r", "margin, of the price"), float(step.rate), "%"
        )
        says = "a share of the price, so the cost is divided by the rest"
        words_, formula = "cost over what is left of the price, less the cost", "a = b r / (1 - r)"
    else:
        key = "markup" if name == "margin" else name
        told = asked(job, f"price.{key}", f"price.{name}", ("r", key), float(step.rate), "%")
        says, words_, formula = "a share of what stands before it", "a share", f"a = r {symbol}"
    return Reason(
        name,
        says,
        (base, told),
        words_,
        formula,
        float(step.amount),
        price.currency,
        "",
        f"a smaller [price] {name}",
    )


def _per_length(price: Price, name: str) -> Reason:
    word, size_m = _PER[name]
    amount = price.per_foot if name == "per-foot" else price.per_metre
    inputs = (
        computed("t", "total", float(price.total or 0), price.currency, "price:total"),
        computed("l", "fence on plan, gates included", price.length_m, "m", "Why of fence length"),
        computed("u", f"one {word}", size_m, "m", "by definition"),
    )
    return Reason(
        f"per {word}",
        "of fence, gates and tax included",
        inputs,
        "the total over the length",
        "p = t u / l",
        float(amount or 0),
        price.currency,
    )
