"""The page's own files: packed for whoever takes them so, and never from outside their folder."""

import gzip
import os
from pathlib import Path

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

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


@pytest.fixture
def client(home: Path) -> TestClient:
    """Ask a server that has nothing but the page."""
    app = FastAPI()
    add_page(app, home)
    return TestClient(app)


def test_a_script_is_packed_where_the_browser_takes_it_so(client: TestClient) -> None:
    with client.stream("GET", "/assets/index.js", headers={"accept-encoding": "gzip, br"}) as answer:
        raw = b"".join(answer.iter_raw())
    assert answer.headers["content-encoding"] == "gzip"
    assert answer.headers["vary"] == "Accept-Encoding"
    assert "javascript" in answer.headers["content-type"]
    assert "immutable" in answer.headers["cache-control"]
    assert gzip.decompress(raw).decode() == SCRIPT
    assert len(raw) == int(answer.headers["content-length"]) < len(SCRIPT) / 10


def test_it_is_sent_as_it_is_where_not(client: TestClient) -> None:
    answer = client.get("/assets/index.js", headers={"accept-encoding": "identity"})
    assert "content-encoding" not in answer.headers
    assert answer.text == SCRIPT
    picture = client.get("/assets/picture.png", headers={"accept-encoding": "gzip"})
    assert "content-encoding" not in picture.headers


def test_a_page_built_anew_is_packed_anew(client: TestClient, home: Path) -> None:
    first = client.get("/", headers={"accept-encoding": "gzip"})
    assert first.text.endswith("<title>fence</title>")
    (home / "index.html").write_text("<!doctype html><title>other</title>")
    os.utime(home / "index.html", ns=(1, 1))
    again = client.get("/jobs/1", headers={"accept-encoding": "gzip"})
    assert again.text.endswith("<title>other</title>")
    assert again.headers["cache-control"] == "no-cache"
