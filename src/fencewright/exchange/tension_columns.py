"""Columns of design.json that say how tight each pull is drawn, and how that is proven on site."""

from fencewright.exchange.design_columns import Column
from fencewright.tables.tension import GOVERNS_HIGH, GOVERNS_LOW, PLACES

DRAWN_FROM = ("first post", "last post", "both")

CHART = (
    Column("rail_temperature_c", "temperature", "Temperature of the rail while it is pulled. [C]"),
    Column(
        "tension_n", "force", "Tension of one rail to pull to; null on a day when it may not be pulled. [N]"
    ),
    Column(
        "window_n", "forces", "Least and most on that day; the least above the most: no tension will do. [N]"
    ),
)
AT_POSTS = (
    Column("post", "names", "Posts of the pull, first to last."),
    Column("while_pulling", "forces", "Tension beyond each of them while the rail is drawn. [N]"),
    Column("after_working", "forces", "The same once the rail is worked round its corners. [N]"),
)
TENSION = (
    Column("pull", "text", "Pull; one row each. Strands of one product in one run are alike."),
    Column("set_tension_n", "force", "Of one rail, at the tensioner, at the reference temperature. [N]"),
    Column(
        "window_n", "forces", "Least and most of it: neither slack in summer nor too tight in winter. [N]"
    ),
    Column("window_open", "flag", "False: no tension satisfies both."),
    Column("governs_low", "text", "What the least follows from.", GOVERNS_LOW),
    Column("governs_high", "text", "What the most follows from.", GOVERNS_HIGH),
    Column("reference_temperature_c", "temperature", "Rail temperature of the set tension. [C]"),
    Column("chart", "table", "Tension to pull to by the rail's temperature that day.", rows=CHART),
    Column(
        "tension_at_posts_n", "object", "Tension along the pull, three equally long lists.", rows=AT_POSTS
    ),
    Column("tensioner_post", "text", "Post that carries the tensioner."),
    Column("anchor_post", "text", "Post at the other end; it has a tensioner too where drawn from both."),
    Column("drawn_from", "text", "End or ends of the pull that have a tensioner.", DRAWN_FROM),
    Column("far_share", "ratio", "Part of the tension that reaches the loosest span once worked. [-]"),
    Column("loosest_post", "text", "Post at the beginning of the loosest span."),
    Column("cold_n", "force", "Tension on the coldest day. [N]"),
    Column("hot_n", "force", "Tension on the hottest day. [N]"),
    Column("sag_hot_m", "length", "Deepest sag on the hottest day. [m]"),
    Column("stretch_m", "length", "Stretch of the rail. [m]"),
    Column("slack_m", "length", "Slack taken up. [m]"),
    Column("end_yield_m", "length", "Yield of both ends. [m]"),
    Column("take_up_m", "length", "Their sum: rail that goes on the spool. [m]"),
    Column("turns", "turns", "Turns of the tensioner's spool. [-]"),
    Column("regrips", "whole", "Times that the rail is gripped anew because the spool is full."),
    Column("extra_rail_m", "length", "Rail that the re-grips use up. [m]"),
    Column("marked_m", "length", "Length between two marks on the rail that a person watches. [m]"),
    Column("marked_stretch_m", "length", "By how much those marks move apart. [m]"),
    Column("repull_days", "amount", "Days after which to pull again. [days]"),
    Column("repull_loss_n", "force", "Tension lost by then, to creep and settling posts. [N]"),
    Column("repull_m", "length", "Rail to take in then. [m]"),
)
SITE_CHECKS = (
    Column("pull", "text", "Lowest strand of its product in the run; strands like it share the row."),
    Column("post", "text", "The check is made in the span beyond this post, seen from the tensioner."),
    Column("place", "text", "Why there.", PLACES),
    Column("rail_temperature_c", "temperature", "Temperature of the rail. [C]"),
    Column("span_m", "length", "Span that is pushed or plucked. [m]"),
    Column("tension_n", "force", "Tension that belongs there. [N]"),
    Column("push_n", "force", "Push at mid-span. [N]"),
    Column("deflection_sliding_m", "length", "Deflection if the rail slides freely in its brackets. [m]"),
    Column("deflection_pinned_m", "length", "Deflection if it does not slide; the truth lies between. [m]"),
    Column("frequency_hz", "frequency", "Beats of a plucked rail. [1/s]"),
)
