"""What stands behind the picture of the map: steps of colour, gaps, the line of one level."""

import numpy as np
import pytest

from planner.desktop.floor_map.contour import contour
from planner.desktop.floor_map.grid import closed, finer, read_at
from planner.desktop.floor_map.ramp import ramp
from planner.desktop.floor_map.steps import FEWEST, MOST, steps_for

COLUMNS, ROWS = 60, 45


def middles(count):
    return (np.arange(count) + 0.5) / count


def hill():
    """A hill round the middle of the floor, 0.09 high at 0.3 from its foot."""
    return (middles(COLUMNS)[:, None] - 0.5) ** 2 + (middles(ROWS) - 0.5) ** 2


def test_that_the_line_round_a_hill_is_a_circle():
    pieces = contour(hill(), 0.09)
    radius = np.hypot(*(pieces - 0.5).transpose(2, 0, 1))
    # Straight pieces within cells of 1/45 may lie (1/45)²/(8·0.3) = 0.0002 inside a circle of 0.3.
    assert radius == pytest.approx(0.3, abs=4e-4)


def test_that_the_line_is_closed():
    ends = contour(hill(), 0.09).reshape(-1, 2).round(9)
    _, count = np.unique(ends, axis=0, return_counts=True)
    assert (count == 2).all()


def test_that_a_line_reaches_the_walls_and_not_beyond():
    slope = np.repeat(middles(COLUMNS)[:, None], ROWS, axis=1)
    pieces = contour(slope, 0.4)
    assert pieces[..., 0] == pytest.approx(0.4)
    assert (pieces[..., 1].min(), pieces[..., 1].max()) == (0.0, 1.0)


def test_that_there_is_no_line_where_all_is_above_or_below():
    assert contour(hill(), 9.0).shape == contour(hill(), -1.0).shape == (0, 2, 2)


def test_that_at_a_saddle_the_line_parts_high_from_low_by_the_middle():
    ridge = np.array([[2.0, 0.0], [0.0, 2.0]])
    # The middle is 1: at 0.9 both high corners hang together, at 1.1 both low ones.
    for level, cut_off in ((0.9, -1.0), (1.1, 1.0)):
        middles_m = contour(ridge, level).mean(axis=1) - 0.5
        inside = middles_m[(np.abs(middles_m) < 0.25).all(axis=1)]
        # Pieces cut off the low corners, which lie across, or the high ones.
        assert len(inside) == 2 and (np.sign(inside.prod(axis=1)) == cut_off).all()


def test_that_gaps_are_closed_from_their_edges():
    values = hill()
    holed = values.copy()
    holed[20:26, 10:16] = np.nan
    filled = closed(holed)
    assert np.isfinite(filled).all()
    assert (filled[np.isfinite(holed)] == values[np.isfinite(holed)]).all()
    inside = filled[20:26, 10:16]
    around = holed[19:27, 9:17]
    assert np.nanmin(around) <= inside.min() and inside.max() <= np.nanmax(around)


def test_that_a_finer_picture_keeps_the_values_and_is_flat_beyond_the_last():
    values = np.add.outer(np.arange(6.0), 10.0 * np.arange(4.0))
    fine = finer(values, 18, 12)
    # Of three cells in place of one, the middle one has its middle.
    assert fine[1::3, 1::3] == pytest.approx(values, abs=1e-4)
    assert fine[0, 0] == pytest.approx(0.0, abs=1e-4)
    assert np.diff(fine[1:-1, 5]) == pytest.approx(1.0 / 3.0, abs=1e-4)


def test_that_a_reading_between_points_is_linear_and_beside_a_gap_none():
    values = np.add.outer(np.arange(6.0), 10.0 * np.arange(4.0))
    # A third along six cells is 2.0, less half a cell; half across four is 2.0, less half a cell.
    assert read_at(values, 1.0 / 3.0, 0.5) == pytest.approx(1.5 + 15.0)
    assert read_at(values, 0.0, 1.0) == 30.0
    values[2, 2] = np.nan
    assert np.isnan(read_at(values, 0.4, 0.6))
    assert read_at(values, 0.5 / 6.0, 0.5 / 4.0) == 0.0


@pytest.mark.parametrize(
    ("low", "high"), [(3.5, 9.0), (-18.0, 30.0), (104.0, 104.3), (0.0, 0.0), (-80.0, 90.0)]
)
def test_that_steps_are_round_few_and_hold_the_values(low, high):
    steps = steps_for(np.linspace(low, high, 200))
    assert steps.count <= MOST
    assert steps.low / steps.size == pytest.approx(round(steps.low / steps.size))
    assert steps.low <= low + 0.011 * (high - low)
    assert steps.high >= high - 0.051 * (high - low)


def test_that_steps_stand_still_while_the_values_move_a_little():
    steps = steps_for(np.linspace(3.2, 8.8, 200))
    moved = steps
    for shift in np.arange(0.0, 0.4, 0.05):
        moved = steps_for(np.linspace(3.2 + shift, 8.8 + shift, 200), moved)
    assert moved == steps
    assert steps_for(np.linspace(0.0, 90.0, 200), steps).count <= MOST
    assert steps_for(np.linspace(3.0, 3.6, 200), steps).count >= 1
    assert FEWEST < MOST


SRGB_TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])


def lab(colours):
    """CIE 1976 L*, a*, b* of sRGB colours under D65 (IEC 61966-2-1, ISO/CIE 11664-4), (n, 3)."""
    channels = np.stack([colours >> 16 & 255, colours >> 8 & 255, colours & 255], axis=-1) / 255.0
    linear = np.where(channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)
    x, y, z = (linear @ SRGB_TO_XYZ.T / SRGB_TO_XYZ.sum(axis=1)).T
    x, y, z = (np.where(one > 0.008856, np.cbrt(one), 7.787 * one + 16.0 / 116.0) for one in (x, y, z))
    return np.stack([116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)], axis=-1)


@pytest.mark.parametrize("count", range(2, MOST + 1))
def test_that_the_colours_grow_evenly_lighter_so_that_grey_paper_tells_them_apart(count):
    steps = np.diff(lab(ramp(count))[:, 0])
    assert steps.min() > 0.75 * steps.mean() > 0.0


def test_that_the_colours_part_along_blue_and_yellow_and_hardly_along_red_and_green():
    _, red_green, blue_yellow = lab(ramp(64)).T
    # Who confuses red with green still sees every step of the other two.
    assert np.ptp(red_green) < 0.25 * np.ptp(blue_yellow)
    assert (np.diff(blue_yellow[8:]) > 0.0).all()
