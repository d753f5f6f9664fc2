"""From an edit to the whole answer, in a warm process: small paddock, demo, 5 km and 50 km on rolling ground.

Prints, for each stage that is told, the time from the edit (its text changed, read, designed, made into columns, the
change found and written as JSON); median and 95th percentile of some edits that each move one corner and back. Times
are those of a processor, so that what else runs here does not count; --wall for those of the clock.
"""

import math
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from pydantic_core import to_json

from fencewright.desk.warm_reading import WarmReader
from fencewright.edits.applying import apply_edit
from fencewright.exchange.column_change import splice_of
from fencewright.exchange.live_tables import TOLD_AFTER, only_new, site_tables, stage_tables
from fencewright.pipeline.stages import stages

ROOT = Path(__file__).parents[1]
CELL_M = 10.0


def long_fence(folder: Path, length_m: float, cell_m: float = CELL_M) -> str:
    """Make a closed fence of a given length over invented hills: a corner each 200 m, a gate each 600 m."""
    corners = max(8, round(length_m / 200))
    turn = np.arange(corners) * 2 * math.pi / corners
    radius = length_m / (2 * math.pi) * (1 + 0.06 * (-1.0) ** np.arange(corners))
    scale = length_m / _around(radius * np.cos(turn), radius * np.sin(turn))
    x, y = radius * np.cos(turn) * scale, radius * np.sin(turn) * scale
    half = float(np.abs([x, y]).max()) + 100
    count = int(2 * half / cell_m) + 1
    at = -half + cell_m * np.arange(count)
    east, north = np.meshgrid(at, at[::-1])
    hills = 12 * np.sin(east / 170) * np.cos(north / 210) + 2 * np.sin(east / 47 + north / 61) + 300
    rows = "\n".join(" ".join(f"{one:.3f}" for one in row) for row in hills)
    head = f"ncols {count}\nnrows {count}\nxllcenter {-half}\nyllcenter {-half}\ncellsize {cell_m}\nNODATA_value -9999\n"
    (folder / "hills.asc").write_text(head + rows + "\n")
    points = ", ".join(f'["{a:.3f} m", "{b:.3f} m"]' for a, b in zip(x, y, strict=True))
    gates = "".join(
        f'[[gate]]\nname = "gate {n}"\nline = "around"\nat = "{at_m:.0f} m"\nopening = "4 m"\n'
        for n, at_m in enumerate(np.arange(90, length_m - 60, 600))
    )
    return (
        f'[job]\nname = "Long"\nsheets = "metric"\n[site]\ncrs = "local"\nground = "hills.asc"\nground_unit = "m"\n'
        f'ground_sd = "10 mm"\nfrost_depth = "900 mm"\nsoil = "sand"\ncoldest = "-25 C"\nhottest = "35 C"\n'
        f'[[line]]\nname = "around"\npoints = [{points}]\nclosed = true\n{gates}[fence]\nrails = 4\n'
    )


def _around(x: np.ndarray, y: np.ndarray) -> float:
    return float(np.hypot(np.diff(x, append=x[:1]), np.diff(y, append=y[:1])).sum())


def edits(text: str, folder: Path, line: str, count: int, whole: bool) -> dict[str, list[float]]:
    reader, told, times = WarmReader(), {}, {}
    job = reader.read(text, folder)
    points = next(one for one in job.site.lines if one.name == line).xy_m
    drawn = {one.name: one.xy_m.tolist() for one in job.site.lines}
    for number in range(count + 2):
        corner = (number * 3) % len(points)
        x, y = (points[corner] + (1.5 if number % 2 else 0.0)).tolist()
        begun = now()
        made = apply_edit(text, {"kind": "move_corner", "line": line, "corner": corner, "to": [x, y]}, drawn)
        job = reader.read(made.text, folder)
        gathered: dict = {}
        answered: dict = {}
        row = {"site, kB": tell(told, site_tables(job), answered), "site": now() - begun}
        for stage in stages(job):
            gathered |= stage.tables
            row[f"({stage.name})"] = now() - begun
            if stage.name in TOLD_AFTER:
                row[f"{stage.name}, kB"] = tell(told, stage_tables(stage.name, gathered, job), answered)
                row[stage.name] = now() - begun
            if stage.name == "pulls" and not whole:
                break
        for name, value in row.items() if number >= 2 else ():
            times.setdefault(name, []).append(value)
    return times


def now() -> float:
    """Time of this process on a processor, or by the wall with --wall, in ms."""
    return 1000 * (time.perf_counter() if "--wall" in sys.argv else time.process_time())


def tell(told: dict, content: tuple, answered: dict) -> float:
    """Find what changed since what was told before, and write it; gives its size in kB."""
    sent = {}
    for table, said in only_new(content[0], answered).items():
        for column, values in said["columns"].items():
            sent[f"{table}.{column}"] = splice_of(told.get((table, column), []), values)
            told[table, column] = values
    whole = [{name: splice for name, splice in sent.items() if splice}, content[1]]
    return len(to_json(whole, inf_nan_mode="null")) / 1000


def main() -> None:
    few = "--few" in sys.argv
    with tempfile.TemporaryDirectory() as home:
        cases = [("small paddock", ROOT / "examples/small-paddock", "paddock", 20, True)]
        cases.append(("demo", ROOT / "examples/rolling-pasture", "west", 12, True))
        for name, length_m, count in (("5 km", 5000.0, 20), ("50 km", 50000.0, 4)):
            folder = Path(home) / name.replace(" ", "")
            folder.mkdir()
            (folder / "job.toml").write_text(long_fence(folder, length_m))
            cases.append((name, folder, "around", 3 if few else count, length_m < 10_000 and not few))
        for name, folder, line, count, whole in cases:
            times = edits((folder / "job.toml").read_text(), folder, line, count, whole)
            print(f"{name}:")
            for stage, values in times.items():
                p95 = sorted(values)[math.ceil(0.95 * len(values)) - 1]
                print(f"  {stage:18} median {np.median(values):9.1f}   p95 {p95:9.1f}")


if __name__ == "__main__":
    main()
