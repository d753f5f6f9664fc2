"""A real Chromium on a real server with a store of its own: what the tests of the page share."""

import os
import re
import shutil
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Request,
    expect,
    sync_playwright,
)

ROOT = Path(__file__).parents[2]
NO_CHROMIUM = "The browser tests need Chromium: install it (Debian, Ubuntu: apt-get install chromium)."
NO_PAGE = "The browser tests need the built page: run `make page`."
QUIET = (
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--no-sandbox",
)
LONGEST_MS = 30_000  # what is waited for comes at once on a quiet machine; a busy one takes its time

expect.set_options(timeout=LONGEST_MS)


def chromium_path() -> str | None:
    """Where a Chromium lies: named by the environment, or on the path."""
    named = os.environ.get("FENCEWRIGHT_CHROMIUM")
    found = (shutil.which(name) for name in ("chromium", "chromium-browser", "google-chrome"))
    return named or next((path for path in found if path), None)


class Served:
    """A running server: `address`, and where it keeps its jobs."""

    def __init__(self, store: Path, *arguments: str, is_ahead: bool = False) -> None:
        self.store = store
        run = [sys.executable, "-c", "from fencewright.cli.main import run; run()", "serve", *arguments]
        self.command = [*run, "--no-browser", "--store", f"sqlite:///{store}", "--port", str(_free_port())]
        self._begin()
        if not is_ahead:
            self.wait()

    def _begin(self) -> None:
        self.process = subprocess.Popen(
            self.command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        )

    def start(self) -> None:
        """Start it again: at the same address and on the same store."""
        self._begin()
        self.wait()

    def wait(self) -> None:
        """Wait until it answers."""
        for _ in range(3):
            address, said = self._address()
            if address:
                self.address = address
                return
            self.stop()
            if "port" not in said:
                break
            self.command[-1] = str(_free_port())  # somebody else took it before the server came to it
            self._begin()
        raise AssertionError(f"the server did not start: {said}")

    def _address(self) -> tuple[str, str]:
        """Read the address that the server prints when it has started, and all that it said."""
        said = ""
        assert self.process.stdout is not None
        for line in self.process.stdout:
            said += line
            if match := re.search(r"http://127\.0\.0\.1:\d+/(#\S*)?", line):
                return match[0], said
        return "", said

    @property
    def home(self) -> str:
        """The page's address without a job."""
        return self.address.split("#")[0]

    def stop(self) -> None:
        """End it."""
        self.process.terminate()
        self.process.wait(timeout=20)
        if self.process.stdout is not None:
            self.process.stdout.close()


def _free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests of a worker."""
    path = chromium_path()
    if path is None:
        pytest.fail(NO_CHROMIUM)
    if not (ROOT / "src/fencewright/page/index.html").is_file():
        pytest.fail(NO_PAGE)
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=path, args=list(QUIET))
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def next_served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[], Served]]:
    """Give a server with an empty store, started while the test before it ran: a third of the time of all tests."""

    def begun() -> Served:
        return Served(tmp_path_factory.mktemp("served") / "jobs.db", is_ahead=True)

    ahead = [begun()]

    def take() -> Served:
        server = ahead.pop()
        ahead.append(begun())
        server.wait()
        return server

    yield take
    ahead[0].stop()


@pytest.fixture
def served(next_served: Callable[[], Served]) -> Iterator[Served]:
    """A server with an empty store."""
    server = next_served()
    yield server
    server.stop()


# The small paddock of examples/small-paddock: 200 ft by 120 ft, drawn from its corner at 0, 0, counterclockwise.
LEGS = (("200 ft", "90"), ("120 ft", "L 90"), ("200 ft", "L 90"))


class Person:
    """A person at a page; its faults are gathered: console errors, thrown errors, requests to another host."""

    def __init__(self, context: BrowserContext, home: str) -> None:
        self.home = home
        self.faults: list[str] = []
        self.expected: list[str] = []
        self.page: Page = context.new_page()
        self.page.set_default_timeout(LONGEST_MS)
        self.page.on("console", self._said)
        self.page.on("pageerror", lambda error: self.faults.append(f"thrown: {error}"))
        self.page.on("request", self._asked)

    def _said(self, message: ConsoleMessage) -> None:
        if message.type == "error" and not any(text in message.text for text in self.expected):
            self.faults.append(f"console: {message.text}")

    def _asked(self, request: Request) -> None:
        if not request.url.startswith((self.home, "data:", "blob:")):
            self.faults.append(f"request to another host: {request.url}")

    def press(self, name: str) -> None:
        """Press a button."""
        self.page.get_by_role("button", name=name, exact=True).click()
        if name in ("Draw a line", "Draw an obstacle", "Measure"):
            self.page.locator("draw-form").wait_for()
            self.page.wait_for_timeout(500)  # the plan has given way to the form before a hand comes to it

    def show(self, panel: str) -> None:
        """Show a panel."""
        self.page.get_by_role("tab", name=re.compile(f"^{panel}")).click()

    def new_job(self, name: str = "Small paddock") -> None:
        """Start a job from the list."""
        self.page.goto(self.home)
        self.page.get_by_label("Name").fill(name)
        self.press("New job")
        expect(self.page.get_by_role("heading", level=1, name=name)).to_be_visible()
        expect(self.page.get_by_role("button", name="Draw a line")).to_be_enabled()

    def draw_paddock(self) -> None:
        """Draw the small paddock by typing its lengths."""
        self.press("Draw a line")
        for length, bearing in LEGS:
            self.page.get_by_label("Length", exact=True).fill(length)
            self.page.get_by_label("Bearing or turn").fill(bearing)
            self.press("Add leg")
        self.press("Close and keep")

    def wait_whole(self, revision: int | None = None) -> None:
        """Wait until the design of a revision is whole."""
        number = r"\d+" if revision is None else str(revision)
        state = re.compile(rf"revision {number} · (may be built|not to be built)")
        expect(self.page.locator("job-view .state")).to_have_text(state, timeout=30_000)

    def choose(self, name: str) -> None:
        """Choose a thing by its name, without a pointer."""
        self.show("Chosen")
        self.page.get_by_label("Choose by name").select_option(label=name)
        heading = self.page.locator("chosen-thing h2")  # of a post its role too
        expect(heading).to_have_text(re.compile(rf"^{re.escape(name)}( ·|$)"))

    def revision(self) -> int:
        """The revision that the page shows."""
        said = re.search(r"revision (\d+)", self.page.locator("job-view .state").inner_text())
        assert said is not None
        return int(said[1])

    def place_of(self, at_m: tuple[float, float]) -> tuple[float, float]:
        """Where on the screen a point of the plan lies."""
        x, y = self.page.evaluate(
            """at => {
                const plan = document.querySelector("fence-page").shadowRoot.querySelector("job-view")
                    .shadowRoot.querySelector("fence-plan");
                const box = plan.getBoundingClientRect();
                const [x, y] = plan.pixelOf(at);
                return [box.left + x, box.top + y];
            }""",
            list(at_m),
        )
        return float(x), float(y)

    def sums(self) -> dict[str, str]:
        """The sums above the findings, by their title."""
        self.show("Findings")
        boxes = self.page.locator("job-side .sums > div")
        return {box.locator("dt").inner_text(): box.locator("dd").inner_text() for box in boxes.all()}


class Fingers:
    """Fingers on the glass, by the browser's own protocol: Playwright's touch knows only the tap."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.line = page.context.new_cdp_session(page)

    def touch(self, kind: str, *points: tuple[float, float]) -> None:
        """Put fingers down, move them, or lift what is not named."""
        places = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
        self.line.send("Input.dispatchTouchEvent", {"type": f"touch{kind}", "touchPoints": places})

    def drag(self, start: tuple[float, float], end: tuple[float, float], steps: int = 8) -> None:
        """One finger, down, along and up."""
        self.touch("Start", start)
        for step in range(1, steps + 1):
            share = step / steps
            self.touch(
                "Move", (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
            )
        # what is put somewhere is held still there before it is let go: else it is a flick, and a tap only ends that
        self.page.wait_for_timeout(200)
        self.touch("End")


@pytest.fixture
def person(browser: Browser, served: Served) -> Iterator[Person]:
    """A person at a desk; the test fails where the page said an error or asked another host."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, accept_downloads=True)
    seen = Person(context, served.home)
    yield seen
    context.close()
    assert seen.faults == []
