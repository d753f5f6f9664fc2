"""What is built, in plain words: length, rails, posts by kind, gates, how posts are held, bracing."""

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any

from fencewright.papers.measures import Measures, Record

_MOST_NAMED = 12
_HELD = {"concrete": "Set in concrete", "tamped": "Set in tamped earth", "driven": "Driven"}
Rows = list[tuple[str, str]]


def scope_rows(record: Record) -> Rows:
    """Give names and values of what a design builds.

    Parameters
    ----------
    record : mapping
        Of design.json.

    Returns
    -------
    list of (str, str)
        Fence, rails, posts, tops, how posts are held, braces, gates, crossings; what there is none of is left out.
    """
    told = Measures(record)
    rows = [
        ("Fence", _fence(record, told)),
        ("Rails", _rails(record)),
        ("Posts", _posts(record, told)),
        (
            "Post tops",
            f"{_span((post['above_ground_m'] for post in record['posts']), told)} above the ground",
        ),
        *_held(record, told),
        ("Braces", _braces(record)),
        ("Gates", _openings(record["gates"], told)),
        ("Water crossings", _openings(record["crossings"], told)),
    ]
    return [row for row in rows if row[1]]


def _fence(record: Record, told: Measures) -> str:
    lines = record["lines"]
    whole = f"{told.long(record['summary']['fence_length_m'])} on plan, gates included"
    if len(lines) == 1:
        return f"{whole}, {'all the way round' if lines[0]['closed'] else 'in one line'}"
    names = [f"{one['name']} {told.long(one['length_m'])}" for one in lines]
    return f"{whole}: {_named(names)}"


def _named(names: Sequence[str]) -> str:
    """Names, the first of many."""
    more = len(names) - _MOST_NAMED
    return ", ".join(names[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _rails(record: Record) -> str:
    """Rails of the run that has most, by product."""
    pulls = record["pulls"]
    if not pulls:
        return ""
    runs = Counter(pull["run"] for pull in pulls)
    run = max(runs, key=lambda name: runs[name])
    products = Counter(pull["product"] for pull in pulls if pull["run"] == run)
    said = ", ".join(f"{count} of {product}" for product, count in products.items())
    return said if len(set(runs.values())) == 1 else f"{said} on the main lines"


def _posts(record: Record, told: Measures) -> str:
    posts = record["posts"]
    wide = Counter(told.small(post["diameter_m"]) for post in posts if post["diameter_m"] is not None)
    sizes = ", ".join(f"{count} are {size} across" for size, count in wide.items())
    return f"{len(posts)}: {_roles(posts)}" + (f"; {sizes}" if sizes else "")


def _counted(posts: Sequence[dict[str, Any]]) -> str:
    """Posts with their roles: `28 posts (7 corner, 21 gate)`, `49 line posts`."""
    roles = Counter(post["role"] for post in posts)
    many = "post" if len(posts) == 1 else "posts"
    if len(roles) == 1:
        return f"{len(posts)} {posts[0]['role']} {many}"
    return f"{len(posts)} {many} ({_roles(posts)})"


def _roles(posts: Iterable[dict[str, Any]]) -> str:
    return ", ".join(f"{count} {role}" for role, count in Counter(post["role"] for post in posts).items())


def _span(values: Iterable[float | None], told: Measures) -> str:
    """One size, or the least and the most of several."""
    known = sorted(value for value in values if value is not None)
    if not known:
        return told.small(None)
    least, most = told.small(known[0]), told.small(known[-1])
    return least if least == most else f"{told.bare_small(known[0])} to {most}"


def _held(record: Record, told: Measures) -> Rows:
    rows = []
    for kind, name in _HELD.items():
        posts = [post for post in record["posts"] if post["set"] == kind]
        if posts:
            deep = _span((post["hole_depth_m"] for post in posts), told)
            rows.append((name, f"{_counted(posts)}, {deep} deep"))
    return rows


def _braces(record: Record) -> str:
    kinds = Counter(brace["kind"] for brace in record["braces"])
    return ", ".join(f"{count} {kind}" for kind, count in kinds.items())


def _openings(openings: Sequence[dict[str, Any]], told: Measures) -> str:
    return _named([f"{one['name']} ({told.long(one['opening_m'])} clear)" for one in openings])
