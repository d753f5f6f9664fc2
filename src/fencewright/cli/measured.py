"""The command measured: what a push or a pluck says of a rail's tension."""

from pathlib import Path

from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.findings import InputError
from fencewright.findings.cautions import STRENGTH_CAUTIONS
from fencewright.pipeline.measuring import Judged, Measurement, judge
from fencewright.quantity.parse import QuantityError, parse_quantity
from fencewright.quantity.show import UnitSystem
from fencewright.tension.measured import EASE_OFF, LEAVE, PULL_MORE, Beats, Push

_UNSURE = {
    PULL_MORE: "the reading is too rough to be sure: measure again, or count beats, before much is pulled",
    LEAVE: "the reading is too rough to be sure: measure again, or count beats, which tell more than a push",
    EASE_OFF: "the reading is too rough to be sure: measure again, or count beats, before much is let off",
}


def judge_reading(
    path: Path, pull: str, post: str, temperature: str, push: str, deflection: str, beats: float | None
) -> int:
    """Print what a measurement says; 0 as exit code.

    Raises
    ------
    InputError
        A quantity without its unit, no reading or two, and whatever `judge` refuses.
    """
    warm = _read(temperature, "temperature", "--temperature")
    reading = _reading(push, deflection, beats)
    made = design(read_job(path))
    judged = judge(made, Measurement(pull, post, warm, reading))
    print(verdict_text(judged, pull, made.job.asked.job.sheets))
    return 0


def _read(text: str, kind: str, item: str) -> float:
    try:
        return parse_quantity(text, kind)
    except QuantityError as error:
        raise InputError(str(error), item=item) from error


def _reading(push: str, deflection: str, beats: float | None) -> Push | Beats:
    if beats is not None and not push and not deflection:
        return Beats(beats)
    if push and deflection and beats is None:
        return Push(_read(push, "force", "--push"), _read(deflection, "length", "--deflection"))
    raise InputError("give either --push with --deflection, or --beats", item="measured")


def verdict_text(judged: Judged, pull: str, sheets: str) -> str:
    """Write a verdict as text."""
    show, verdict = UnitSystem(sheets), judged.verdict
    wanted = verdict.wanted
    sure = "" if verdict.is_sure else f" for now; {_UNSURE[verdict.advice]}"
    return "\n".join([
        f"{pull}, between {judged.from_post} and {judged.to_post}: {verdict.advice}{sure}",
        f"  measured  {show.force(verdict.tension_n)}, between {show.force(verdict.low_n)} and "
        f"{show.force(verdict.high_n)} nineteen times in twenty",
        f"  belongs   {show.force(wanted.tension_n)} in this span today; window {show.force(wanted.low_n)} to "
        f"{show.force(wanted.high_n)}",
        *STRENGTH_CAUTIONS,
    ])  # fmt: skip
