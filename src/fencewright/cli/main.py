"""The `fencewright` command: new, check, design, why, demo.

Exit codes: 0 may be built; 1 a design with a `stop` finding, not to be built; 2 no design possible, nothing
written; 3 a fault of the program or of the disk.
"""

import gc
import sys
from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(
    name="fencewright",
    help=(
        "From a site to a buildable, orderable tensioned fence.\n\n"
        "Start with `fencewright new paddock`, fill in paddock/job.toml, look with `fencewright check paddock/job.toml`, "
        "and write everything with `fencewright design paddock/job.toml --out paddock/fence`.\n\n"
        "Exit codes: 0 may be built; 1 a design that is not to be built; 2 no design possible, nothing written; "
        "3 a fault of the program or of the disk."
    ),
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)

JobArgument = Annotated[Path, typer.Argument(metavar="JOB.toml", help="The job file.", show_default=False)]


def _version(wanted: bool) -> None:
    if wanted:
        from fencewright import __version__

        print(f"fencewright {__version__}")
        raise typer.Exit


@app.callback()
def root(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """Design a tensioned fence."""


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder to make.", show_default=False)],
) -> None:
    """Start a job: a folder with a commented job.toml, ready to run, and its schema for editors."""
    from fencewright.cli.new import start_job

    print(start_job(folder))


@app.command()
def check(job: JobArgument) -> None:
    """Print the findings of a job and write nothing."""
    from fencewright.cli.design import check_job

    raise typer.Exit(check_job(job))


@app.command()
def design(
    job: JobArgument,
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder for every output.", show_default=False)
    ],
) -> None:
    """Design a job and write posts, order, rolls, drawings and maps under one folder."""
    from fencewright.cli.design import design_job

    raise typer.Exit(design_job(job, out))


@app.command()
def why(
    job: JobArgument,
    id: Annotated[  # noqa: A002  # the tables and sheets call it `id` too
        str,
        typer.Argument(
            metavar="ID",
            help="P17 a post, B3 a brace, R1-2 a pull, or the name of a gate or crossing.",
            show_default=False,
        ),
    ],
) -> None:
    """Print how each number of a post, brace, pull or gate came about; write nothing."""
    from fencewright.cli.why import why_job

    raise typer.Exit(why_job(job, id))


@app.command()
def measured(
    job: JobArgument,
    pull: Annotated[str, typer.Argument(metavar="PULL", help="The pull, such as R1-2.", show_default=False)],
    temperature: Annotated[
        str, typer.Option("--temperature", help='Of the rail: "68 F" or "20 C".', show_default=False)
    ],
    post: Annotated[
        str, typer.Option("--post", help="Post before the span; left out: the tensioner's span.")
    ] = "",
    push: Annotated[str, typer.Option("--push", help='At mid-span: "10 lbf" or "45 N".')] = "",
    deflection: Annotated[str, typer.Option("--deflection", help='That it gave: "1.5 in" or "38 mm".')] = "",
    beats: Annotated[
        float | None, typer.Option("--beats", help="Swings there and back in a minute, of the plucked rail.")
    ] = None,
) -> None:
    """Judge a rail by a push or by its beats: tension, its uncertainty, and pull more, leave, or ease off."""
    from fencewright.cli.measured import judge_reading

    raise typer.Exit(judge_reading(job, pull, post, temperature, push, deflection, beats))


@app.command()
def demo(
    out: Annotated[Path, typer.Option("--out", metavar="DIR", help="Folder for every output.")] = Path(
        "out/demo"
    ),
) -> None:
    """Design the invented rolling pasture: two paddocks, a lane, a stream, a swale, a crest, a water line."""
    from fencewright.cli.design import demo_job, design_job

    raise typer.Exit(design_job(demo_job(), out))


def run() -> None:
    """Run the command line; every error becomes one sentence and an exit code."""
    from fencewright.findings import InputError, InternalFault

    gc.set_threshold(200_000, 50, 50)  # a short run that builds much and drops little: look for cycles seldom
    try:
        app()
    except InputError as error:
        print(f"fencewright: {error}", file=sys.stderr)
        sys.exit(2)
    except InternalFault as error:
        print(f"fencewright: {error}", file=sys.stderr)
        sys.exit(3)
    except BrokenPipeError:
        sys.exit(0)
    except KeyboardInterrupt:
        print("fencewright: stopped; nothing was written", file=sys.stderr)
        sys.exit(3)
    except Exception as error:
        print(
            f"fencewright: a fault of the program ({type(error).__name__}: {error}); nothing was written. "
            "Please report it with the job file.",
            file=sys.stderr,
        )
        sys.exit(3)
