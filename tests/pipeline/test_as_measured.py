"""What was measured stands beside the design's own value, in tolerance or out; what makes no sense is one sentence."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.findings import InputError
from fencewright.pipeline.measuring import pull_row, wanted_tension
from fencewright.pipeline.record import Design
from fencewright.takeoff.pieces import span_vectors

Made = Callable[[str], Design]
INCH = 0.0254


def row(text: str, *pairs: str) -> str:
    return text + "[[measured]]\n" + "\n".join(pairs) + "\n"


def at_post(text: str, what: str, value: str, at: str = "200 ft", more: str = "") -> str:
    return row(text, 'line = "paddock"', f'at = "{at}"', f'what = "{what}"', f'value = "{value}"', more)


def codes(made: Design) -> list[str]:
    return [one.code for one in made.findings]


def test_a_job_without_measurements_has_none(made: Made, small_job_text: str) -> None:
    assert not len(made(small_job_text).measured)


@pytest.mark.parametrize(
    ("what", "good", "bad"),
    [
        ("top", "54 1/4 in", "54 3/8 in"),
        ("depth", "60 ft", "47 in"),
        ("post_offset", "-1/8 in", "1/4 in"),
        ("gap", "13 in", "14 in"),
        ("string", "0.5 in", "-0.75 in"),
        ("plumb", "1 1/4 in", "0.5 in"),
    ],
)
def test_each_kind_has_its_tolerance(made: Made, small_job_text: str, what: str, good: str, bad: str) -> None:
    """The corner at 200 ft carries a diagonal brace, so its top is set an inch away from the pull."""
    fits, off = (made(at_post(small_job_text, what, value)) for value in (good, bad))
    assert fits.measured.is_in.tolist() == [True]
    assert "measured-out" not in codes(fits)
    assert off.measured.is_in.tolist() == [False]
    assert codes(off).count("measured-out") == 1
    assert off.measured.says[0]
    assert off.measured.difference[0] == pytest.approx(off.measured.measured[0] - off.measured.designed[0])
    assert off.may_be_built


def test_spacing_is_level_from_the_post_before(made: Made, small_job_text: str) -> None:
    plain = made(small_job_text)
    posts = plain.layout.posts
    at = float(posts.station_m[5])
    step = float(np.hypot(posts.x_m[5] - posts.x_m[4], posts.y_m[5] - posts.y_m[4]))
    text = at_post(small_job_text, "spacing", f"{step + 0.04} m", f"{at} m")
    assert made(text).measured.designed[0] == pytest.approx(step)
    assert made(text).measured.is_in[0]
    assert not made(at_post(small_job_text, "spacing", f"{step + 0.06} m", f"{at} m")).measured.is_in[0]


def test_a_post_is_found_by_its_name_with_a_caution(made: Made, small_job_text: str) -> None:
    named = row(small_job_text, 'post = "P18"', 'what = "top"', 'value = "54 in"')
    assert codes(made(named)).count("measured-by-name") == 1
    sure = row(small_job_text, 'post = "P18"', 'revision = "1"', 'what = "top"', 'value = "54 in"')
    found = made(sure)
    assert "measured-by-name" not in codes(found)
    assert found.measured.post_index.tolist() == [17]


def test_who_and_when_are_kept(made: Made, small_job_text: str) -> None:
    found = made(at_post(small_job_text, "top", "54 in", more='by = "J"\nwhen = 2026-05-31')).measured
    assert (found.by[0], found.when[0]) == ("J", "2026-05-31")
    assert (
        made(at_post(small_job_text, "top", "54 in", more='when = "2026-05-31"')).measured.when[0]
        == "2026-05-31"
    )


def test_a_rail_is_compared_with_its_window(made: Made, small_job_text: str) -> None:
    plain = made(small_job_text)
    wanted = wanted_tension(plain, pull_row(plain, "R1-1"), "", 20.0)
    for factor, says in ((1.0, ""), (0.05, "Pull more."), (20.0, "Ease off.")):
        value = f'value = "{wanted.tension_n * factor} N"'
        found = made(
            row(small_job_text, 'pull = "R1-1"', 'what = "tension"', value, 'temperature = "20 C"')
        ).measured
        assert found.says[0] == says
        assert found.is_in[0] == (not says)
        assert found.designed[0] == pytest.approx(wanted.tension_n)


def test_beats_are_judged_as_the_command_judges_them(made: Made, small_job_text: str) -> None:
    plain = made(small_job_text)
    wanted = wanted_tension(plain, 0, "", 20.0)
    mass = float(plain.rail_models.weight_n_m[0]) / 9.80665
    along_rail = span_vectors(plain.layout, plain.top_line.top_m)
    run = int(plain.pulls.run_index[0])
    first = int(plain.layout.runs.from_span[run])
    last = int(plain.layout.runs.to_span[run]) - 1
    span = first if plain.tension.tensioner_post[0] == plain.pulls.from_post[0] else last
    # a string of length L and mass m a metre beats sqrt(T / m) / 2L times a second
    beats = 60 * (wanted.tension_n / mass) ** 0.5 / (2 * float(np.linalg.norm(along_rail[span])))
    text = row(
        small_job_text, 'pull = "R1-1"', 'what = "beats"', f"value = {beats:.3f}", 'temperature = "20 C"'
    )
    found = made(text).measured
    assert found.is_in[0]
    assert found.measured[0] == pytest.approx(wanted.tension_n, rel=1e-4)


@pytest.mark.parametrize(
    ("pairs", "says"),
    [
        (('post = "P99"', 'what = "top"', 'value = "54 in"'), "there is no post 'P99'"),
        (('post = "Q1"', 'what = "top"', 'value = "54 in"'), "there is no post 'Q1'"),
        (('line = "paddok"', 'at = "0 ft"', 'what = "top"', 'value = "54 in"'), 'there is no line "paddok"'),
        (('line = "paddock"', 'at = "6 ft"', 'what = "top"', 'value = "54 in"'), "no post stands at 6.0 ft"),
        (('what = "top"', 'value = "54 in"'), "it names no post"),
        (('pull = "R1-1"', 'what = "tension"', 'value = "900 N"'), "needs the temperature"),
        (('pull = "R9-1"', 'what = "tension"', 'value = "900 N"', 'temperature = "20 C"'), "there is no pull R9-1"),
        (('post = "P1"', 'what = "tension"', 'value = "900 N"', 'temperature = "20 C"'), "give pull"),
        (('pull = "R1-1"', 'what = "top"', 'value = "54 in"'), "is measured at a post"),
        (('pull = "R1-1"', 'what = "beats"', "value = 0", 'temperature = "20 C"'), "beats must be more"),
    ],
)  # fmt: skip
def test_what_has_no_place_in_the_design_is_a_stop_and_the_fence_is_designed_all_the_same(
    made: Made, small_job_text: str, pairs: tuple[str, ...], says: str
) -> None:
    """A line may be deleted after its posts were measured: that must not take the design away."""
    text = at_post(row(small_job_text, *pairs), "top", "54 1/4 in")
    found = made(text)
    stop = next(one for one in found.findings if one.code == "measured-nowhere")
    assert (stop.level, stop.where.kind, stop.where.id) == ("stop", "measured", "1")
    assert says in stop.message
    assert "\n" not in stop.message
    assert not found.may_be_built
    assert found.measured.what == ("top",)
    assert len(made(row(small_job_text, *pairs)).measured) == 0


@pytest.mark.parametrize(
    ("pairs", "says"),
    [
        (('post = "P1"', 'what = "top"', 'value = "54 lbf"'), "is no length"),
        (('post = "P1"', 'what = "top"', "value = 54"), "has no unit"),
        (('pull = "R1-1"', 'what = "tension"', 'value = "54 in"', 'temperature = "20 C"'), "is no force"),
        (('post = "P1"', 'what = "girth"', 'value = "54 in"'), "'girth' is not one of"),
        (('post = "P1"', 'what = "top"', 'value = "54 in"', 'when = "31 May"'), "'31 May' is no day"),
        (('post = "P1"', 'what = "top"', 'value = "54 in"', 'when = "2026-02-30"'), "is no day"),
        (('post = "P1"', 'what = "top"', 'value = "5000 ft"'), "too large for top"),
        (('pull = "R1-1"', 'what = "beats"', "value = 1e9", 'temperature = "20 C"'), "too large for beats"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_one_sentence(
    made: Made, small_job_text: str, pairs: tuple[str, ...], says: str
) -> None:
    with pytest.raises(InputError, match="measured") as refused:
        made(row(small_job_text, *pairs))
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)
