"""Ground without files: flat, grid, spot heights, a surveyed line, and stretches without ground."""

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from fencewright.findings import STOP, InputError
from fencewright.quantity.show import UnitSystem
from fencewright.site import grid_ground
from fencewright.site.grid_ground import GridGround, GridPlace
from fencewright.site.ground import FlatGround, Ground, missing_ground_findings
from fencewright.site.profile_ground import ProfileGround
from fencewright.site.spot_ground import SpotGround

METRIC = UnitSystem("metric")

FloatArray = NDArray[np.float64]


def test_flat_ground_is_level_everywhere() -> None:
    ground: Ground = FlatGround(12.5, 0.02)
    x = np.array([0.0, 1e6, -3.0])
    assert ground.elevation_m(x, x).tolist() == [12.5, 12.5, 12.5]
    assert ground.sd_m(x, x).tolist() == [0.02, 0.02, 0.02]
    assert not ground.is_coarse
    assert ground.elevation_m(x[:0], x[:0]).shape == (0,)


class TestGrid:
    def grid(self, **changes: float) -> GridGround:
        """Make a plane that rises 1.5 m a metre of x and falls 2 m a metre of y, north row first."""
        heights = 100.0 + 3.0 * np.arange(6.0)[np.newaxis, :] + 2.0 * np.arange(5.0)[:, np.newaxis]
        options: dict[str, float] = {"height_sd_m": 0.1, **changes}
        return GridGround(heights, GridPlace(10.0, 20.0, 2.0, -1.0), **options)  # type: ignore[arg-type]  # one kind of keyword only

    def test_plane_is_exact_between_nodes(self) -> None:
        x, y = np.array([10.0, 11.0, 19.9, 20.0]), np.array([20.0, 18.25, 16.1, 16.0])
        np.testing.assert_allclose(
            self.grid().elevation_m(x, y), 100.0 + 1.5 * (x - 10.0) + 2.0 * (20.0 - y), atol=1e-12
        )

    def test_outer_half_cell_holds_and_beyond_is_unknown(self) -> None:
        x, y = np.array([9.01, 8.9, 15.0, 15.0]), np.array([20.0, 20.0, 20.49, 20.6])
        np.testing.assert_allclose(self.grid().elevation_m(x, y), [100.0, np.nan, 107.5, np.nan])
        assert np.isnan(self.grid().sd_m(x, y)).tolist() == [False, True, False, True]

    def test_many_points_are_told_as_each_alone(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """Parts with and without unknown heights, and with places off the grid, at nodes and between."""
        random = np.random.default_rng(3)
        heights = 200.0 + random.standard_normal((9, 12))
        heights[4, 5:8] = np.nan
        ground = GridGround(heights, GridPlace(0.0, 0.0, 1.0, 1.0), height_sd_m=0.02, subcell_share=0.3)
        x, y = np.sort(random.uniform(-1.0, 12.0, 300)), random.uniform(-1.0, 9.0, 300)
        x[::7], y[::7] = np.round(x[::7]), np.round(y[::7])
        alone = [
            (ground.elevation_m(x[k : k + 1], y[k : k + 1]), ground.sd_m(x[k : k + 1], y[k : k + 1]))
            for k in range(300)
        ]
        monkeypatch.setattr(grid_ground, "_PART", 40)
        for column, asked in enumerate((ground.elevation_m, ground.sd_m)):
            told = asked(x, y)
            np.testing.assert_array_equal(told, np.concatenate([one[column] for one in alone]))
            assert 0 < np.isnan(told).sum() < 150

    def test_unknown_neighbour_makes_unknown_only_where_it_weighs(self) -> None:
        heights = np.array([[1.0, 2.0, np.nan], [1.0, 2.0, 3.0]])
        grid = GridGround(heights, GridPlace(0.0, 0.0, 1.0, 1.0), height_sd_m=0.0)
        x, y = np.array([1.0, 1.5, 2.0, 1.5]), np.array([0.0, 0.5, 1.0, 1.0])
        np.testing.assert_allclose(grid.elevation_m(x, y), [2.0, np.nan, 3.0, 2.5])

    def test_standard_deviation_joins_survey_rounding_and_fall_in_a_cell(self) -> None:
        ground = self.grid(step_m=1.0, subcell_share=0.25)
        fall = math.hypot(3.0, 2.0)
        expected = math.sqrt(0.1**2 + 1.0 / 12.0 + (0.25 * fall) ** 2)
        np.testing.assert_allclose(ground.sd_m(np.array([13.0]), np.array([18.5])), [expected])

    def test_rounding_to_whole_metres_has_the_spread_that_is_stated(self) -> None:
        rng = np.random.default_rng(4)
        true = rng.uniform(200.0, 300.0, 20_000)
        ground = GridGround(np.rint(true)[:, np.newaxis], GridPlace(0, 0, 1, 1), height_sd_m=0.0, step_m=1.0)
        y = np.arange(20_000.0)
        error = ground.elevation_m(np.zeros_like(y), y) - true
        assert np.std(error) == pytest.approx(ground.sd_m(np.zeros(1), np.zeros(1))[0], rel=0.02)

    def test_nan_place_is_unknown(self) -> None:
        assert np.isnan(self.grid().elevation_m(np.array([np.nan]), np.array([18.0]))).all()

    @pytest.mark.parametrize("place", [GridPlace(0, 0, 0, 1), GridPlace(0, 0, 1, np.nan)])
    def test_cells_of_no_size_are_refused(self, place: GridPlace) -> None:
        with pytest.raises(ValueError, match="steps"):
            GridGround(np.zeros((2, 2)), place, height_sd_m=0.0)

    def test_empty_array_is_refused(self) -> None:
        with pytest.raises(ValueError, match="at least one"):
            GridGround(np.zeros((0, 2)), GridPlace(0, 0, 1, 1), height_sd_m=0.0)


class TestSpots:
    def square(self) -> SpotGround:
        spots = np.array([[0, 0, 1], [10, 0, 2], [10, 10, 3], [0, 10, 2]], float)
        return SpotGround(spots, spot_sd_m=0.01, reach_m=1.0)

    def test_spots_are_met_and_planes_are_exact(self) -> None:
        rng = np.random.default_rng(1)
        xy = rng.uniform(0, 100, (150, 2)) + [470_000, 5_150_000]
        plane = 0.03 * (xy[:, 0] - 470_000) - 0.02 * (xy[:, 1] - 5_150_000)
        ground = SpotGround(np.column_stack([xy, plane]), spot_sd_m=0.01)
        np.testing.assert_allclose(ground.elevation_m(*xy.T), plane, atol=1e-7)
        inside = rng.uniform(30, 70, (50, 2))
        np.testing.assert_allclose(
            ground.elevation_m(*(inside + [470_000, 5_150_000]).T), inside @ [0.03, -0.02], atol=1e-7
        )
        assert ground.roughness < 1e-9
        np.testing.assert_allclose(ground.sd_m(*xy[:3].T), 0.01)

    def test_hull_edge_and_a_little_beyond_are_read_farther_is_unknown(self) -> None:
        x, y = np.array([5.0, 5.0, 5.0, 10.5, 5.0]), np.array([0.0, -0.5, -1.5, 10.5, 10.9])
        np.testing.assert_allclose(self.square().elevation_m(x, y), [1.5, 1.5, np.nan, 3.0, 2.5])

    def test_roughness_covers_the_error_between_spots(self) -> None:
        rng = np.random.default_rng(2)
        xy = rng.uniform(0, 200, (400, 2))

        def hills(place: FloatArray) -> FloatArray:
            return np.asarray(2.0 * np.sin(place[:, 0] / 15.0) * np.cos(place[:, 1] / 18.0))

        ground = SpotGround(np.column_stack([xy, hills(xy)]), spot_sd_m=0.0)
        asked = rng.uniform(10, 190, (3000, 2))
        error, sd = ground.elevation_m(*asked.T) - hills(asked), ground.sd_m(*asked.T)
        share = np.sqrt(np.mean((error / sd) ** 2))
        assert 0.2 < share < 1.0

    def test_two_heights_on_one_place_are_averaged(self) -> None:
        spots = np.array([[0, 0, 1], [0, 0, 3], [10, 0, 2], [0, 10, 2]], float)
        ground = SpotGround(spots, spot_sd_m=0.01)
        np.testing.assert_allclose(ground.elevation_m(np.zeros(1), np.zeros(1)), [2.0])

    def test_far_apart_spots_are_coarse(self) -> None:
        spots = np.array([[0, 0, 1], [10, 0, 2], [10, 10, 3], [0, 10, 2]], float)
        assert SpotGround(spots, spot_sd_m=0.0, coarse_spacing_m=5.0).is_coarse
        assert not SpotGround(spots, spot_sd_m=0.0, coarse_spacing_m=12.0).is_coarse

    @pytest.mark.parametrize(
        ("spots", "words"),
        [
            (np.zeros((0, 3)), "at least three"),
            (np.array([[0, 0, 1], [1, 1, 1], [2, 2, 5.0]]), "one line"),
            (np.array([[0, 0, np.nan], [1, 1, 1], [2, 0, 5.0]]), "not a number"),
        ],
    )
    def test_too_little_is_refused_in_a_sentence(self, spots: FloatArray, words: str) -> None:
        with pytest.raises(InputError, match=words):
            SpotGround(spots, spot_sd_m=0.01)


class TestProfile:
    def corner(self) -> ProfileGround:
        points = np.array([[0, 0, 1], [10, 0, 2], [10, 10, 4]], float)
        return ProfileGround(points, point_sd_m=np.array([0.0, 0.03, 0.04]), reach_m=2.0, cross_slope=0.1)

    def test_heights_by_projection_within_reach(self) -> None:
        x, y = np.array([5.0, 5.0, 5.0, 11.0, 10.0]), np.array([0.0, 1.5, 2.5, 5.0, 10.0])
        np.testing.assert_allclose(self.corner().elevation_m(x, y), [1.5, 1.5, np.nan, 3.0, 4.0])

    def test_standard_deviation_grows_away_from_the_line(self) -> None:
        x, y = np.array([10.0, 5.0, 5.0]), np.array([0.0, -2.0, -3.0])
        np.testing.assert_allclose(
            self.corner().sd_m(x, y), [0.03, math.hypot(0.015, 0.2), np.nan], atol=1e-12
        )

    def test_legs_need_not_follow_each_other(self) -> None:
        points = np.array([[0, 0, 0], [10, 0, 1], [0, 5, 2], [10, 5, 3]], float)
        legs = np.array([[0, 1], [2, 3]], dtype=np.intp)
        ground = ProfileGround(points, point_sd_m=0.0, legs=legs, reach_m=1.0)
        np.testing.assert_allclose(
            ground.elevation_m(np.array([5.0, 5.0, 10.0]), np.array([0.0, 5.0, 2.5])), [0.5, 2.5, np.nan]
        )

    def test_points_on_one_place_are_refused(self) -> None:
        with pytest.raises(InputError, match="two points"):
            ProfileGround(np.zeros((3, 3)), point_sd_m=0.0, reach_m=1.0)


class TestMissingGround:
    station = np.arange(0.0, 60.0, 10.0)

    def test_each_stretch_is_named_once(self) -> None:
        heights = np.array([1.0, np.nan, np.nan, 2.0, 2.0, np.nan])
        first, second = missing_ground_findings(heights, self.station, "north", "dem.tif", METRIC)
        assert (first.level, first.code, first.where.station_m) == (STOP, "ground-missing", 10.0)
        assert "from station 10.00 m to 20.00 m" in first.message
        assert "at station 50.00 m" in second.message
        first, second = missing_ground_findings(heights, self.station, "north", "dem.tif", UnitSystem("us"))
        assert "from station 32.8 ft to 65.6 ft" in first.message
        assert "at station 164.0 ft" in second.message

    def test_full_ground_says_nothing_and_none_says_anywhere(self) -> None:
        assert not missing_ground_findings(np.zeros(6), self.station, "north", "dem.tif", METRIC)
        (only,) = missing_ground_findings(np.full(6, np.nan), self.station, "north", "dem.tif", METRIC)
        assert "anywhere" in only.message
