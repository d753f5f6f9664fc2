"""The commands paper and design --all: one whole set, what is left out is said, exit codes of the design."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from fencewright.store.files import check_manifest

Cli = Callable[..., tuple[int, str, str]]
ROOT = Path(__file__).parents[2]
TERMS = '\n[price]\nbook = "prices.toml"\n'
START = '\n[programme]\nstart = "2026-04-06"\nprivate_services = "none"\n'
ON_LINE = '["40 ft", "0 ft"]'  # of the small job's first side
PAPERS = {"quote.pdf", "field-pack.pdf", "hand-over.pdf"}


@pytest.fixture
def priced_job(small_job_text: str, tmp_path: Path) -> Callable[[str], Path]:
    """Writer of the small job without its price, a price book beside it; more text is added to the job."""

    def write(more: str = "") -> Path:
        book = (ROOT / "examples/small-paddock/prices.toml").read_text()
        (tmp_path / "prices.toml").write_text(book)
        path = tmp_path / "job.toml"
        path.write_text(small_job_text.partition("[price]")[0] + more)
        return path

    return write


def listed(folder: Path) -> set[str]:
    return {row["name"] for row in json.loads((folder / "manifest.json").read_text())["files"]}


def test_all_writes_one_whole_set(cli: Cli, priced_job: Callable[[str], Path], tmp_path: Path) -> None:
    out = tmp_path / "all"
    code, said, _ = cli("design", priced_job(TERMS + START), "--out", out, "--all")
    assert code == 0
    more = {
        "price.json",
        "estimate.xlsx",
        "programme.json",
        "programme.ics",
        "upkeep.ics",
        "design.json",
        "plan.svg",
    }
    assert PAPERS | more <= listed(out)
    assert check_manifest(out) == []
    assert "Left out" not in said
    digests = [
        json.loads((out / name).read_text())["design_digest"] for name in ("price.json", "programme.json")
    ]
    assert digests == [json.loads((out / "design.json").read_text())["digest"]] * 2


def test_without_all_it_is_the_design_alone(
    cli: Cli, priced_job: Callable[[str], Path], tmp_path: Path
) -> None:
    code, _, _ = cli("design", priced_job(TERMS + START), "--out", tmp_path / "plain")
    assert code == 0
    assert not listed(tmp_path / "plain") & (PAPERS | {"price.json", "programme.json"})


def test_what_lacks_its_input_is_left_out_and_said(
    cli: Cli, priced_job: Callable[[str], Path], tmp_path: Path
) -> None:
    out = tmp_path / "all"
    code, said, _ = cli("design", priced_job(""), "--out", out, "--all")
    assert code == 0
    assert "Left out: the price and quote.pdf: the job names no price book" in said
    assert "Left out: programme.ics: the job states no first day" in said
    assert "Left out: upkeep.ics" in said
    assert not listed(out) & {"quote.pdf", "price.json", "programme.ics", "upkeep.ics"}
    assert {"field-pack.pdf", "hand-over.pdf", "programme.json"} <= listed(out)


def test_the_exit_code_is_the_designs(cli: Cli, priced_job: Callable[[str], Path], tmp_path: Path) -> None:
    code, said, _ = cli("design", priced_job(TERMS), "--out", tmp_path / "a", "--all")
    assert (code, "NOT TO START" in said) == (
        0,
        True,
    )  # nobody has asked about private services: no stop of the design
    stopped = priced_job(TERMS + START + '[posts]\nline_lengths = ["7 ft"]\n')
    code, said, _ = cli("design", stopped, "--out", tmp_path / "b", "--all")
    assert (code, "NOT TO BE BUILT" in said) == (1, True)
    assert listed(tmp_path / "b") >= PAPERS


@pytest.mark.parametrize("command", [("paper",), ("design", "--all")])
@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('\n[price]\nbook = "none.toml"\n', "none.toml"),
        ('\n[price]\nbook = "prices.toml"\nmargin = "-3 %"\n', "margin"),
        ('\n[paper]\nlogo = "logo.png"\n', "not a picture"),
        ('\n[paper]\nhand_over = "soon"\n', "hand_over"),
        ('\n[paper]\nhand_over = "9999-12-31"\n', "between 1970 and 2200"),
        ('\n[programme]\nstart = "2026-04-06"\nwork_days = []\n', "day"),
        ('\n[paper]\nlogo = "huge.png"\n', "at most 5 MB"),
        ('\n[price]\nbook = "prices.toml"\ncurrency = "ZZQ"\n', "no currency"),
        ('\n[price]\nbook = "text.csv"\n', "no price"),
        ('\n[price]\nbook = "twice.csv"\n', "two prices"),
        (f'\n[[reference]]\nname = "a post"\nat = {ON_LINE}\n', "stands on line"),
    ],
)
def test_bad_input_is_one_sentence_and_writes_nothing(
    cli: Cli,
    priced_job: Callable[[str], Path],
    tmp_path: Path,
    command: tuple[str, ...],
    more: str,
    words: str,
) -> None:
    (tmp_path / "logo.png").write_bytes(b"no picture")
    with (tmp_path / "huge.png").open("wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n")
        file.truncate(50_000_000)
    for name, rows in (("text", "brace bolt,piece,ask"), ("twice", "brace bolt,piece,3\nbrace bolt,piece,4")):
        (tmp_path / f"{name}.csv").write_text(f"item,unit,price\n{rows}\n")
    code, _, err = cli(command[0], priced_job(more), "--out", tmp_path / "out", *command[1:])
    assert code == 2
    assert words in err
    assert len([one for one in err.splitlines() if not one.endswith(" done")]) == 1
    assert not (tmp_path / "out").exists()


def test_a_name_may_be_anything_and_is_text_everywhere(
    cli: Cli, priced_job: Callable[[str], Path], tmp_path: Path
) -> None:
    job = priced_job(TERMS + START)
    name = "=1+1 <script>x</script> #strong[y] $z$ " + chr(0x1F40E)
    name += "w" * (300 - len(name))
    text = job.read_text()
    head = next(one for one in text.splitlines() if one.startswith("name = "))
    job.write_text(text.replace(head, f"name = '{name}'", 1))
    code, _, _ = cli("design", job, "--out", tmp_path / "all", "--all")
    assert code == 0
    for path in (tmp_path / "all").iterdir():
        if path.suffix == ".svg":
            assert "<script" not in path.read_text("utf-8")
        if path.suffix == ".csv":
            assert not [one for one in path.read_text("utf-8").splitlines() if one.startswith("=")]
        if path.suffix == ".xlsx":
            for sheet in load_workbook(path):
                cells = [cell for row in sheet.iter_rows() for cell in row if name[:20] in str(cell.value)]
                assert all(cell.data_type == "s" for cell in cells)
    for pdf in PAPERS:
        assert "<script>" in str(PdfReader(tmp_path / "all" / pdf).metadata)


def test_paper_writes_every_paper(cli: Cli, priced_job: Callable[[str], Path], tmp_path: Path) -> None:
    code, said, _ = cli("paper", priced_job(TERMS + START), "--out", tmp_path / "papers")
    assert code == 0
    assert listed(tmp_path / "papers") == PAPERS | {"upkeep.ics"}
    for name in PAPERS:
        assert name in said
        assert (tmp_path / "papers" / name).read_bytes().startswith(b"%PDF-")


def test_an_incomplete_quote_is_said(cli: Cli, priced_job: Callable[[str], Path], tmp_path: Path) -> None:
    job = priced_job(TERMS)
    book = tmp_path / "prices.toml"
    book.write_text("\n".join(line for line in book.read_text().splitlines() if "brace bolt" not in line))
    code, said, _ = cli("paper", job, "--out", tmp_path / "papers")
    assert code == 0
    assert "quote.pdf is incomplete and says so: 1 line has no price." in said
