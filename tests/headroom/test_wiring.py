"""Cable loss, damping and the bend of the response, against Ohm's law by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.headroom.drive import cable_ohm
from planner.headroom.system import stage_of, system_of
from planner.headroom.wiring import bend_db, cable_loss_db, damping_factor, loop_ohm, wirings
from planner.plan.amplifier import Cable
from tests.headroom.test_against_plain_loops import DRIVER, several_amplifiers
from tests.plans import amplifier, changed, open_air, plan_of

BOX = "candidates.0.loudspeaker"
SOFT = [{"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 3.0}]


def wired(data, copper_c=20.0):
    plan = plan_of(data)
    return wirings(system_of(plan, plan.candidates[0], stage_of(plan)), copper_c)


def triode(data, **changes):
    return changed(data, "candidates.0.amplifiers", [amplifier(taps=SOFT, **changes)])


@pytest.mark.parametrize(
    ("cable", "copper_c", "ohm", "loss_db"),
    # Wire tables (ASTM B258, IEC 60028): gauge 12 5.211, 16 13.174, 18 20.948 mohm/m; 2.5 mm2 6.896;
    # copper at 60 degrees x 1.1572. Losses by hand: 20 log10(1 + R/8).
    [
        pytest.param({"gauge_awg": 18, "length_m": 10.0}, 20.0, 0.41896, 0.4433, id="thin and long"),
        pytest.param({"gauge_awg": 12, "length_m": 3.0}, 20.0, 0.031266, 0.03388, id="thick and short"),
        pytest.param({"gauge_awg": 16, "length_m": 7.62}, 20.0, 0.20077, 0.2153, id="25 ft of 16"),
        pytest.param({"area_mm2": 2.5, "length_m": 5.0}, 20.0, 0.06896, 0.07455, id="by area"),
        pytest.param({"gauge_awg": 18, "length_m": 10.0}, 60.0, 0.48482, 0.5111, id="hot copper"),
        pytest.param({"loop_ohm": 0.4}, 60.0, 0.4, 0.4238, id="a stated loop is taken as it is"),
    ],
)
def test_that_cables_cost_what_the_wire_tables_and_ohms_law_say(cable, copper_c, ohm, loss_db):
    (answer,) = wired(changed(open_air(), "candidates.0.cable", cable), copper_c)
    assert answer.loop_ohm == pytest.approx(ohm, rel=1e-3)
    assert answer.cable_loss_db == pytest.approx(loss_db, rel=2e-3)
    assert answer.damping_factor == pytest.approx(8.0 / ohm, rel=1e-3)
    assert answer.damping_at_terminals == np.inf


def test_that_cold_copper_is_what_the_rest_of_the_program_reckons_with():
    for cable in (
        None,
        Cable(loop_ohm=0.2),
        Cable(gauge_awg=14, length_m=4.0),
        Cable(area_mm2=4.0, length_m=4.0),
    ):
        assert loop_ohm(cable) == pytest.approx(cable_ohm(cable), rel=1e-12)


def test_that_damping_counts_all_that_lies_in_series():
    # By hand: 8 ohm over 3 + 0.2 ohm; behind 3 ohm the cable takes 20 log10(11.2/11).
    (answer,) = wired(changed(triode(open_air()), "candidates.0.cable", {"loop_ohm": 0.2}))
    assert answer.damping_factor == pytest.approx(2.5, rel=1e-9)
    assert answer.damping_at_terminals == pytest.approx(8.0 / 3.0, rel=1e-9)
    assert answer.cable_loss_db == pytest.approx(0.1565, abs=1e-4)


def test_that_a_resistive_load_does_not_bend():
    (answer,) = wired(changed(triode(open_air()), "candidates.0.cable", {"loop_ohm": 0.2}))
    for bend in (answer.together, answer.without_cable, answer.cable_alone):
        assert bend.response_db == pytest.approx(np.zeros(answer.frequency_hz.size), abs=1e-12)
        assert bend.peak_to_peak_db == pytest.approx(0.0, abs=1e-12)


def test_that_the_bend_is_ohms_law_on_a_table():
    # By hand: 3 ohm before 32, 8 and 4 ohm leave 32/35, 8/11 and 4/7: +1.988 and -2.095 dB against 8 ohm.
    table = [[30.0, 8.0, 0.0], [60.0, 32.0, 0.0], [120.0, 8.0, 0.0], [300.0, 4.0, 0.0], [1000.0, 8.0, 0.0]]
    data = changed(triode(open_air()), f"{BOX}.impedance", {"nominal_ohm": 8.0, "table": table})
    (answer,) = wired(data)
    found = {
        hertz: answer.together.response_db[np.argmin(np.abs(answer.frequency_hz - hertz))]
        for hertz in (60, 300)
    }
    assert found[60] == pytest.approx(1.988, abs=0.05)
    assert found[300] == pytest.approx(-2.095, abs=0.05)
    assert answer.together.peak_to_peak_db == pytest.approx(4.083, abs=0.05)


def test_that_the_grid_is_fine_enough_for_a_sharp_resonance():
    # By hand at resonance: 5.6 (1 + 5/0.45) = 67.82 ohm, so 67.82/70.82 against 8/11; far above it, where
    # the coil is 5.6 + j2 pi f L, the least is near 5.6 ohm.
    data = changed(triode(open_air()), f"{BOX}.impedance", {"nominal_ohm": 8.0, "driver": DRIVER})
    (answer,) = wired(data)
    assert answer.together.response_db.max() >= 20.0 * np.log10(67.82 / 70.82 * 11.0 / 8.0) - 0.01
    top = 5.6 + 2j * np.pi * 20_000.0 * 0.0009
    assert answer.together.response_db[-1] == pytest.approx(
        20.0 * np.log10(abs(top / (top + 3.0)) * 11.0 / 8.0), abs=0.01
    )


def test_that_cable_and_output_impedance_bend_more_together_than_each_alone():
    data = changed(triode(open_air()), f"{BOX}.impedance", {"nominal_ohm": 8.0, "driver": DRIVER})
    (answer,) = wired(changed(data, "candidates.0.cable", {"loop_ohm": 0.5}))
    alone = (answer.without_cable.peak_to_peak_db, answer.cable_alone.peak_to_peak_db)
    assert answer.together.peak_to_peak_db > max(alone) > min(alone) > 0.0


def test_that_an_amplifier_of_one_section_is_drawn_over_that_section():
    low, middle, high = wired(several_amplifiers(open_air()))
    assert (low.frequency_hz[0], low.frequency_hz[-1]) == pytest.approx((35.0, 300.0))
    assert (middle.frequency_hz[0], middle.frequency_hz[-1]) == pytest.approx((300.0, 3000.0))
    assert (high.frequency_hz[0], high.frequency_hz[-1]) == pytest.approx((3000.0, 17_000.0))
    # By hand: taps of 8, 16 and 4 ohm with a third of that as output impedance, into 8, 16 and 4 ohm.
    assert [one.damping_factor for one in (low, middle, high)] == pytest.approx([3.0, 3.0, 3.0])


@given(st.floats(0.5, 100.0), st.floats(0.0, 10.0), st.floats(0.0, 10.0), st.floats(0.01, 10.0))
def test_that_more_cable_costs_more_and_damps_less(load, output, loop, more):
    assert cable_loss_db(load, loop + more, output) > cable_loss_db(load, loop, output)
    assert damping_factor(load, output + loop + more) < damping_factor(load, output + loop)


def test_that_nothing_in_series_damps_without_end_and_does_not_bend():
    assert damping_factor(8.0, 0.0) == np.inf
    assert bend_db(np.array([2.0 + 1j, 50.0]), 8.0, 0.0) == pytest.approx([0.0, 0.0], abs=1e-12)
