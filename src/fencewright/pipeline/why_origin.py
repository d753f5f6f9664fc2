"""Where a number of a job comes from: the job, a trade default with its source, the catalogue, or computed."""

from fencewright.job.record import Job
from fencewright.pipeline.why_record import Input, Value
from fencewright.sources import all_sources

COMPUTED = "computed"


def asked(job: Job, key: str, default: str, what: tuple[str, str], value: Value, unit: str = "m") -> Input:
    """Name an input that a job may state.

    Parameters
    ----------
    job : Job
        The job.
    key : str
        `table.key` of the job file, as `holes.end_depth`.
    default : str
        Name of the trade default that stands in for it; empty where the value is chosen, not read from a row.
    what : tuple of str
        Symbol, name.
    value, unit
        The value that the design used, in SI.
    """
    table, name = key.split(".")
    if getattr(getattr(job.asked, table), name) is not None:
        return Input(*what, value, unit, f"stated in the job, [{table}] {name}")
    return Input(*what, value, unit, default_origin(job, default))


def practice(job: Job, default: str, what: tuple[str, str], value: Value, unit: str = "m") -> Input:
    """Name an input that is a trade default always."""
    return Input(*what, value, unit, default_origin(job, default))


def computed(symbol: str, name: str, value: Value, unit: str = "m", origin: str = COMPUTED) -> Input:
    """Name an input that an earlier step gave."""
    return Input(symbol, name, value, unit, origin)


def default_origin(job: Job, default: str) -> str:
    """Say where a trade default is from."""
    row = job.catalogue.practice[default]
    if row.source == "practice":
        return f"trade default {default}, {row.why} ({row.read})"
    return f"trade default {default}, {row.why} ({row.read}; {title_of(row.source)} [{row.source}])"


def title_of(key: str) -> str:
    """Title of a source."""
    return all_sources()[key].title if key in all_sources() else key


def source_of(job: Job, key: str, default: str) -> str:
    """Register key behind a value: that of the trade default, or none where the job states it."""
    table, name = key.split(".")
    is_stated = getattr(getattr(job.asked, table), name) is not None
    return "" if is_stated else job.catalogue.practice[default].source


def ground_origin(job: Job) -> str:
    """Say where an elevation is from."""
    return f"ground: {job.site.ground.source}"


def pull_limit(job: Job) -> Input:
    """Name the longest pull."""
    value = job.settings.layout.pull_length_limit_m
    return asked(job, "fence.pull_length_limit", "layout.pull_length_limit", ("L_max", "longest pull"), value)


def friction(job: Job) -> Input:
    """Name the friction of a rail that is worked round its posts."""
    what, value = ("mu", "friction, rail worked round its posts"), job.settings.layout.friction_worked
    return asked(job, "fence.friction", "layout.friction_worked", what, value, "1")


def least_share(job: Job) -> Input:
    """Name the share of the pull that must reach the far end."""
    what, value = ("q", "least share that must reach the far end"), job.settings.layout.far_end_share
    return asked(job, "fence.far_end_share", "layout.far_end_share", what, value, "1")


def brace_diameter(job: Job) -> Input:
    """Name the braces' diameter: as stated, as practice has it, or as the greatest pull asked for."""
    what, value = ("D_b", "its diameter"), job.settings.brace.diameter_m
    usual = job.catalogue.practice["brace.diameter"]
    if job.asked.brace.diameter is None and value != usual.value:
        origin = (
            f"computed: the thinnest stock that passes at the greatest pull; practice has {usual.written}"
        )
        return computed(*what, value, "m", origin)
    return asked(job, "brace.diameter", "brace.diameter", what, value)


def doubling(job: Job) -> str:
    """Say whether half an inch of motion at grade doubles what the soil holds sideways, and who accepted it."""
    if not job.settings.strength.ground.is_half_inch:
        return "not doubled: half an inch of motion at grade is not accepted, [strength] half_inch"
    if job.asked.strength.half_inch is None:
        return "doubled: half an inch of motion at grade is assumed to do no harm, the job does not say"
    return "doubled: half an inch of motion at grade is accepted, [strength] half_inch"
