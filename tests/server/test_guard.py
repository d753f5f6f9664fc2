"""Who may ask: Host, Origin, token; the headers of safety on every answer."""

import asyncio
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from starlette.responses import PlainTextResponse

from fencewright.server.guard import COOKIE, HEADERS, Guard, is_loopback
from fencewright.server.page import HOW_TO_BUILD

TOKEN = "a-token-of-the-test"


@pytest.fixture(scope="module")
def beyond(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Run a server as if it were reachable from other machines: with a token."""
    from tests.server.conftest import Running

    running = Running(tmp_path_factory.mktemp("beyond"), host="0.0.0.0", token=TOKEN)
    yield running.address
    running.stop()


def code(answer: httpx.Response) -> str:
    found: str = answer.json()["error"]["code"]
    return found


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8420", "localhost.evil.example", "", "192.168.0.7", "[::"]
)
def test_a_name_that_is_not_this_machines_is_refused(client: httpx.Client, host: str) -> None:
    assert code(client.get("/api", headers={"Host": host})) == "host"
    assert code(client.get("/", headers={"Host": host})) == "host"


@pytest.mark.parametrize("host", ["localhost:8420", "127.0.0.1", "[::1]:8420"])
def test_this_machines_own_names_are_answered(client: httpx.Client, host: str) -> None:
    assert client.get("/api", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "https://evil.example"},
        {"Origin": "http://127.0.0.1:1"},
        {"Origin": "null"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_another_sites_page_may_not_ask(client: httpx.Client, headers: dict[str, str]) -> None:
    before = len(client.get("/api/jobs").json())
    assert code(client.post("/api/jobs", json={"name": "x"}, headers=headers)) == "origin"
    assert len(client.get("/api/jobs").json()) == before


def test_its_own_page_may_ask(client: httpx.Client) -> None:
    headers = {"Origin": str(client.base_url).rstrip("/"), "Sec-Fetch-Site": "same-origin"}
    assert client.post("/api/jobs", json={"name": "x"}, headers=headers).status_code == 201


def test_every_answer_carries_the_headers_of_safety(client: httpx.Client) -> None:
    for path in ("/", "/api", "/api/nothing", "/openapi.json"):
        headers = client.get(path).headers
        for name, value in HEADERS.items():
            assert headers[name] == value, (path, name)
    policy = HEADERS["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy


def test_beyond_this_machine_a_token_is_asked_for(beyond: str) -> None:
    with httpx.Client(base_url=beyond) as client:
        for headers in ({}, {"Authorization": "Bearer wrong"}, {"Cookie": f"{COOKIE}=wrong"}):
            assert code(client.get("/api", headers=headers)) == "token"
        assert code(client.get("/")) == "token"
        assert client.get("/api", headers={"Authorization": f"Bearer {TOKEN}"}).status_code == 200
        there = {"Host": "192.168.0.7:8420", "Authorization": f"Bearer {TOKEN}"}
        assert client.get("/api", headers=there).status_code == 200
        assert (
            code(client.get("/api", headers={"Host": "evil.example", "Authorization": f"Bearer {TOKEN}"}))
            == "host"
        )


def test_the_token_goes_from_the_address_into_a_cookie(beyond: str) -> None:
    with httpx.Client(base_url=beyond) as client:
        assert code(client.get("/?token=wrong")) == "token"
        arrival = client.get(f"/?token={TOKEN}")
        assert (arrival.status_code, arrival.headers["location"]) == (303, "/")
        cookie = arrival.headers["set-cookie"]
        assert "HttpOnly" in cookie
        assert "SameSite=strict" in cookie
        assert client.get("/api").status_code == 200


@pytest.mark.parametrize("stated", [True, False])
def test_a_body_too_large_is_refused_whatever_it_says(
    client: httpx.Client, monkeypatch: pytest.MonkeyPatch, stated: bool
) -> None:
    monkeypatch.setattr("fencewright.server.guard._LARGEST_BODY_BYTES", 100_000)
    body = b'{"name": "' + b"x" * 200_000 + b'"}'
    content = body if stated else iter([body[:90_000], body[90_000:]])
    answer = client.post("/api/jobs", content=content, headers={"Content-Type": "application/json"})
    assert (answer.status_code, code(answer)) == (413, "too-large")


@pytest.mark.parametrize("stated", ["4", "400000000"])
def test_what_is_refused_is_read_to_its_end_before_the_answer_goes_out(stated: str) -> None:
    # a browser that still sends when the connection closes shows a lost line, not the answer
    parts = [{"type": "http.request", "body": b"ab", "more_body": more} for more in (True, True, False)]
    order: list[str] = []

    async def receive() -> Any:
        order.append("read")
        return parts.pop(0)

    async def send(message: Any) -> None:
        order.append(message["type"])

    async def refusing(scope: Any, receive: Any, send: Any) -> None:
        await PlainTextResponse("no", 422)(scope, receive, send)

    headers = [(b"host", b"localhost"), (b"content-length", stated.encode())]
    scope = {"type": "http", "method": "POST", "path": "/api/jobs", "query_string": b"", "headers": headers}
    asyncio.run(Guard(refusing, "127.0.0.1", None)(scope, receive, send))
    assert order == ["read"] * 3 + ["http.response.start", "http.response.body"]


def test_loopback_is_known() -> None:
    assert [is_loopback(host) for host in ("localhost", "127.0.0.1", "127.8.8.8", "::1")] == [True] * 4
    assert [is_loopback(host) for host in ("0.0.0.0", "192.168.1.5", "example.org", "::")] == [False] * 4


def test_a_page_that_was_not_built_says_how(client: httpx.Client) -> None:
    answer = client.get("/")
    assert (answer.status_code, answer.text) == (503, HOW_TO_BUILD)


def test_a_built_page_is_served_and_never_more_than_it(tmp_path: Path) -> None:
    from tests.server.conftest import Running

    (tmp_path / "page" / "assets").mkdir(parents=True)
    (tmp_path / "page" / "index.html").write_text("<!doctype html>the page")
    (tmp_path / "page" / "assets" / "a.js").write_text("1")
    (tmp_path / "secret.txt").write_text("secret")
    running = Running(tmp_path)
    try:
        with httpx.Client(base_url=running.address) as page:
            assert page.get("/").text == page.get("/jobs/x").text == "<!doctype html>the page"
            assert "immutable" in page.get("/assets/a.js").headers["cache-control"]
            for path in (
                "/../secret.txt",
                "/%2e%2e/secret.txt",
                "/assets/%2e%2e/%2e%2e/secret.txt",
                "/..%2fsecret.txt",
            ):
                assert "secret" not in page.get(path).text
            assert page.get("/api/x").status_code == 404
    finally:
        running.stop()
