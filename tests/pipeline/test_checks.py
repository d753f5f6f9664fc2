"""What the checks of a design say of one post, and of many."""

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from fencewright.findings import Place
from fencewright.pipeline import checks


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (1, "1 line post is concreted because the rails lift it out of tamped soil: P1."),
        (2, "2 line posts are concreted because the rails lift them out of tamped soil: P1, P2."),
    ],
)
def test_posts_concreted_for_uplift_are_counted_in_words(
    monkeypatch: pytest.MonkeyPatch, count: int, said: str
) -> None:
    monkeypatch.setattr(checks, "place_of", lambda design, row: Place("post", f"P{row + 1}", "lane", 0.0))
    lifted = np.arange(3) < count
    design: Any = SimpleNamespace(
        layout=SimpleNamespace(posts=SimpleNamespace(is_fixed=np.zeros(3, bool))),
        top_line=SimpleNamespace(needs_concrete=lifted),
    )
    assert [finding.message for finding in checks._concreted(cast(Any, design))] == [said]
