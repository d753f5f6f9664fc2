"""The page's own files: packed for whoever takes them so, and never from outside their folder."""

import asyncio
import os
from pathlib import Path

import httpx
import pytest
from fastapi import FastAPI

from fencewright.server.page import add_page

SCRIPT = "export const fence = 1;\n" * 400


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """Build a page of three files."""
    (tmp_path / "assets").mkdir()
    (tmp_path / "index.html").write_text("<!doctype html><title>fence</title>")
    (tmp_path / "assets/index.js").write_text(SCRIPT)
    (tmp_path / "assets/picture.png").write_bytes(b"\x89PNG")
    return tmp_path


def ask(home: Path, path: str, accepts: str) -> httpx.Response:
    """Ask a server that has nothing but the page."""
    app = FastAPI()
    add_page(app, home)

    async def asked() -> httpx.Response:
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://page") as client:
            return await client.get(path, headers={"accept-encoding": accepts})

    return asyncio.run(asked())


def test_a_script_is_packed_where_the_browser_takes_it_so(home: Path) -> None:
    answer = ask(home, "/assets/index.js", "gzip, br")
    assert answer.headers["content-encoding"] == "gzip"
    assert answer.headers["vary"] == "Accept-Encoding"
    assert "javascript" in answer.headers["content-type"]
    assert "immutable" in answer.headers["cache-control"]
    assert answer.text == SCRIPT
    assert int(answer.headers["content-length"]) < len(SCRIPT) / 10


def test_it_is_sent_as_it_is_where_not(home: Path) -> None:
    answer = ask(home, "/assets/index.js", "identity")
    assert "content-encoding" not in answer.headers
    assert answer.text == SCRIPT
    assert "content-encoding" not in ask(home, "/assets/picture.png", "gzip").headers


def test_a_page_built_anew_is_packed_anew(home: Path) -> None:
    assert ask(home, "/", "gzip").text.endswith("<title>fence</title>")
    (home / "index.html").write_text("<!doctype html><title>other</title>")
    os.utime(home / "index.html", ns=(1, 1))
    again = ask(home, "/jobs/1", "gzip")
    assert again.text.endswith("<title>other</title>")
    assert again.headers["cache-control"] == "no-cache"
