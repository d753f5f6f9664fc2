"""What a job fixes by line and station: two wishes for one post are refused, for one of them would be lost."""

from collections.abc import Callable

import pytest

from fencewright.findings import InputError
from fencewright.pipeline.record import Design

Laid = Callable[..., Design]


@pytest.mark.parametrize(
    ("table", "one", "other"),
    [
        ("pin", 'at = "12 m"\nheight = "1.3 m"', 'at = "12.04 m"\nheight = "1.4 m"'),
        ("built", 'at = "12 m"\nheight = "1.3 m"', 'at = "12.2 m"\nheight = "1.4 m"'),
        ("rock", 'at = "12 m"\ndepth = "0.5 m"', 'at = "12.03 m"\ndepth = "0.8 m"'),
    ],
)
def test_two_wishes_for_one_post_are_named_and_refused(laid: Laid, table: str, one: str, other: str) -> None:
    more = "".join(f'[[{table}]]\nline = "a"\n{keys}\n' for keys in (one, other))
    with pytest.raises(
        InputError, match=rf"\[\[{table}\]\].*12\.000 m and at 12\.\d\d0 m.*same post: keep one"
    ):
        laid({"a": [(0.0, 0.0), (60.0, 0.0)]}, more)


def test_two_pins_on_two_posts_are_both_kept(laid: Laid) -> None:
    pins = "".join(f'[[pin]]\nline = "a"\nat = "{at} m"\nheight = "1.3 m"\n' for at in (12, 16))
    posts = laid({"a": [(0.0, 0.0), (60.0, 0.0)]}, pins).layout.posts
    assert (posts.pinned_height_m == 1.3).sum() == 2
