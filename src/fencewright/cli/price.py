"""The command price: a job to its price."""

from decimal import Decimal
from pathlib import Path

from fencewright.cli.design import Progress, exit_code
from fencewright.cli.report import findings_text
from fencewright.pipeline.risk_words import risk_text
from fencewright.quantity.show import counted, few_figures
from fencewright.tables.price import Price

_MOST_MISSING = 30
_DRAWN_FROM_IT = ("quote.pdf",)
_STEP_WORDS = {
    "material": "Materials",
    "labour": "Labour",
    "plant": "Plant",
    "travel": "Travel",
    "other": "Other",
    "contingency": "Contingency",
    "overhead": "Overhead",
    "margin": "Margin",
    "rounding": "Rounding",
    "net": "Before tax",
    "tax": "Tax",
    "total": "TOTAL",
}


def price_job(path: Path, out: Path) -> int:
    """Design and price a job and write its price; 0 or 1 as its exit code."""
    from fencewright.desk import pricing
    from fencewright.desk.price_writing import price_outputs
    from fencewright.desk.writing import write_beside

    progress = Progress()
    made, priced = pricing.price_job(path, progress)
    files = price_outputs(made, priced, progress)
    write_beside(made, files, out, outdated=_DRAWN_FROM_IT)
    print(findings_text(priced.findings, made.job.asked.job.sheets))
    print(price_text(priced, made.job.asked.job.sheets))
    print(f"Written to {out}/: {', '.join(files)}.")
    if not made.may_be_built:
        print("NOT TO BE BUILT as it is: `fencewright check` names the stops.")
    return exit_code(made.findings)


def price_text(priced: Price, sheets: str) -> str:
    """A price as text: steps to the total, activities, paddocks, alternatives, and what is left out."""
    parts = [
        _steps(priced),
        _subtotals(priced),
        _shares(priced),
        _yearly(priced, sheets),
        _alternatives(priced),
    ]
    parts.append(
        f"Labour:   {priced.labour_hours:,.0f} h, {counted(priced.crew_days, 'day')} of the crew on the site"
        + (f"\nConcrete: {priced.concrete.taken}; {priced.concrete.why}" if priced.concrete else "")
    )
    if priced.risk is not None and priced.total is not None:
        parts.append(risk_text(priced.risk, float(priced.total), priced.currency))
    parts.append(_missing(priced))
    return "\n\n".join(part for part in parts if part)


def money(amount: Decimal, digits: int) -> str:
    """An amount with its thousands parted."""
    return f"{amount:,.{digits}f}"


def _steps(priced: Price) -> str:
    if priced.total is None:
        return "Nothing is priced: price.csv lists quantities and hours."
    rows = []
    for step in priced.steps:
        if step.name not in _STEP_WORDS or (not step.amount and step.name not in ("tax", "total")):
            continue
        rate = f" {few_figures(float(step.rate * 100), 4)} %" if step.rule in ("rate", "margin") else ""
        rows.append(f"{_STEP_WORDS[step.name] + rate:20}{money(step.amount, priced.digits):>14}")
    rows[-1] += f" {priced.currency}" + (" and what is missing" if priced.missing else "")
    per_length = f"{priced.per_foot:,} a foot, {priced.per_metre:,} a metre"
    return "\n".join([*rows, f"{'':20}{per_length}"])


def _subtotals(priced: Price) -> str:
    if priced.total is None:
        return ""
    rows = [f"{'By activity':20}{'direct':>14}{'of the total':>14}"]
    for one in (*priced.by_activity, None, *priced.by_paddock):
        if one is None:
            rows.append("By paddock")
            continue
        rows.append(
            f"  {one.name[:18]:18}{money(one.direct, priced.digits):>14}{money(one.total, priced.digits):>14}"
        )
    return "\n".join(rows)


def _shares(priced: Price) -> str:
    rows = [
        f"{one.name} pays {money(one.amount, priced.digits)} of the common boundary on {one.paddock}"
        for one in priced.neighbours
    ]
    if rows and priced.customer_total is not None:
        rows.append(f"The customer pays {money(priced.customer_total, priced.digits)} {priced.currency}")
    rows += [f"  {one.share:.0%} {one.stage}: {money(one.amount, priced.digits)}" for one in priced.payments]
    return "\n".join(rows)


def _yearly(priced: Price, sheets: str) -> str:
    own = priced.ownership
    if own is None:
        return ""
    per_length = f"{own.per_foot:,} a foot" if sheets == "us" else f"{own.per_metre:,} a metre"
    return (
        f"Yearly cost over {few_figures(float(own.life_years))} years: {money(own.total, priced.digits)} {priced.currency} "
        f"({money(own.depreciation, priced.digits)} wear, {money(own.interest, priced.digits)} interest, "
        f"{money(own.maintenance, priced.digits)} upkeep), {per_length}"
    )


def _alternatives(priced: Price) -> str:
    if not priced.alternatives or priced.figures is None:
        return ""
    rows = [f"{'Alternatives':26}{'total':>14}{'difference':>14}{'posts':>8}{'braces':>8}{'hours':>8}"]
    own = ("as the job has it", priced.total, None, priced.figures)
    for name, total, difference, figures in [
        own,
        *((one.name, one.total, one.difference, one.figures) for one in priced.alternatives),
    ]:
        shown = "-" if total is None else money(total, priced.digits)
        apart = "" if difference is None else f"{difference:+,.{priced.digits}f}"
        built = "" if figures.may_be_built else "  not to be built"
        rows.append(
            f"  {name[:24]:24}{shown:>14}{apart:>14}{figures.posts:>8}{figures.braces:>8}"
            f"{figures.labour_hours:>8.0f}{built}"
        )
    return "\n".join(rows)


def _missing(priced: Price) -> str:
    if not priced.missing or not priced.book:
        return ""
    rows = [
        f"  {one.item}: {one.quantity:f} {one.unit} ({one.why})" for one in priced.missing[:_MOST_MISSING]
    ]
    more = len(priced.missing) - _MOST_MISSING
    return "\n".join(["Without a price:", *rows, *([f"  and {more} more"] if more > 0 else [])])
