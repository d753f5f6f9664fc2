"""One HTML file of a design that opens on a phone by the fence, with no server, no script and no network."""

import base64
import re
from collections.abc import Iterable, Mapping
from html import escape
from typing import Any

from fencewright.exchange.sheet_columns import Cell, Heading, SheetTable
from fencewright.exchange.sheet_stake_out import load_table
from fencewright.exchange.sheet_strength import tension_table
from fencewright.exchange.sheet_tables import order_table, posts_table, pulls_table, rolls_table
from fencewright.findings.cautions import DESIGN_CAUTIONS

_STYLE = """
:root{color-scheme:light dark}
body{font:1rem/1.4 system-ui,sans-serif;margin:0 auto;padding:.8rem;max-width:70rem;font-variant-numeric:tabular-nums}
h1{font-size:1.3rem;margin:.2rem 0;overflow-wrap:anywhere}
summary{font-size:1.1rem;font-weight:600;min-height:2.75rem;display:flex;align-items:center;cursor:pointer}
summary::before{content:"\\25B8";margin-right:.5rem}
details[open]>summary::before{content:"\\25BE"}
details{border-top:1px solid}
.frame{overflow:auto;max-height:85vh}
table{border-collapse:collapse}
th,td{padding:.35rem .6rem;text-align:left;white-space:nowrap;border-bottom:1px solid #8886}
th{position:sticky;top:0;background:Canvas}
td.n{text-align:right}
tr:nth-child(even) td{background:#8881}
td:first-child{font-weight:600;position:sticky;left:0;background:Canvas}
img{width:100%;background:#fff;display:block}
@media(max-width:45rem){img{width:calc(var(--paper,40rem)*1.5);min-width:100%}}
.stop{font-weight:700;border:2px solid;padding:.4rem}
li{margin:.6rem 0}
.wide{display:none;margin:0 0 .4rem}
@media(max-width:45rem){.wide{display:block}}
"""
# A drawing's words are 2 mm high on its paper: on a phone it scrolls in its box, half as large again as on paper.
_PAPER_WIDTH = re.compile(rb'<svg [^>]*?width="([0-9.]+mm)"')
_WIDE = '<p class="wide">Wider than a phone: drag it sideways.</p>'
_TITLES = {
    "plan.svg": "Plan",
    "section.svg": "Long section",
    "tension.svg": "Tension",
    "strength.svg": "Strength",
}


def pocket_html(record: dict[str, Any], drawings: Mapping[str, bytes]) -> bytes:
    """Give a whole design as one page.

    Parameters
    ----------
    record : dict
        That of design.json.
    drawings : mapping of str to bytes
        SVG by file name; those of plan, section, tension and strength are shown.

    Returns
    -------
    bytes
        UTF-8. Every text of the job is escaped; drawings stand as images, so that nothing in them can run.

    Notes
    -----
    Linear in the design.
    """
    head = record["job"]
    tables = [
        posts_table(record), pulls_table(record), tension_table(record), rolls_table(record),
        order_table(record), load_table(record),
    ]  # fmt: skip
    parts = [
        '<!doctype html><html lang="en"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width,initial-scale=1">',
        '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; img-src data:; '
        "style-src 'unsafe-inline'\">",
        f"<title>{escape(head['name'])}</title><style>{_STYLE}</style></head><body>",
        f"<h1>{escape(head['name'])}</h1>",
        f"<p>Revision {escape(head['revision'])} · {record['program']} {record['version']} · "
        f"design {record['digest'][:12]}</p>",
        *_warnings(record),
        *_findings(record["findings"]),
        *_drawn(drawings),
        *(_table(table) for table in tables),
        "</body></html>\n",
    ]
    return "".join(parts).encode("utf-8", "replace")


def _warnings(record: Mapping[str, Any]) -> Iterable[str]:
    if not record["may_be_built"]:
        yield '<p class="stop">NOT TO BE BUILT: mend the stops first.</p>'
    for caution in DESIGN_CAUTIONS:
        yield f"<p>{escape(caution)}</p>"


def _findings(rows: list[dict[str, Any]]) -> Iterable[str]:
    if not rows:
        return
    yield f"<details><summary>Findings ({len(rows)})</summary><ul>"
    for row in rows:
        place = row["where"]
        # of a line, both are its name
        where = ", ".join(dict.fromkeys(filter(None, (place["id"], place["line"]))))
        head = escape(": ".join(filter(None, (row["level"].capitalize(), where))))
        remedy = f"<br>{escape(row['remedy'])}" if row["remedy"] else ""
        yield f"<li><b>{head}</b><br>{escape(row['message'])}{remedy}</li>"
    yield "</ul></details>"


def _drawn(drawings: Mapping[str, bytes]) -> Iterable[str]:
    for name, title in _TITLES.items():
        if name in drawings:
            paper = _PAPER_WIDTH.search(drawings[name])
            style = f' style="--paper:{paper[1].decode("ascii")}"' if paper else ""
            data = base64.b64encode(drawings[name]).decode("ascii")
            yield (
                f'<details{" open" if name == "plan.svg" else ""}><summary>{title}</summary>{_WIDE}<div class="frame">'
                f'<img alt="{title}"{style} src="data:image/svg+xml;base64,{data}"></div></details>'
            )


def _table(table: SheetTable) -> str:
    # what is bought stands first: `post-120-mm-x-2.40-m` would push its name and number out of sight
    first = 1 if [heading.name for heading in table.headings[:2]] == ["id", "item"] else 0
    headings = table.headings[first:]
    heads = "".join(f"<th>{escape(heading.name.replace('_', ' '))}</th>" for heading in headings)
    rows = "".join(
        "<tr>" + "".join(_cell(h, c) for h, c in zip(headings, row[first:], strict=True)) + "</tr>"
        for row in table.rows
    )
    return (
        f"<details><summary>{escape(table.title)} ({len(table.rows)})</summary>"
        f'{_WIDE}<div class="frame"><table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div></details>'
    )


def _cell(heading: Heading, cell: Cell) -> str:
    if cell is None:
        return '<td class="n">–</td>'
    if heading.kind == "text":
        return f"<td>{escape(str(cell))}</td>"
    text = f"{cell:.{heading.decimals}f}"
    if heading.kind == "amount" and "." in text:
        text = text.rstrip("0").rstrip(".")
    return f'<td class="n">{text}</td>'
