"""The command programme: a design's programme of works."""

from pathlib import Path

from fencewright.cli.design import Progress, exit_code
from fencewright.cli.report import findings_text
from fencewright.desk.programme_writing import programme_outputs
from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.desk.writing import write_beside
from fencewright.tables.programme import Programme


def write_programme(path: Path, out: Path) -> int:
    """Design a job, plan its works and write the programme; 0 or 1 as its exit code."""
    progress = Progress()
    made = design(read_job(path), progress)
    planned = programme(made)
    progress("programme")
    write_beside(made, programme_outputs(made, planned), out)
    print(findings_text(planned.findings, made.job.asked.job.sheets))
    print(programme_text(planned))
    print(f"Written to {out}/ (start with programme.svg, deliveries.csv).")
    code = max(exit_code(made.findings), exit_code(planned.findings))
    if code:
        stopped = [("design", made.findings), ("programme", planned.findings)]
        whose = " and of ".join(f"the {name}" for name, found in stopped if exit_code(found))
        print(f"NOT TO START: mend the stops of {whose} first.")
    return code


def programme_text(planned: Programme) -> str:
    """Totals of a programme as text."""
    table, day = planned.activities, planned.day_text
    critical = [
        table.name[row].partition(", stretch ")[0] for row in range(len(table)) if table.is_critical[row]
    ]
    path = "; ".join(dict.fromkeys(critical))
    worked = int(sum(bool(rows) for rows in planned.days.active))
    rows = [
        ("Works", f"{len(table)} activities from {day(0)} to the hand-over on {day(planned.finish_day)}"),
        ("Days", f"{worked} on which somebody works"),
        ("Critical", path),
        (
            "Ticket",
            f"dig from {day(planned.ticket.dig_day)}; it runs out on {day(planned.ticket.expires_day)}",
        ),
    ]
    rows += [("Rests on" if not number else "", text) for number, text in enumerate(planned.basis)]
    return "\n".join(f"{name + ':' if name else '':10}{text}" for name, text in rows)
