"""The page in Chromium against a real server: from an edit to what is painted, first load, and panning.

Run it with `python bench/page.py [--few] [--no-long]`. Fences: the demo, and closed fences of 5, 50 and 100 km over
invented hills (`editing.long_fence`). The first load is that of a server that has started and designed the job once.
The edits go through the page's own session, which nobody saw coming: a corner moved, a top pinned; the same where it
had been tried, as while a hand drags; and by mouse and keys as a person makes them, which the server has designed by
then. Times are those of the clock in the page, to the frame after the answer was painted, and stand beside a plain run
of the same stages in one process, so that they can be read on a busy machine. Needs Chromium, playwright and the built page.
"""

import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import httpx
import numpy as np
from editing import long_fence
from playwright.sync_api import Browser, Page, sync_playwright

from fencewright.desk.warm_reading import WarmReader
from fencewright.pipeline.stages import stages

ROOT = Path(__file__).parents[1]
QUIET = ("--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-sandbox")
MOST_FRAME_MS, MOST_SCRIPT_KB, MOST_FIRST_MS, LEAST_FRAMES_S = 50, 200, 1000, 30
PLAIN_RUNS = 5
# Of so many edits one is made while frames are asked for without end, which takes time of its own.
GAPS_EVERY = 5
KEY_MS = 90  # from key to key
REACH_MS = 150  # from the last figure to Enter, from coming over a button to pressing it
RAISED = {"in": 0.5, "mm": 12.0}
PAUSE_MS = 250  # between one whole answer and the next edit: no hand is quicker

# Every answer that the page has taken is noted with the stages still to come, once the frame that shows it is painted.
NOTES = """
(() => {
    const seen = { answers: [], long: [], gaps: [] };
    globalThis.seen = seen;
    const mark = performance.mark.bind(performance);
    performance.mark = (name, options) => {
        const made = mark(name, options);
        if (name !== "fence-answer") return made;
        const note = { pending: pendingNow(), taken: performance.now(), painted: 0, elapsed: elapsedNow() };
        seen.answers.push(note);
        requestAnimationFrame(() => {
            const after = new MessageChannel();
            after.port1.onmessage = () => {
                note.painted = performance.now();
                dispatchEvent(new Event("bench-painted"));
            };
            after.port2.postMessage(0);
        });
        return made;
    };
    globalThis.viewNow = () => document.querySelector("fence-page")?.shadowRoot.querySelector("job-view");
    const pendingNow = () => viewNow()?.session?.answer.pending.length ?? -1;
    const elapsedNow = () => viewNow()?.session?.answer.elapsed_ms ?? 0;
    new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) seen.long.push([entry.startTime, entry.duration]);
    }).observe({ type: "longtask", buffered: true });
    let last = performance.now();
    const beat = (now) => {
        if (!seen.isBeating) return;
        seen.gaps.push([last, now - last]);
        last = now;
        requestAnimationFrame(beat);
    };
    seen.beat = (isBeating) => {
        seen.isBeating = isBeating;
        last = performance.now();
        if (isBeating) requestAnimationFrame(beat);
    };
})();
"""
EDIT = """
([edit, until]) => new Promise((done) => {
    seen.answers.length = seen.long.length = seen.gaps.length = 0;
    const begun = performance.now();
    void viewNow().session.edit(edit);
    const look = () => {
        const whole = seen.answers.some((each) => each.pending <= until && each.painted);
        if (!whole && performance.now() - begun < 120000) return;
        removeEventListener("bench-painted", look);
        setTimeout(tell, 50); // word of long tasks comes later
    };
    const tell = () => {
        const from = (rows) => rows.filter(([at]) => at >= begun).map(([, size]) => size);
        done({
            answers: seen.answers.map((each) => [each.pending, each.painted - begun, each.taken - begun, each.elapsed]),
            long: Math.max(0, ...from(seen.long)), gap: Math.max(0, ...from(seen.gaps)),
        });
    };
    addEventListener("bench-painted", look); // to look every few milliseconds would take time from the page itself
    setTimeout(look, 120001);
})
"""
# A thing that a hand has held still for a moment and lets go: its trial has been answered.
TRY = """
(edit) => new Promise((done) => {
    seen.answers.length = 0;
    viewNow().session.try(edit);
    const begun = performance.now();
    const look = () => {
        if (seen.answers.some((each) => each.pending <= 4 && each.painted) || performance.now() - begun > 60000) done();
        else setTimeout(look, 5);
    };
    look();
})
"""
# A post whose top can be pinned is chosen; from an event on, what is painted is watched.
CHOOSE = """
([line, number]) => {
    const { id, line: of, role } = viewNow().session.answer.tables.posts.columns;
    const posts = id.filter((_, place) => role[place] === "line" && of[place] === line);
    viewNow().choose({ kind: "post", id: posts[(number * 97) % posts.length] });
}
"""
WATCH = """
(name) => {
    seen.answers.length = 0;
    seen.begun = 0;
    addEventListener(name, (event) => { seen.begun ||= event.timeStamp; }, { once: true, capture: true });
}
"""
CORNER = """
([line, number]) => {
    const plan = viewNow().renderRoot.querySelector("fence-plan");
    const { name, points_m } = viewNow().session.answer.tables.drawn.columns;
    const points = points_m[name.indexOf(line)];
    const [x, y] = plan.pixelOf(points[number % points.length]);
    const box = plan.getBoundingClientRect();
    return [box.left + x, box.top + y];
}
"""
WATCHED = """
() => {
    const whole = seen.answers.find((each) => each.pending <= 4 && each.painted);
    return whole ? whole.painted - seen.begun : 0;
}
"""
PAN = """
([times, frames]) => new Promise((done) => {
    const map = viewNow().renderRoot.querySelector("fence-plan").map;
    const view = map.getView();
    view.setResolution(view.getResolution() * times);
    view.beginInteraction(); // as a hand that drags the map does
    const [x, y] = view.getCenter();
    const step = 6 * view.getResolution();
    let count = 0;
    let begun = 0;
    let worst = 0;
    let last = 0;
    const beat = (now) => {
        if (count === 10) begun = now;
        else if (count > 10) worst = Math.max(worst, now - last);
        last = now;
        if (count++ >= frames + 10) {
            view.endInteraction();
            done([(1000 * frames) / (now - begun), worst]);
            return;
        }
        view.setCenter([x + step * count, y]);
        requestAnimationFrame(beat);
    };
    requestAnimationFrame(beat);
})
"""


@contextmanager
def served(job: Path, store: Path) -> Iterator[str]:
    """Serve a job from a store of its own; gives the page's address."""
    start = "from fencewright.cli.main import run; run()"
    command = [
        sys.executable,
        "-c",
        start,
        "serve",
        str(job),
        "--no-browser",
        "--store",
        f"sqlite:///{store}",
    ]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as server:
        try:
            assert server.stdout is not None
            for line in server.stdout:
                if found := re.search(r"http://127\.0\.0\.1:\d+/#\S+", line):
                    with httpx.Client(base_url=found[0].split("#")[0], timeout=60) as client:
                        wait_for(client, found[0].split("/")[-1])
                    yield found[0]
                    break
        finally:
            server.terminate()
            server.wait(20)


def wait_for(client: httpx.Client, job: str) -> None:
    """Wait until the server answers and its worker has designed the job once."""
    for _ in range(200):
        with suppress(httpx.TransportError):
            client.get("/api").raise_for_status()
            break
        time.sleep(0.05)
    with client.stream("GET", f"/api/jobs/{job}/live?window=bench") as stream:
        for text in stream.iter_lines():
            if text.startswith("data: ") and '"stage":"pulls"' in text:
                return


def opened(browser: Browser, address: str) -> tuple[Page, dict[str, float]]:
    """Open the page; gives it, and what the first load took."""
    page = browser.new_page(viewport={"width": 1440, "height": 900})
    page.set_default_timeout(180_000)
    page.add_init_script(NOTES)
    page.goto(address)
    page.wait_for_function(
        "() => seen.answers.some((each) => each.pending >= 0 && each.pending < 10 && each.painted)"
    )
    first = page.evaluate(
        """() => ({
            line: Math.min(...seen.answers.filter((each) => each.painted).map((each) => each.painted)),
            posts: Math.min(...seen.answers.filter((each) => each.pending >= 0 && each.pending < 10 && each.painted)
                .map((each) => each.painted)),
            script: performance.getEntriesByType("resource").filter((each) => each.name.endsWith(".js"))
                .reduce((sum, each) => sum + each.encodedBodySize, 0) / 1000,
        })"""
    )
    return page, first


def plain_ms(folder: Path) -> dict[str, float]:
    """Time the stages alone, on the same job, in this process: to the top line, to the pulls."""
    job = WarmReader().read((folder / "job.toml").read_text(), folder)
    rows: dict[str, list[float]] = {"top line": [], "pulls": []}
    for _ in range(PLAIN_RUNS):
        begun = time.perf_counter()
        for stage in stages(job):
            if stage.name in rows:
                rows[stage.name].append(1000 * (time.perf_counter() - begun))
            if stage.name == "pulls":
                break
    return {name: float(np.median(values)) for name, values in rows.items()}


def edit_of(page: Page, line: str, number: int) -> dict[str, Any]:
    """A corner moved there and back, or a top pinned."""
    tables = page.evaluate(
        """() => {
            const { tables } = viewNow().session.answer;
            const { name, points_m } = tables.drawn.columns;
            const { line, role, station_m, above_ground_m } = tables.posts.columns;
            return { name, points_m, line, role, station_m, above_ground_m };
        }"""
    )
    if number % 2:
        posts = [
            place
            for place, role in enumerate(tables["role"])
            if role == "line" and tables["line"][place] == line
        ]
        post = posts[(number * 97) % len(posts)]
        height = tables["above_ground_m"][post] + 0.01
        return {"kind": "pin_top", "line": line, "at": tables["station_m"][post], "height": height}
    points = tables["points_m"][tables["name"].index(line)]
    corner = (number // 2 * 3) % len(points)
    x, y = points[corner]
    return {"kind": "move_corner", "line": line, "corner": corner, "to": [x + 1.5 * (-1) ** (number // 2), y]}


def p50_p95(values: list[float]) -> str:
    return (
        f"{np.percentile(values, 50):7.0f} /{np.percentile(values, 95):6.0f}" if values else "      - /     -"
    )


def edits(page: Page, line: str, count: int, until: int, plain: dict[str, float], most_ms: str) -> None:
    """Make the edits and print what they took."""
    page.wait_for_function("() => seen.answers.some((each) => each.pending === 0)")
    rows: dict[str, list[float]] = {
        name: [] for name in ("top line", "pulls", "design", "taken", "worker", "long", "gap")
    }
    for number in range(count + 2):
        edit = edit_of(page, line, number)
        is_beating = number % GAPS_EVERY == 0
        page.evaluate("(is) => seen.beat(is)", is_beating)
        page.wait_for_timeout(PAUSE_MS)
        said = page.evaluate(EDIT, [edit, until])
        at = {pending: (painted, taken, elapsed) for pending, painted, taken, elapsed in said["answers"]}
        if number < 2 or 4 not in at:
            continue
        if is_beating:
            rows["gap"].append(said["gap"])
            continue
        for name, most in (
            ("top line", 8),
            ("pulls", 4),
            ("design", 0),
        ):  # one answer may hold several stages
            painted = [one[0] for pending, one in at.items() if pending <= most and one[0] > 0]
            rows[name] += [min(painted)] if painted else []
        rows["taken"].append(at[4][1])
        rows["worker"].append(at[4][2])
        rows["long"].append(said["long"])
    let_go: list[float] = []
    for number in range(count + 2, count + 2 + max(count // 4, 2)):
        edit = edit_of(page, line, number)
        page.evaluate(TRY, edit)
        said = page.evaluate(EDIT, [edit, 4])
        let_go += [painted for pending, painted, _, _ in said["answers"] if pending == 4]
    ratios = [np.median(rows[name]) / plain[name] if rows[name] else np.nan for name in ("top line", "pulls")]
    print(
        f"  plan and section painted, ms      {p50_p95(rows['top line'])}   {ratios[0]:4.1f} x the stages alone"
    )
    print(
        f"  totals and findings painted, ms   {p50_p95(rows['pulls'])}   {ratios[1]:4.1f} x the stages alone   {most_ms}"
    )
    print(f"    of which told by the worker, ms {p50_p95(rows['worker'])}")
    print(f"    and taken by the page at, ms    {p50_p95(rows['taken'])}")
    print(f"  the same, tried before, ms        {p50_p95(let_go)}   {most_ms}")
    hand = by_hand(page, line, max(count // 4, 2), until)
    for name, values in hand.items():
        print(f"  by a hand, {name + ', ms':<22} {p50_p95(values)}   {most_ms}")
    every = [value for values in hand.values() for value in values]
    print(f"  by a hand, all of them, ms        {p50_p95(every)}   {most_ms}")
    print(f"  whole design painted, ms          {p50_p95(rows['design'])}   at most 1000")
    print(f"  longest task, ms                  {p50_p95(rows['long'])}   at most {MOST_FRAME_MS}")
    print(f"  longest gap between frames, ms    {p50_p95(rows['gap'])}   at most {MOST_FRAME_MS}")


def by_hand(page: Page, line: str, count: int, until: int) -> dict[str, list[float]]:
    """Edits as a hand makes them, in ms from its last key or press to what is painted.

    A corner is dragged and let go, a top pinned by typing its height and Enter, freed by a press on its button, and
    raised in the long section by an arrow key that is pressed again. A hand takes a moment before each last key or press.
    """
    took: dict[str, list[float]] = {name: [] for name in ("corner let go", "typed", "button", "arrow key")}

    def done(name: str, begins: str, act: Callable[[], None]) -> None:
        page.wait_for_timeout(REACH_MS)
        page.evaluate(WATCH, begins)
        act()
        page.wait_for_function(f"() => ({WATCHED})() > 0")
        took[name].append(page.evaluate(WATCHED))
        page.wait_for_function(f"() => seen.answers.some((each) => each.pending <= {until})")
        page.wait_for_timeout(PAUSE_MS)

    def click() -> None:
        page.mouse.down()
        page.mouse.up()

    for number in range(count):
        if until == 0:  # of a longer fence, all in sight, corners lie too close to be caught one by one
            x, y = page.evaluate(CORNER, [line, number // 2 * 3])
            page.mouse.move(x, y)
            page.mouse.down()
            page.mouse.move(x + 8 * (-1) ** number, y, steps=4)
            done("corner let go", "pointerup", page.mouse.up)

        page.evaluate(CHOOSE, [line, number])
        field = page.locator("#pin_top-height")
        field.wait_for()
        height, unit = field.input_value().replace(",", "").split(" ", 1)
        field.press("ControlOrMeta+a")
        page.keyboard.type(f"{float(height) + RAISED[unit.split()[-1]]:g} {unit.split()[-1]}", delay=KEY_MS)
        done("typed", "keydown", lambda: page.keyboard.press("Enter"))

        page.locator("fence-section canvas").focus()
        page.keyboard.press("ArrowDown")
        page.wait_for_timeout(4 * PAUSE_MS)
        done("arrow key", "keydown", lambda: page.keyboard.press("ArrowDown"))

        page.get_by_role("button", name="Let it flow again").hover()
        done("button", "pointerdown", click)
    return took


def folder_of(home: Path, length_km: float) -> Path:
    """A closed fence over invented hills; long ones on wider cells, to hold the file small."""
    folder = home / f"{length_km:g}km"
    folder.mkdir()
    (folder / "job.toml").write_text(long_fence(folder, 1000 * length_km, 10.0 if length_km < 20 else 25.0))
    return folder


def main() -> None:
    path = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if path is None or not (ROOT / "src/fencewright/page/index.html").is_file():
        print("needs Chromium (Debian, Ubuntu: apt-get install chromium) and the built page (make page)")
        return
    count = 8 if "--few" in sys.argv else 40
    with tempfile.TemporaryDirectory() as home, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(QUIET))
        browser.new_page().close()  # so that the browser's own start is not in the first load
        cases = [("demo", ROOT / "examples/rolling-pasture", "west", count, 0, "at most 100 at p95")]
        cases.append(("5 km", folder_of(Path(home), 5), "around", count, 0, "at most 100 at p95"))
        if "--no-long" not in sys.argv:
            cases.append(("50 km", folder_of(Path(home), 50), "around", max(count // 4, 4), 4, "at most 400"))
        for name, folder, line, number, until, most in cases:
            plain = plain_ms(folder)
            alone = f"{plain['top line']:.0f} ms to the top line, {plain['pulls']:.0f} to the pulls"
            print(f"{name}: the stages alone take {alone}")
            with served(folder / "job.toml", Path(home) / f"{name}.db") as address:
                page, first = opened(browser, address)
                print(
                    f"  first load: {first['script']:.0f} kB of script (at most {MOST_SCRIPT_KB}), line drawn at"
                    f" {first['line']:.0f} ms, posts at {first['posts']:.0f} ms (at most {MOST_FIRST_MS})"
                )
                edits(page, line, number, until, plain, most)
                page.close()
        if "--no-long" not in sys.argv:
            folder = folder_of(Path(home), 100)
            with served(folder / "job.toml", Path(home) / "100.db") as address:
                page, _ = opened(browser, address)
                page.wait_for_timeout(2000)
                for times, where in ((1.0, "all of it"), (0.02, "near"), (0.2, "nearer still")):
                    rate, worst = page.evaluate(PAN, [times, 90])
                    print(
                        f"100 km, {where}: pans at {rate:.0f} frames/s (at least {LEAST_FRAMES_S}), longest {worst:.0f} ms"
                    )
        browser.close()


if __name__ == "__main__":
    main()
