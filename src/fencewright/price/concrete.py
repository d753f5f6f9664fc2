"""Bags against ready-mix: what each way costs with its work, and which is taken."""

from decimal import Decimal

from fencewright.job.price_settings import PriceSettings
from fencewright.price.lines import Ledger
from fencewright.tables.price import ConcreteChoice
from fencewright.tables.price_task import ConcreteWay, PriceTask


def choose_concrete(
    task: PriceTask, settings: PriceSettings, ledger: Ledger
) -> tuple[ConcreteWay | None, ConcreteChoice | None]:
    """Take the way that the job asks for, or the cheaper one.

    Parameters
    ----------
    task : PriceTask
        Both ways, or none.
    settings : PriceSettings
        `concrete`: `bags`, `ready-mix` or `cheaper`.
    ledger : Ledger
        Whose price book is asked; nothing is written into it.

    Returns
    -------
    ConcreteWay or None, ConcreteChoice or None
        None where the fence takes no concrete. `cheaper` takes bags where a price is missing.
    """
    if task.bags is None or task.ready_mix is None:
        return None, None
    bags, mix = (_cost(way, settings, ledger) for way in (task.bags, task.ready_mix))
    taken = settings.concrete
    if taken == "cheaper":
        taken = "ready-mix" if bags is not None and mix is not None and mix < bags else "bags"
    if bags is None or mix is None:
        lacking = "bags" if bags is None else "ready-mix"
        why = f"{lacking} cannot be compared: a price is missing"
    elif bags == mix:
        why = "both cost the same"
    else:
        why = f"with their work bags cost {bags:,} and ready-mix {mix:,}"
    choice = ConcreteChoice(taken, bags, mix, task.concrete_m3, why)
    return (task.ready_mix if taken == "ready-mix" else task.bags), choice


def _cost(way: ConcreteWay, settings: PriceSettings, ledger: Ledger) -> Decimal | None:
    """Direct cost of one way; None where a price is missing."""
    used = dict(ledger.index.used)
    own = Ledger(ledger.index, ledger.digits, ledger.weights)
    write_way(way, settings, own)
    ledger.index.used = used
    amounts = [line.amount for line in own.lines]
    return None if None in amounts else sum((one for one in amounts if one is not None), Decimal(0))


def write_way(way: ConcreteWay, settings: PriceSettings, ledger: Ledger) -> None:
    """Write the things, the work and the machines of one way."""
    for item in way.items:
        ledger.price_item(item)
    for work in way.works:
        ledger.price_work(work, settings.hours_a_day)
    for plant in dict.fromkeys(work.plant for work in way.works if work.plant):
        ledger.price_plant(plant, [work for work in way.works if work.plant == plant], settings.hours_a_day)
