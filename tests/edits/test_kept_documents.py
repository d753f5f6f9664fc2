"""Documents kept for the next edit: the text that an edit gives is the same as from a document read anew."""

from pathlib import Path
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from fencewright.edits import document
from fencewright.edits.applying import apply_edit
from fencewright.edits.kept_documents import KeptDocuments
from fencewright.findings import InputError

ROOT = Path(__file__).parents[2]
JOB = (ROOT / "examples" / "small-paddock" / "job.toml").read_text("utf-8")
LINE = "paddock"
LENGTHS = st.integers(1, 600).map(lambda feet: f"{feet} ft")
EDITS = st.one_of(
    st.builds(
        lambda corner, x, y: {"kind": "move_corner", "line": LINE, "corner": corner, "to": [x, y]},
        st.integers(0, 4), LENGTHS, LENGTHS,
    ),
    st.builds(lambda at: {"kind": "pin_top", "line": LINE, "at": at, "height": "55 in"}, LENGTHS),
    st.builds(lambda at: {"kind": "strain_post", "line": LINE, "at": at}, LENGTHS),
    st.builds(
        lambda number, at: {"kind": "slide", "table": "gate", "item": number, "at": at}, st.integers(0, 1), LENGTHS
    ),
    st.builds(lambda item: {"kind": "remove", "table": "pin", "item": item}, st.integers(0, 2)),
    st.builds(lambda rails: {"kind": "set", "path": ["fence", "rails"], "value": rails}, st.integers(2, 5)),
    st.just({"kind": "add", "table": "obstacle", "values": {"kind": "tree", "points": [["9 m", "9 m"]]}}),
    st.just({"kind": "remove", "table": "obstacle", "item": 0}),
)  # fmt: skip


def run(edits: list[dict[str, Any]], ready: tuple[int, ...] = ()) -> list[str]:
    text, texts = JOB, []
    for number, edit in enumerate(edits):
        if number in ready:
            document.make_ready(text)
        try:
            text = apply_edit(text, edit).text
        except InputError as error:
            texts.append(str(error))
        texts.append(text)
    return texts


@given(st.lists(EDITS, max_size=8))
@settings(deadline=None)
def test_edits_on_kept_documents_give_the_text_that_documents_read_anew_give(
    edits: list[dict[str, Any]],
) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(document, "KEPT", KeptDocuments())
        kept = run(edits)
        patch.setattr(document, "KEPT", KeptDocuments())
        assert kept == run(edits, ready=(0, 2, 3, 5))
        patch.setattr(document, "KEPT", KeptDocuments(most_bytes=0))
        assert kept == run(edits)


def test_a_kept_document_is_a_copy_and_the_oldest_go_first() -> None:
    texts = [f"key_{number} = {number} # of {number}\n" for number in range(40)]
    kept = KeptDocuments(most_bytes=10_000)
    for text in texts:
        kept.keep(text, tomlkit.parse(text))
    assert kept.get(texts[0]) is None
    last = kept.get(texts[-1])
    assert last is not None
    assert tomlkit.dumps(last) == texts[-1]
    last["key_39"] = 40
    again = kept.get(texts[-1])
    assert again is not None
    assert again["key_39"] == 39


def test_a_document_made_ready_is_given_once() -> None:
    text = "key = 1 # of it\n"
    kept = KeptDocuments()
    assert not kept.make_ready(text)
    kept.keep(text, tomlkit.parse(text))
    assert kept.make_ready(text)
    assert kept.make_ready(text)
    first, second = kept.get(text), kept.get(text)
    assert first is not None
    assert second is not None
    first["key"] = 2
    assert (tomlkit.dumps(second), tomlkit.dumps(first)) == (text, "key = 2 # of it\n")
