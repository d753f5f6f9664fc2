"""How the risk of a price is told: values of the uncertain parts, and what moves the total most."""

from fencewright.tables.risk import Risk, Uncertainties

MOST_SWINGS = 5  # uncertainties that are named


def range_words(rows: Uncertainties, row: int, low: float, high: float) -> str:
    """Two values of an uncertainty: `0 % to 4 % of the holes`, or `-10 % to +12 %` of what is estimated.

    Parameters
    ----------
    rows : Uncertainties
        All of them.
    row : int
        Which.
    low, high : float
        Parts, or factors on what is estimated.
    """
    if rows.unit[row]:
        return f"{100 * low:.0f} % to {100 * high:.0f} % {rows.unit[row]}"
    least, most = (f"{round(100 * (one - 1)):+d}".replace("+0", "0") for one in (low, high))
    return f"{least} % to {most} %"


def named_swings(risk: Risk) -> list[int]:
    """Places in `risk.swings` of the uncertainties that are named: at most five, those that move nothing left out."""
    swings = risk.swings
    return [k for k in range(min(len(swings), MOST_SWINGS)) if swings.high_total[k] != swings.low_total[k]]


def covered_words(part: float) -> str:
    """In how many of 100 runs a total is kept."""
    if part >= 0.995:
        return "more than 99 of 100 runs"
    return "none of 100 runs" if part <= 0.005 else f"{round(100 * part)} of 100 runs"


def risk_text(risk: Risk, total: float, currency: str) -> str:
    """A price's risk as text: quantiles, what the price covers, and what moves it most."""
    shown = ", ".join(f"P{100 * p:.0f} {risk.quantile(p):,.0f}" for p in (0.5, 0.8, 0.95))
    rows = [f"Risk: {shown} {currency}; the price is kept in {covered_words(risk.covered(total))}."]
    for k in named_swings(risk):
        row = int(risk.swings.row[k])
        low, high = float(risk.swings.low_total[k]), float(risk.swings.high_total[k])
        rows.append(f"  {risk.uncertainties.words[row]:34} P80 {low:>10,.0f} to {high:>10,.0f}")
    return "\n".join(rows)
