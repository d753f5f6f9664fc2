"""The job file's tables for the field: `[[reference]]`, `[stake_out]`, `[load]`."""

from pydantic import Field

from fencewright.job.fields import Coordinate, Latitude, Length, Longitude, Mass, Section, Share, SmallLength


class Reference(Section):
    """`[[reference]]`: a point that tape ties start from: a corner of a building, a survey mark."""

    name: str = Field(min_length=1, max_length=100)
    at: tuple[Coordinate, Coordinate] | None = Field(None, description="Its place, `[x, y]` with units.")
    lat_lon: tuple[Latitude, Longitude] | None = Field(
        None, description="Its latitude and longitude in degrees, instead of `at`."
    )
    elevation: Coordinate | None = Field(
        None, description="Its elevation in the ground's heights; left out: that of the ground there."
    )


class StakeOut(Section):
    """`[stake_out]`: how holes are marked, and with what tape."""

    tape_length: Length | None = Field(None, description="Longest tie that the tape takes.")
    tape_sd: SmallLength | None = Field(
        None, description="Standard deviation of one taped length: its fixed part ..."
    )
    tape_share: Share | None = Field(None, description="... and the part that grows with the length.")
    peg_beyond: SmallLength | None = Field(
        None, description="String-line pegs stand this far past corners and ends."
    )
    check_leg: SmallLength | None = Field(
        None, description="Measured along both legs of a corner; of a right one the side across."
    )


class Load(Section):
    """`[load]`: what the truck carries."""

    payload: Mass | None = Field(None, description="What it may carry.")
