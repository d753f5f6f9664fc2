"""Why a wait of the programme is as long as it is: the locating notice, concrete, paint, ends that stand."""

import numpy as np

from fencewright.job.programme_settings import CureRules, ProgrammeSettings
from fencewright.mechanics.concrete_strength import ORDINARY, age_for_share
from fencewright.pipeline.record import Design
from fencewright.pipeline.why_origin import asked, computed, practice, source_of
from fencewright.pipeline.why_record import Reason
from fencewright.programme.activities import CURE, CURE_LINE, DRY, NOTICE, STAND
from fencewright.programme.curing import day_temperatures_c
from fencewright.tables.programme import Programme

_DAY_H = 24.0


def wait_reasons(design: Design, settings: ProgrammeSettings, programme: Programme, row: int) -> list[Reason]:
    """Say how long a wait is, and what it depends on."""
    kind = programme.activities.kind[row]
    long_h = float(programme.activities.finish_h[row] - programme.activities.start_h[row])
    job = design.job
    if kind in (CURE, CURE_LINE):
        return _cure(design, settings.cure, programme, row)
    if kind == NOTICE:
        return [_notice(design, settings, programme, long_h)]
    if kind in (STAND, DRY):
        default, value, what = {
            STAND: ("programme.stand", settings.shares.stand_h, "ends stand before they are strung from"),
            DRY: ("programme.paint_dry", settings.shares.dry_h, "paint dries"),
        }[kind]
        told = practice(job, default, ("d", what), value, "h")
        source = job.catalogue.practice[default].source
        says = "over all hours, nights too"
        return [Reason("wait", says, (told,), "as practice has it", "t = d", long_h, "h", source)]
    stated = settings.private_services or "not stated"
    told = computed("p", "private services", stated, "", "[programme] private_services")
    says = "nobody digs until they are marked, or known to be none"
    return [Reason("wait", says, (told,), "as the job says", "", long_h, "h")]


def _notice(design: Design, settings: ProgrammeSettings, programme: Programme, long_h: float) -> Reason:
    job = design.job
    what = ("n", "full days of the locating service after the call, Monday to Friday")
    told = asked(job, "programme.notice", "programme.notice", what, float(settings.notice), "1")
    return Reason(
        "wait",
        f"nobody digs before {programme.day_text(programme.ticket.dig_day)}",
        (told,),
        "from the call until so many full days of the service have passed",
        "",
        long_h,
        "h",
        source_of(job, "programme.notice", "programme.notice"),
        "ask the service of the place: [programme] notice",
    )


def _cure(design: Design, rules: CureRules, programme: Programme, row: int) -> list[Reason]:
    """Age that the strength asks for, and how long the days' temperatures take to give it."""
    job, cure, table = design.job, programme.cure, programme.activities
    age_h = _DAY_H * float(age_for_share(cure.share))
    start_h, finish_h = float(table.start_h[row]), float(table.finish_h[row])
    above_c = _above_datum_c(rules, programme, start_h, finish_h)
    share = computed(
        "f",
        f"share of the 28-day strength; {cure.why}",
        cure.share,
        "%",
        "[programme] concrete_share, practice, or the strength stage",
    )
    age = Reason(
        "age at the reference temperature",
        "how old moist concrete is when it has that share",
        (
            share,
            computed("a", "constant of the strength curve, in hours", ORDINARY[0] * _DAY_H, "h", "aci-209"),
            computed("b", "constant of the strength curve", ORDINARY[1], "1", "aci-209"),
        ),
        "the strength curve, turned round",
        "A = a f / (1 - b f)",
        age_h,
        "h",
        "aci-209",
        "a smaller [programme] concrete_share, where the engineer accepts it",
        "strength with time",
    )
    is_told = bool(rules.day_c or rules.month_c)
    wait = Reason(
        "wait",
        cure.how,
        (
            computed("A", "age at the reference temperature", age_h, "h"),
            practice(
                job, "programme.maturity_reference", ("T_r", "reference temperature"), rules.reference_c, "C"
            ),
            practice(
                job, "programme.maturity_datum", ("T_0", "below which it gains nothing"), rules.datum_c, "C"
            ),
            computed(
                "D",
                "degrees above that, on average over the wait",
                above_c,
                "K",
                "stated in the job, [programme] temperatures"
                if is_told
                else "none stated: the reference temperature",
            ),
        ),
        "the age, longer where the days are colder than the reference",
        "t = A (T_r - T_0) / D",
        finish_h - start_h,
        "h",
        "nurse-saul",
        "warmer days, or concrete that is kept warm",
        "maturity",
    )
    return [age, wait]


def _above_datum_c(rules: CureRules, programme: Programme, start_h: float, finish_h: float) -> float:
    """Mean of the days' temperatures above the datum, between two hours. [K]"""
    days = int(np.ceil(finish_h / _DAY_H)) + 1
    temperature = day_temperatures_c(rules, programme.start_date, days)
    above = np.where(
        np.isnan(temperature), rules.reference_c - rules.datum_c, np.maximum(temperature - rules.datum_c, 0.0)
    )
    edges = _DAY_H * np.arange(days + 1)
    hours = np.clip(np.minimum(edges[1:], finish_h) - np.maximum(edges[:-1], start_h), 0.0, None)
    return float((above * hours).sum() / max(hours.sum(), 1e-9))
