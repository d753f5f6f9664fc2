"""Two windows whose calls overtake each other, made at random: in the end both show the job as it is."""

import json
import random
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

# Calls that edit, and their answers, take a while of their own, so that they arrive in another order than they were made.
SLOW = """
(() => {
    const real = window.fetch.bind(window);
    const nap = (most_ms) => new Promise((done) => setTimeout(done, Math.random() * most_ms));
    window.isSlow = true;
    window.fetch = async (...call) => {
        if (isSlow && /edits|trial|undo|redo/.test(call[0]) && Math.random() < 0.6) await nap(250);
        const answer = await real(...call);
        if (isSlow && Math.random() < 0.4) await nap(120);
        return answer;
    };
    window.sessionNow = () =>
        document.querySelector("fence-page")?.shadowRoot.querySelector("job-view")?.session;
})();
"""
WHOLE = "() => window.sessionNow && sessionNow()?.answer.revision && !sessionNow().answer.pending.length"
SHOWN = """
async () => {
    const { state, answer, refused } = sessionNow();
    const job = await (await fetch(`/api/jobs/${state.id}`)).json();
    const tables = Object.entries(answer.tables).map(([name, { rows, columns }]) =>
        [name, rows, Object.entries(columns)]);
    const shown = JSON.stringify(tables.map(([name, rows, columns]) => [name, rows, columns.sort()]).sort());
    return { head: job.head, states: state.head, answers: answer.revision, pending: answer.pending, refused,
        digest: answer.digest, tables: shown };
}
"""
EDITS = 8


@pytest.mark.parametrize("seed", range(3))
def test_windows_whose_calls_overtake_each_other_end_with_the_job_as_it_is(
    person: Any, browser: Browser, seed: int
) -> None:
    person.new_job(f"Overtaken {seed}")
    person.draw_paddock()
    person.wait_whole()
    url = person.page.url
    pages = [browser.new_page() for _ in range(2)]
    for page in pages:
        page.add_init_script(SLOW)
        page.goto(url)
        page.wait_for_function(WHOLE)
    line = pages[0].evaluate("() => sessionNow().state.asked.line[0].name")
    chance = random.Random(seed)
    for _ in range(EDITS):
        _act(chance, chance.choice((pages[0], pages[0], pages[1])), line)
    for page in pages:
        page.evaluate(
            "async () => { isSlow = false; await sessionNow().queue; await sessionNow().endTry(); }"
        )
    first = _settled(pages[0])
    assert _settled(pages[1]) == first
    again = browser.new_page()
    again.add_init_script(SLOW)
    again.goto(url)
    again.wait_for_function(WHOLE)
    fresh = _settled(again)
    assert fresh == first
    for page in (*pages, again):
        page.close()


def _act(chance: random.Random, page: Page, line: str) -> None:
    """Drag a corner and let go, or not; set the rails; ask for what cannot be; undo; redo."""
    x, y = chance.randint(190, 210), chance.randint(-8, 8)
    moves = [
        {"kind": "move_corner", "line": line, "corner": 1, "to": [f"{x + step} ft", f"{y} ft"]}
        for step in range(chance.randint(1, 4))
    ]
    rails = {"kind": "set", "path": ["fence", "rails"], "value": chance.randint(3, 5)}
    endless = moves[0] | {"to": ["5000 km", "0 ft"]}
    match chance.choice(("drag", "drag", "let be", "rails", "endless", "undo", "redo")):
        case "rails":
            page.evaluate("edit => void sessionNow().edit(edit)", rails)
        case "endless":
            page.evaluate("edit => { sessionNow().try(edit); void sessionNow().edit(edit); }", endless)
        case "undo" | "redo" as way:
            page.evaluate("way => void sessionNow()[way]()", way)
        case hand:
            for edit in moves:
                page.evaluate("edit => sessionNow().try(edit)", edit)
                page.wait_for_timeout(chance.choice((0, 5, 20, 60)))
            let_go = (
                "edit => void sessionNow().edit(edit)"
                if hand == "drag"
                else "() => void sessionNow().endTry()"
            )
            page.evaluate(let_go, moves[-1])
    page.wait_for_timeout(chance.choice((0, 0, 5, 30, 100, 300)))


def _settled(page: Page) -> dict[str, Any]:
    """What a page shows once it shows the job as it is, the same twice."""
    seen: dict[str, Any] = {}
    for _ in range(100):
        before, seen = seen, page.evaluate(SHOWN)
        is_there = seen["head"] == seen["states"] == seen["answers"] and not seen["pending"]
        if is_there and json.dumps(before) == json.dumps(seen):
            return seen
        page.wait_for_timeout(300)
    raise AssertionError({key: seen[key] for key in ("head", "states", "answers", "pending", "refused")})
