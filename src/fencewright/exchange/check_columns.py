"""Columns of design.json that say whether each post, hole and brace holds."""

from fencewright.exchange.design_columns import Column
from fencewright.tables.strength import KINDS

LABELS = tuple(kind.label for kind in KINDS.values())
PARTS = tuple(dict.fromkeys(kind.part for kind in KINDS.values()))

POST_STRENGTH = (
    Column(
        "utilisation",
        "ratio",
        "Largest demand over capacity of the post, its hole and its braces; null: no capacity at all. [-]",
    ),
    Column("governs", "text", "The check that it is of; empty where nothing is demanded.", ("", *LABELS)),
    Column("movement_m", "length", "Of the top under the cold pull, towards it. [m]"),
    Column("least_hole_depth_m", "length", "Least depth that still passes; null where none does. [m]"),
)
BRACE_STRENGTH = (
    Column("utilisation", "ratio", "Largest demand over capacity of the brace and its footing. [-]"),
    Column("fastener_n", "force", "Force along the brace that the joint of brace and post must carry. [N]"),
    Column(
        "least_hole_depth_m",
        "length",
        "Least depth of the footing that still passes; null: none or no hole. [m]",
    ),
)
CHECKS = (
    Column("post", "text", "Post that is checked, or that the brace props."),
    Column("brace", "text", "Brace that is checked; empty where the check is the post's own."),
    Column("part", "text", "Part that is checked.", PARTS),
    Column("case", "text", "Load case that governs it."),
    Column("check", "text", "What is checked.", LABELS),
    Column("demand", "amount", "What is asked of it. [unit]"),
    Column("capacity", "amount", "What it carries; null: without limit. [unit]"),
    Column(
        "unit", "text", "Unit of demand and capacity.", tuple(dict.fromkeys(k.unit for k in KINDS.values()))
    ),
    Column("utilisation", "ratio", "Demand over capacity; null: no capacity at all. [-]"),
    Column(
        "counted", "flag", "False: a second opinion, frost or lean, which the post's utilisation leaves out."
    ),
    Column("source", "text", "Publication, by its key in the register."),
    Column("clause", "text", "Clause, table or equation there."),
)
