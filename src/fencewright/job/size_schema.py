"""The job file's table `[[size]]`: sizes of one post or of one brace's footing, by line and station."""

from typing import Literal

from pydantic import Field

from fencewright.job.fields import Length, Section, SmallLength


class Size(Section):
    """`[[size]]`: sizes that the job fixes for one post or one brace's footing; they are kept, and checked."""

    line: str
    at: Length = Field(
        description="Station of the post, or of the brace's foot; the nearest within 1 ft is meant."
    )
    part: Literal["post", "brace"] = Field(
        "post", description="Whether it is of the post, or of the footing of a diagonal brace."
    )
    diameter: SmallLength | None = Field(
        None, description="Of the post; a gate's posts keep that of `[posts]`."
    )
    hole: SmallLength | None = Field(None, description="Width of the hole above its bell.")
    bell: SmallLength | None = Field(None, description="Wider at the bottom than at the top by this.")
    depth: SmallLength | None = Field(None, description="Depth of the hole.")
    set: Literal["tamped", "driven", "concrete"] | None = Field(None, description="How the post is held.")
