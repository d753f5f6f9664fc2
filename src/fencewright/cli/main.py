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
    whole: Annotated[
        bool,
        typer.Option(
            "--all", help="Price, programme and papers too, in one set; what cannot be made is said."
        ),
    ] = False,
) -> None:
    """Design a job and write posts, order, rolls, drawings and maps under one folder."""
    from fencewright.cli.design import design_job, design_whole

    raise typer.Exit(design_whole(job, out) if whole else design_job(job, out))


@app.command()
def why(
    job: JobArgument,
    id: Annotated[  # noqa: A002  # the tables and sheets call it `id` too
        str,
        typer.Argument(
            metavar="ID",
            help="P17 a post, P17-2 its second rail mark, B3 a brace, R1-2 a pull, C4 a roll, a gate or crossing by "
            "name, a line of the order by id, a sum (posts, fence length, bags, ...), price:ID, programme:ID.",
            show_default=False,
        ),
    ],
) -> None:
    """Print how a number came about: of the design, its price or its programme; write nothing."""
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
def price(
    job: Annotated[
        Path | None,
        typer.Argument(metavar="[JOB.toml]", help="The job file; none with --rough.", show_default=False),
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="DIR", help="Folder for the price.", show_default=False)
    ] = None,
    rough: Annotated[
        bool,
        typer.Option(
            "--rough", help="A range from a telephone call, printed; the options below tell the fence."
        ),
    ] = False,
    length: Annotated[
        list[str] | None,
        typer.Option(
            "--length",
            help='Of a line, gates included: "1200 ft". Repeat it for more lines.',
            show_default=False,
        ),
    ] = None,
    corners: Annotated[
        int | None, typer.Option("--corners", help="Of all lines together.", show_default=False)
    ] = None,
    gates: Annotated[int | None, typer.Option("--gates", help="How many.", show_default=False)] = None,
    gate_width: Annotated[str, typer.Option("--gate-width", help='Between post faces: "12 ft".')] = "",
    strands: Annotated[
        int | None, typer.Option("--strands", help="How many rails.", show_default=False)
    ] = None,
    rail: Annotated[str, typer.Option("--rail", help='Catalogue row: "polymer rail", "coated wire".')] = "",
    closed: Annotated[
        bool | None,
        typer.Option("--closed/--open", help="Whether a line comes back to its start.", show_default=False),
    ] = None,
    ground: Annotated[str, typer.Option("--ground", help="flat, rolling or hilly.")] = "",
    soil: Annotated[str, typer.Option("--soil", help='"sand", "clay", ...')] = "",
    frost: Annotated[str, typer.Option("--frost", help='How deep it freezes: "42 in".')] = "",
    within: Annotated[str, typer.Option("--within", help='How well the length is known: "5 %".')] = "",
    terms: Annotated[
        list[str] | None,
        typer.Option(
            "--term", help='A key of the job\'s [price]: "overhead=12 %". Repeat it.', show_default=False
        ),
    ] = None,
    book: Annotated[str, typer.Option("--book", metavar="FILE", help="Price book of a rough price.")] = "",
    sheets: Annotated[str, typer.Option("--units", help="us or metric, of a rough price.")] = "us",
) -> None:
    """Price a job by its price book, with the alternatives that it names, and write it; or give a rough range.

    Writes price.json, price.csv, estimate.xlsx and risk.svg.
    """
    from fencewright.cli.rough import asked_of, price_roughly, refuse_mixture

    refuse_mixture(job, out, rough=rough, has_words=bool(length or book))
    if job is not None and out is not None:
        from fencewright.cli.price import price_job

        raise typer.Exit(price_job(job, out))
    said = (corners, gates, strands, closed)
    words = {
        "gate_width": gate_width,
        "rail": rail,
        "ground": ground,
        "soil": soil,
        "frost": frost,
        "within": within,
    }
    raise typer.Exit(price_roughly(asked_of(length or [], said, words, terms or [], sheets), book))


@app.command()
def paper(
    job: JobArgument,
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder for the papers.", show_default=False)
    ],
) -> None:
    """Write the papers of a job as PDF: quote, field pack and hand-over, and the upkeep as a calendar."""
    from fencewright.cli.paper import write_papers

    raise typer.Exit(write_papers(job, out))


@app.command()
def programme(
    job: JobArgument,
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder for the programme.", show_default=False)
    ],
) -> None:
    """Plan the works of a job: who does what on which day, with which plant, and when goods must be there."""
    from fencewright.cli.programme import write_programme

    raise typer.Exit(write_programme(job, out))


@app.command()
def demo(
    out: Annotated[Path, typer.Option("--out", metavar="DIR", help="Folder for every output.")] = Path(
        "out/demo"
    ),
) -> None:
    """Design the invented rolling pasture: two paddocks, a lane, a stream, a swale, a crest, a water line."""
    from fencewright.cli.design import design_demo

    raise typer.Exit(design_demo(out))


@app.command()
def serve(
    job: Annotated[
        Path | None,
        typer.Argument(metavar="[JOB.toml]", help="A job to take in and open.", show_default=False),
    ] = None,
    port: Annotated[
        int | None, typer.Option("--port", help="Left out: the first free one from 8420 on.")
    ] = None,
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open the page in the browser.")
    ] = True,
    store: Annotated[
        str | None,
        typer.Option(
            "--store",
            metavar="URL",
            help="Where jobs are kept: a file, or postgresql+psycopg://user@host/name; left out: in the user's data folder.",
        ),
    ] = None,
    host: Annotated[
        str, typer.Option("--host", metavar="ADDRESS", help="Beyond this machine a token is asked for.")
    ] = "127.0.0.1",
) -> None:
    """Serve the page on this machine: draw a fence in the browser and see what follows."""
    from fencewright.cli.serve import serve as serve_page

    serve_page(job, port, browser=browser, store=store, host=host)


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
