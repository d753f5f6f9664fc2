"""The job file's tables and keys (docs/job-file.md is made from this module)."""

import json
from typing import Annotated, Literal

from pydantic import Field

from fencewright.job.fields import (
    NUMBER,
    Allowance,
    Angle,
    Coordinate,
    Factor,
    Force,
    Latitude,
    Length,
    Longitude,
    Section,
    Share,
    SignedLength,
    SmallLength,
    Temperature,
)
from fencewright.job.holding_schema import Strength, Tension
from fencewright.job.measured_schema import Measured
from fencewright.job.paper_schema import Paper
from fencewright.job.price_schema import (
    Alternative,
    Extra,
    Neighbour,
    PaymentStage,
    Preparation,
    Price,
    Rate,
)
from fencewright.job.programme_schema import Programme
from fencewright.job.risk_schema import Risk
from fencewright.job.size_schema import Size
from fencewright.job.stake_out_schema import Load, Reference, StakeOut

Point = tuple[Coordinate, Coordinate]
Name = str


class JobHead(Section):
    """`[job]`: what the job is called and how its sheets are printed."""

    name: str = Field(min_length=1, max_length=300, description="Name of the job, printed on every sheet.")
    client: str = Field("", description="Who it is for.")
    builder: str = Field("", description="Who builds it.")
    place: str = Field("", description="Where it is, as text.")
    revision: str = Field("1", description="Revision printed on every sheet.")
    sheets: Literal["us", "metric"] = Field("us", description="Units of the sheets.")


class Stock(Section):
    """`[stock]`: the animals that the fence keeps; it proposes rails, height and bottom gap."""

    kept: list[str] = Field(
        default_factory=list, description="`horses`, `foals`, `stallions`, `cattle`, `sheep`."
    )


class Site(Section):
    """`[site]`: ground, coordinates, soil and climate."""

    crs: str | None = Field(
        None,
        description="`local` (a plane) or an EPSG code; left out with geographic files: chosen and named.",
    )
    origin: tuple[Latitude, Longitude] | None = Field(
        None,
        description="Latitude and longitude of the plane's 0, 0 in degrees, so that a local plane has a place.",
    )
    north: Angle = Field(0.0, description="Bearing of the local plane's y axis, clockwise from true north.")
    ground: str = Field(
        "flat", description="`flat`, or a file of spot heights, a raster, a point cloud, level notes."
    )
    ground_unit: Literal["m", "ft", "us-ft"] | None = Field(
        None, description="Unit of the ground file's heights, where the file does not say."
    )
    file_unit: Literal["m", "ft", "us-ft"] | None = Field(
        None,
        description="Unit of plane coordinates in files that do not say (CSV, DXF, terrain without a system).",
    )
    ground_sd: SmallLength | None = Field(
        None, description="Standard deviation of one ground height, if known better."
    )
    survey: Literal["survey", "rtk"] = Field("survey", description="How spot heights were taken.")
    frost_depth: SmallLength | None = Field(None, description="Depth to which the ground freezes here.")
    soil: str | None = Field(None, description="A class of IBC Table 1806.2, in words.")
    unstable: bool = Field(False, description="Boggy or loose ground: line posts are concreted.")
    coldest: Temperature | None = Field(None, description="Coldest air that the fence must bear.")
    hottest: Temperature | None = Field(None, description="Hottest air.")


class SoilZone(Section):
    """`[[soil_zone]]`: another soil between two stations of a line; zones may meet but not share ground."""

    line: Name
    start: Length = Field(alias="from", description="Station where the zone begins.")
    end: Length = Field(alias="to", description="Station where it ends.")
    soil: str = Field(description="A class of IBC Table 1806.2, in words.")
    unstable: bool = False


class Line(Section):
    """`[[line]]`: a fence line as drawn."""

    name: Name = Field(min_length=1, max_length=100)
    points: list[Point] | None = Field(None, description="Points in order, each `[x, y]` with units.")
    file: str | None = Field(None, description="A site file instead of points.")
    layer: str | None = Field(None, description="Layer of that file.")
    feature: str | None = Field(None, description="Name of one feature in it, where it holds several.")
    closed: bool | None = Field(None, description="Whether the last point joins the first; a file may say.")
    drawn: Literal["post centres", "rail face", "boundary"] = Field(
        "post centres", description="What the drawn line is."
    )
    set_back: Length = Field(0.0, description="From a boundary to the nearest face of the posts.")
    inside: Literal["left", "right"] | None = Field(
        None, description="Side of the owner's land seen along the line; found for a closed line."
    )
    stock_side: Literal["left", "right", "inside", "outside", "both"] | None = Field(
        None, description="Side on which the animals stand; `inside` for a closed line."
    )
    rail_side: Literal["stock", "left", "right"] | None = Field(
        None, description="Side of the line posts that carries the rail; at corners the rail runs outside."
    )
    straighten: Length = Field(0.0, description="Points nearer than this to the straight line are left out.")


class Gate(Section):
    """`[[gate]]`: an opening between the faces of two posts."""

    name: Name = ""
    line: Name
    at: Length = Field(description="Station of the centre of its nearer post.")
    opening: Length = Field(description="Between post faces.")
    leaf: Length | None = Field(
        None, description="Length of the leaf; left out: the opening less hinge and latch room."
    )
    hinge: Literal["near", "far"] = "near"
    swing: Literal["left", "right", "both"] = Field("left", description="Side to which the leaf swings.")


class Crossing(Section):
    """`[[crossing]]`: open water spanned by a hung gap between two ends."""

    name: Name = ""
    line: Name
    at: Length = Field(description="Station of the centre of its nearer post.")
    width: Length = Field(description="Between post centres.")


class Obstacle(Section):
    """`[[obstacle]]`: something in the way."""

    name: Name = ""
    kind: str = Field(description="`buried water`, `tree`, ... (docs/job-file.md lists them).")
    points: list[Point] | None = None
    file: str | None = None
    layer: str | None = None
    feature: str | None = None
    closed: bool = Field(False, description="Whether the points bound an area.")
    clearance: SmallLength | None = Field(None, description="From its edge to the hole's widest edge.")
    radius: SmallLength = Field(0.0, description="Half its width (a trunk, a pipe).")


class Fence(Section):
    """`[fence]`: rails, heights, spacing and pulls."""

    rails: Annotated[int, Field(ge=1, le=12), NUMBER] | None = Field(
        None, description="Number of equal rails; or state `[[strand]]` tables."
    )
    rail: str = Field("polymer rail", description="Catalogue row of those rails.")
    spacing_limit: Length | None = Field(
        None, description="Largest span between line posts, along the ground."
    )
    top_height: SmallLength | None = Field(None, description="Of the cut top above ground.")
    bottom_gap: SmallLength | None = Field(None, description="Under the lowest rail.")
    top_reveal: SignedLength | None = Field(None, description="Cut top above the top rail's upper edge.")
    corner_angle: Angle | None = Field(None, description="A vertex that turns this much or more is a corner.")
    pull_length_limit: Length | None = Field(None, description="Longest rail that one tensioner draws.")
    friction: Factor | None = Field(None, description="Rail on bracket once worked round its corners.")
    far_end_share: Share | None = Field(
        None, description="Least share of the pull that must reach the far end."
    )
    tail: SmallLength | None = Field(None, description="Spare rail at each end of a pull.")
    line_posts: Literal["tamped", "driven", "concrete"] | None = Field(
        None, description="How line posts are set."
    )


class Strand(Section):
    """`[[strand]]`: one rail or wire, counted from the ground up."""

    rail: str = Field(description="Catalogue row: `polymer rail`, `coated wire`, ...")
    height: SmallLength | None = Field(
        None, description="Of its centre above ground; left out: spread evenly."
    )
    roll: Length | None = Field(None, description="Length of its rolls; left out: the catalogue's.")
    tensioner: str = Field("", max_length=60, description="What draws it; left out: that of its kind.")
    fixing: str = Field("", max_length=60, description="What holds it to line posts; left out: its kind's.")


class Posts(Section):
    """`[posts]`: diameters and stock lengths."""

    line_diameter: SmallLength | None = None
    end_diameter: SmallLength | None = None
    line_lengths: list[SmallLength] | None = Field(None, description="Stock lengths of line posts.")
    end_lengths: list[SmallLength] | None = Field(
        None, description="Stock lengths of end, gate and corner posts."
    )
    trim: SmallLength | None = Field(None, description="Least length to saw off a top.")


class Holes(Section):
    """`[holes]`: what is stated is kept and checked; what is left out is chosen."""

    auger: SmallLength | None = None
    bell: SmallLength | None = Field(None, description="Wider at the bottom than at the top by this.")
    bell_height: SmallLength | None = None
    end_depth: SmallLength | None = Field(None, description="Ends, gates, corners.")
    brace_depth: SmallLength | None = None
    line_depth: SmallLength | None = None
    recess: SmallLength | None = Field(None, description="Concrete stops this far below grade.")
    bag: str | None = Field(None, description="Catalogue row of the bagged concrete.")
    waste: Share | None = Field(None, description="Concrete waste.")


class Brace(Section):
    """`[brace]`: how ends are braced."""

    kind: Literal["diagonal", "horizontal", "none"] | None = None
    bays: Annotated[Literal[1, 2], NUMBER] | None = Field(
        None,
        description="Braces each way, one behind the other: 2 takes a second level brace and tie, or a second diagonal.",
    )
    reach: SmallLength | None = Field(
        None, description="From the post to the brace's foot or second upright."
    )
    contact: SmallLength | None = Field(None, description="Height at which the brace meets the post.")
    lean: SmallLength | None = Field(None, description="Lean of the post away from the pull, at its top.")
    diameter: SmallLength | None = None
    lengths: list[SmallLength] | None = None


class TopLine(Section):
    """`[top_line]`: how far the top may ride above and below its nominal height."""

    low: Allowance | None = Field(None, description="How far a top may stand below its nominal height.")
    high: Allowance | None = Field(None, description="How far a top may stand above its nominal height.")
    gap_low: Allowance | None = Field(
        None, description="How much smaller than nominal the gap under the lowest rail may be."
    )
    gap_high: Allowance | None = Field(
        None, description="How much larger than nominal the gap under the lowest rail may be."
    )
    cut_limit: Allowance | None = Field(
        None, description="No cut is printed where the ground is known worse."
    )


class Rolls(Section):
    """`[rolls]`: how rails are cut from rolls, and what lies in the yard."""

    length: Length | None = Field(None, description="Roll length, for all rails; left out: the catalogue's.")
    remainders: list[Length] = Field(default_factory=list, description="Usable pieces already in the yard.")
    splice_price: Length | None = Field(None, description="A splice counts as this much rail.")
    least_fragment: Length | None = None


class Pin(Section):
    """`[[pin]]`: something that the designer fixes, by line and station."""

    line: Name
    at: Length = Field(description="Station.")
    height: SmallLength | None = Field(None, description="Height of the post's top above ground there.")
    top: Coordinate | None = Field(None, description="Elevation of the post's top there.")
    post: bool = Field(False, description="A post must stand at this station.")


class Strain(Section):
    """`[[strain]]`: a post where the rail must end both ways."""

    line: Name
    at: Length = Field(description="Station; a corner there becomes a rail end.")


class Built(Section):
    """`[[built]]`: a post already set, which the design keeps."""

    line: Name
    at: Length = Field(description="Station where it really stands.")
    offset: SignedLength | None = Field(
        None, description="Of its centre left of the line; left out: its face is at the string."
    )
    depth: SmallLength | None = Field(None, description="Its real depth.")
    height: SmallLength | None = Field(None, description="Its cut top above ground, if it is cut already.")
    ground: SignedLength | None = Field(
        None, description="Elevation of the ground at it, where it is not that of the site's heights."
    )


class Rock(Section):
    """`[[rock]]`: a hole that met rock."""

    line: Name
    at: Length = Field(description="Station of the hole.")
    depth: SmallLength = Field(description="Depth at which the auger stopped.")


class Catalogue(Section):
    """`[catalogue]`: supplier's data sheets in the shape of the shipped ones."""

    files: list[str] = Field(default_factory=list)


class JobFile(Section):
    """The whole job file."""

    job: JobHead
    stock: Stock = Stock()
    site: Site = Site()
    soil_zone: list[SoilZone] = Field(default_factory=list)
    line: list[Line] = Field(default_factory=list)
    gate: list[Gate] = Field(default_factory=list)
    crossing: list[Crossing] = Field(default_factory=list)
    obstacle: list[Obstacle] = Field(default_factory=list)
    fence: Fence = Fence()
    strand: list[Strand] = Field(default_factory=list)
    posts: Posts = Posts()
    holes: Holes = Holes()
    brace: Brace = Brace()
    top_line: TopLine = TopLine()
    tension: Tension = Tension()
    strength: Strength = Strength()
    rolls: Rolls = Rolls()
    strain: list[Strain] = Field(default_factory=list)
    pin: list[Pin] = Field(default_factory=list)
    built: list[Built] = Field(default_factory=list)
    rock: list[Rock] = Field(default_factory=list)
    size: list[Size] = Field(default_factory=list)
    catalogue: Catalogue = Catalogue()
    reference: list[Reference] = Field(default_factory=list)
    stake_out: StakeOut = StakeOut()
    load: Load = Load()
    measured: list[Measured] = Field(default_factory=list)
    price: Price = Price()
    preparation: Preparation = Preparation()
    payment: list[PaymentStage] = Field(default_factory=list)
    neighbour: list[Neighbour] = Field(default_factory=list)
    extra: list[Extra] = Field(default_factory=list)
    rate: list[Rate] = Field(default_factory=list)
    alternative: list[Alternative] = Field(default_factory=list)
    risk: Risk = Risk()
    programme: Programme = Programme()
    paper: Paper = Paper()


def job_schema_text() -> str:
    """JSON schema of the job file as editors read it: what `fencewright new` writes and the docs publish."""
    return json.dumps(JobFile.model_json_schema(by_alias=True), indent=1, sort_keys=True) + "\n"


__all__ = [
    "Brace",
    "Built",
    "Catalogue",
    "Crossing",
    "Fence",
    "Force",
    "Gate",
    "Holes",
    "JobFile",
    "JobHead",
    "Line",
    "Obstacle",
    "Paper",
    "Pin",
    "Posts",
    "Programme",
    "Risk",
    "Rock",
    "Rolls",
    "Site",
    "Size",
    "SoilZone",
    "Stock",
    "Strain",
    "Strand",
    "Strength",
    "Tension",
    "TopLine",
]
