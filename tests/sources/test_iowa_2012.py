"""Iowa State University Extension, 2012 (iowa-2012; sources-fence.md A1, READ as a press report): 1,320 ft of fence.

Posts 12 ft apart, each end two 8 in posts and one cross-brace. The bulletin carries 110 line posts and 4 end posts, about
three more than the 111 posts of one plain line (DERIVED): at least 111, equality is not asked.
"""

from collections.abc import Callable

from fencewright.pipeline.record import Design


def test_posts_of_a_quarter_mile(straight: Callable[[float, str], Design]) -> None:
    made = straight(1320, '[fence]\nspacing_limit = "12 ft"\n[brace]\nkind = "horizontal"\n')
    fixed = int(made.layout.posts.is_fixed.sum())
    assert fixed == 2
    assert len(made.layout.braces) == 2
    assert 111 <= len(made.layout.posts) <= 114


def test_without_braces_it_is_the_plain_line(straight: Callable[[float, str], Design]) -> None:
    """1,320 / 12 = 110 bays, 111 posts."""
    assert len(straight(1320, '[fence]\nspacing_limit = "12 ft"\n').layout.posts) == 111
