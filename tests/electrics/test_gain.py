"""The playback curve against its table, and the gain chain against hand calculation."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.gain import (
    amplified_volts,
    cartridge_volts,
    gain_between,
    overload_velocity,
    riaa_gain_db,
)

REFERENCE = Path(__file__).parents[1] / "reference"


def table():
    return np.genfromtxt(REFERENCE / "riaa.csv", delimiter=",", names=True)


def test_that_the_playback_curve_is_that_of_its_time_constants():
    rows = table()
    assert riaa_gain_db(rows["freq_hz"]) == pytest.approx(rows["riaa_db_re_1khz"], abs=0.001)


def test_that_the_amended_curve_is_that_of_its_time_constants():
    rows = table()
    assert riaa_gain_db(rows["freq_hz"], True) == pytest.approx(
        rows["riaa_iec_amended_db_re_1khz"], abs=0.001
    )


def test_that_the_usual_printed_table_comes_out():
    # The two-decimal table that is printed everywhere, from memory.
    rows = table()
    printed = rows[~np.isnan(rows["published_two_decimals_memory"])]
    assert printed.size >= 20
    assert riaa_gain_db(printed["freq_hz"]) == pytest.approx(
        printed["published_two_decimals_memory"], abs=0.006
    )


def test_that_the_cutting_side_is_the_inverse():
    # A cutting amplifier's manual prints +13.7 dB at 10 kHz; gain at 1 kHz is 19.911 dB below DC gain
    # (computed).
    assert -riaa_gain_db(10_000.0) == pytest.approx(13.7, abs=0.05)
    assert riaa_gain_db(0.001) == pytest.approx(19.911, abs=0.001)


@pytest.mark.parametrize(
    ("input_v", "output_v", "gain_db"),
    # By hand: 800 and 6666.7 times.
    [(0.0025, 2.0, 58.06), (0.0003, 2.0, 76.48)],
)
def test_that_cartridges_need_the_gain_worked_out_by_hand(input_v, output_v, gain_db):
    assert gain_between(input_v, output_v) == pytest.approx(gain_db, abs=0.005)
    assert amplified_volts(input_v, gain_db) == pytest.approx(output_v, rel=1e-3)


def test_that_cartridge_output_is_proportional_to_velocity():
    assert cartridge_volts(2.5, 5.0) == pytest.approx(0.0025, rel=1e-12)
    assert cartridge_volts(0.3, 25.0) == pytest.approx(0.0015, rel=1e-12)


@given(st.floats(20.0, 20_000.0), st.floats(0.1, 20.0), st.floats(0.1, 10.0), st.floats(20.0, 70.0))
def test_that_a_groove_of_the_overload_velocity_makes_the_overload_voltage(
    hertz, most_v, millivolts, gain_db
):
    velocity = overload_velocity(hertz, most_v, millivolts, gain_db)
    output = amplified_volts(cartridge_volts(millivolts, velocity), gain_db + riaa_gain_db(hertz))
    assert output == pytest.approx(most_v, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: riaa_gain_db(0.0), "frequency_hz must be above 0, got 0"),
        (lambda: cartridge_volts(-1.0, 5.0), "cartridge_mv must be at least 0, got -1"),
        (lambda: cartridge_volts(1.0, -5.0), "velocity_cm_s must be at least 0, got -5"),
        (lambda: amplified_volts(-0.1, 3.0), "volts must be at least 0, got -0.1"),
        (lambda: gain_between(0.0, 1.0), "input_v must be above 0, got 0"),
        (lambda: gain_between(1.0, np.nan), "output_v must be above 0, got nan"),
        (lambda: overload_velocity(1000.0, 8.0, 0.0, 40.0), "cartridge_mv must be above 0, got 0"),
    ],
)
def test_that_senseless_chains_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()


def test_that_scalars_give_floats_and_arrays_broadcast():
    assert isinstance(riaa_gain_db(50), float)
    assert riaa_gain_db(np.full((2, 3), 50.0)).shape == (2, 3)
    assert overload_velocity(np.full((3, 1), 50.0), 8.0, np.full(4, 2.5), 40.0).shape == (3, 4)
