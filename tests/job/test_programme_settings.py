"""`[programme]`: what it states, what is assumed aloud, what cannot be."""

import subprocess
import sys
from collections.abc import Callable

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.findings import InputError
from fencewright.job.filling import Filling
from fencewright.job.programme_settings import ProgrammeSettings, fill_programme
from fencewright.job.schema import JobFile

Parse = Callable[[str], JobFile]


def filled(asked: JobFile) -> tuple[ProgrammeSettings, set[str]]:
    settings, said = fill_programme(Filling(asked, shipped_catalogue()), None)
    return settings, {one.code for one in said}


def test_what_is_left_out_is_said(parsed: Parse) -> None:
    settings, codes = filled(parsed(""))
    assert codes == {"assumed-crew", "assumed-notice", "no-start", "cure-from-table"}
    assert settings.crew.people == ("crew 1", "crew 2")
    assert settings.calendar.work_days == (0, 1, 2, 3, 4)
    assert settings.private_services == ""


def test_what_is_stated_is_kept(parsed: Parse) -> None:
    months = ", ".join(f'"{degree} C"' for degree in range(12))
    settings, codes = filled(
        parsed(
            '[programme]\nstart = 2026-04-06\nnames = ["Ana", "Ben", "Cal"]\naugers = 2\nwork_days = ["sat", "mon"]\n'
            f'hours = "10 h"\nweather = "20 %"\nnotice = 2\nticket_life = "2 weeks"\ncountry = "CA"\nsubdivision = "ON"\n'
            f'latitude = 44.0\nmonth_temperatures = [{months}]\nprivate_services = "marked"\n'
        )
    )
    assert codes == set()
    assert settings.crew.people == ("Ana", "Ben", "Cal")
    assert settings.calendar.work_days == (0, 5)
    assert (settings.calendar.hours, settings.calendar.weather, settings.ticket_days) == (10.0, 0.2, 14)
    assert settings.cure.month_c[3] == 3.0


def test_a_job_s_own_rate(parsed: Parse) -> None:
    settings, _ = filled(parsed('[[rate]]\nwork = "stake out"\nper_hour = 40\nhands = 1\n'))
    assert (settings.works["stake out"].per_hour, settings.works["stake out"].hands) == (40.0, 1.0)


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("work_days = []", "no day of the week is a working day"),
        ('hours = "0 h"', "between half an hour and 24 hours"),
        ('hours = "10 h"\nbegins = "16 h"', "past midnight"),
        ('weather = "95 %"', "less than 90 %"),
        ('concrete_share = "120 %"', "at most 100 %"),
        ('month_temperatures = ["5 C"]\nstart = "2026-04-06"', "holds 1 of the twelve months"),
        ("month_temperatures = [" + ", ".join(['"5 C"'] * 12) + "]", "of no use without a date"),
        ('subdivision = "OH"', "programme, subdivision: a subdivision needs its country"),
        (
            'country = "Germany"',
            "programme, country: no holidays are known of country 'Germany': write its two letters",
        ),
        ('country = "ZZ"', "programme, country: no holidays are known of country 'ZZ'"),
        (
            'country = "US"\nsubdivision = "XX"',
            "programme, subdivision: US has no subdivision 'XX': write one such as AK",
        ),
        (
            'hours = "30 h"',
            "programme, hours: a working day has between half an hour and 24 hours: write it like 8 h",
        ),
        ('ticket_life = "0 days"', "at least one day"),
        ('start = "0999-04-06"', "between 1970 and 2200"),
        ('crew = 2\nnames = ["Ana"]', "1 names for a crew of 2"),
        ('names = ["Ana", "Ana"]', "the same name"),
    ],
)
def test_what_cannot_be(parsed: Parse, table: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        filled(parsed(f"[programme]\n{table}\n"))


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("crew = 0", "is too small: write 1 or more"),
        ('crew = "two"', "is no whole number"),
        ("crew = -3", "is too small: write 1 or more"),
        ("crew = true", "is no whole number"),
        ('start = "next Monday"', "is no date"),
        ('start = "2026-02-30"', "is no date"),
        ("start = 2026-04-06T08:00:00", "is a time"),
        ("start = 20260406", "is no date"),
        ('work_days = ["someday"]', "is not one of"),
        ('private_services = "perhaps"', "is not one of"),
        ("notice = 1.5", "is no whole number"),
        ("latitude = 95", "is too large: write 90 or less"),
        ('days_off = ["2026-13-01"]', "is no date"),
        ("start_date = 1", "did you mean `start`"),
    ],
)
def test_what_is_no_programme(parsed: Parse, table: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as error:
        parsed(f"[programme]\n{table}\n")
    assert "\n" not in str(error.value)


def test_a_country_is_read_without_the_package_that_knows_its_holidays() -> None:
    """It takes a third of a second to come, which every command on such a job would wait for."""
    program = (
        "import sys\n"
        "from fencewright.job.holiday_places import known_subdivision, refuse_unknown_country\n"
        "refuse_unknown_country('us')\n"
        "assert known_subdivision('CAN', 'on') == 'ON'\n"
        "assert 'holidays' not in sys.modules\n"
        "try:\n    known_subdivision('US', 'ON')\n"
        "except ValueError as error:\n    print(error)\n"
        "assert 'holidays' in sys.modules\n"
    )
    made = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert made.stdout.startswith("US has no subdivision 'ON': write one such as AK, AL,")
