"""Output transformer against Ohm's law."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.transformer import (
    output_impedance,
    reflected_load,
    turns_ratio,
    winding_resistances,
)

primaries, taps = st.floats(500.0, 20000.0), st.floats(1.0, 32.0)
windings = st.floats(0.0, 500.0)


@pytest.mark.parametrize(
    ("primary", "tap", "ratio"),
    [
        pytest.param(5000.0, 8.0, 25.0, id="by hand: 25 squared is 625"),
        pytest.param(3600.0, 4.0, 30.0, id="by hand: 30 squared is 900"),
        pytest.param(8.0, 8.0, 1.0, id="like for like"),
    ],
)
def test_that_turns_go_as_the_root_of_the_impedances(primary, tap, ratio):
    assert turns_ratio(primary, tap) == pytest.approx(ratio, rel=1e-12)


def test_that_a_plate_is_seen_through_the_windings():
    # By hand, ratio 25: (1700 + 175) / 625 + 0.5 = 3.5 ohm out, and 175 + 625 x 8.5 = 5487.5 ohm in.
    assert output_impedance(1700.0, 25.0, 175.0, 0.5) == pytest.approx(3.5)
    assert reflected_load(8.0, 25.0, 175.0, 0.5) == pytest.approx(5487.5)


@given(primaries, taps, st.floats(0.0, 3.0))
def test_that_windings_lose_what_was_asked_half_in_each(primary, tap, loss_db):
    # Power divides as the resistances in series do.
    first, second = winding_resistances(loss_db, primary, tap)
    ratio = turns_ratio(primary, tap)
    whole = reflected_load(tap, ratio, first, second)
    assert 10 * np.log10(whole / (ratio**2 * tap)) == pytest.approx(loss_db, abs=1e-9)
    assert first == pytest.approx(ratio**2 * second, rel=1e-9)


@given(primaries, taps, windings, st.floats(0.0, 2.0), st.floats(100.0, 5000.0), st.floats(1.0, 64.0))
def test_that_volts_divide_alike_seen_from_either_side(primary, tap, first, second, plate_ohm, load):
    # Thevenin: an EMF of 1 V at the plate makes (1/n) R / (R + Zout) at the load, from whichever side.
    ratio = turns_ratio(primary, tap)
    current = 1.0 / (plate_ohm + reflected_load(load, ratio, first, second))
    from_output = load / (load + output_impedance(plate_ohm, ratio, first, second)) / ratio
    assert ratio * current * load == pytest.approx(from_output, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: turns_ratio(0.0, 8.0), "primary_ohm must be above 0, got 0"),
        (lambda: turns_ratio(5000.0, -8.0), "tap_ohm must be above 0, got -8"),
        (lambda: reflected_load(0.0, 25.0), "load_ohm must be above 0, got 0"),
        (lambda: reflected_load(8.0, 25.0, -1.0), "primary_winding_ohm must be at least 0, got -1"),
        (lambda: output_impedance(800.0, 0.0), "ratio must be above 0, got 0"),
        (lambda: output_impedance(-800.0, 25.0), "plate_resistance_ohm must be at least 0, got -800"),
        (lambda: output_impedance(800.0, 25.0, 0.0, np.nan), "secondary_winding_ohm must be at least 0"),
        (lambda: winding_resistances(-0.5, 5000.0, 8.0), r"insertion_loss_db must be at least 0, got -0\.5"),
    ],
)
def test_that_senseless_transformers_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()


def test_that_taps_broadcast_and_scalars_stay_scalars():
    tap = np.array([4.0, 8.0, 16.0])
    first, second = winding_resistances(np.array([0.3, 0.5])[:, None], 5000.0, tap)
    assert first.shape == second.shape == (2, 3)
    assert output_impedance(800.0, turns_ratio(5000.0, tap), first, second).shape == (2, 3)
    assert isinstance(turns_ratio(5000, 8), float)
    assert all(isinstance(ohm, float) for ohm in winding_resistances(0.5, 5000, 8))
