"""The bars that prove a template's scale are in the units of its sheets."""

import pytest

from fencewright.papers.template_sheet import _bars
from fencewright.sheets.picture import Text


@pytest.mark.parametrize(
    ("sheets", "said"),
    [("metric", ["this bar is 100 mm"]), ("us", ["this bar is 4 in", "this bar is 100 mm"])],
)
def test_metric_sheets_have_no_bar_in_inches(sheets: str, said: list[str]) -> None:
    assert [item.text for item in _bars(sheets, 0.0, 0.0) if isinstance(item, Text)] == said
