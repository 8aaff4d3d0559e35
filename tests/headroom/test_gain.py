"""The gain chain against hand calculation: what it reaches, where the volume sits, what overloads first."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.headroom.gain import chain_emf, gain_chain, source_volts
from planner.headroom.system import stage_of, system_of
from tests.headroom.test_against_plain_loops import baffled, several_amplifiers, stereo
from tests.plans import amplifier, changed, in_room, open_air, plan_of

LINE = {"kind": "line", "volts": 2.0}
PHONO = {"kind": "phono", "cartridge_mv": 2.5, "phono_gain_db": 40.0, "phono_overload_v": 5.0}
TRIODE = [{"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 3.0}]


def chained(data, source=LINE, gain_db=20.0):
    data = changed(data, "candidates.0.source", source)
    for index in range(len(data["candidates"][0]["amplifiers"])):
        data = changed(data, f"candidates.0.amplifiers.{index}.gain_db", gain_db)
    return data


def chain(data, seat=0):
    plan = plan_of(data)
    return gain_chain(system_of(plan, plan.candidates[0], stage_of(plan)), plan, seat)


def test_that_a_line_source_reaches_full_output_with_so_much_to_spare():
    # By hand: 2.5 W into 8 ohm is sqrt(20) = 4.4721 V rms; 2 V ten times is 20 V: 13.010 dB more; 0.4472
    # V are enough.
    answer = chain(chained(open_air()))
    one = answer.amplifiers[0]
    assert (one.full_v, one.available_v) == pytest.approx((4.47214, 20.0), rel=1e-5)
    assert one.sensitivity_v == pytest.approx(0.447214, rel=1e-5)
    assert answer.spare_db == one.spare_db == pytest.approx(13.0103, abs=1e-4)
    assert answer.reaches_full_output


def test_that_a_source_too_weak_says_what_is_missing():
    # By hand: 0.3 V ten times is 3 V of 4.4721 V, 3.468 dB too little.
    answer = chain(chained(open_air(), {"kind": "line", "volts": 0.3}))
    assert answer.spare_db == pytest.approx(-3.468, abs=1e-3)
    assert not answer.reaches_full_output


def test_that_the_volume_control_sits_where_the_peaks_meet_the_target():
    # By hand, one stand in open air, 100 dB for sqrt(8) V: peaks of 100 dB at 4 m are 112.04 dB at 1 m,
    # 0.18 dB more for what air takes from pink noise, and 12.22 dB over 100 dB are 4.083 times sqrt(8) V:
    # 11.55 V of peak. The source gives 2.828 V of peak, ten times: 28.28 V, 7.78 dB more.
    answer = chain(chained(open_air()))
    assert answer.volume_db == pytest.approx(-7.78, abs=0.01)
    assert [link.key for link in answer.amplifiers[0].links] == ["line", "volume", "amplifier"]
    peaks = [link.peak_v for link in answer.amplifiers[0].links]
    assert peaks == pytest.approx([2.8284, 1.155, 11.55], rel=1e-3)


def test_that_an_output_impedance_changes_neither_gain_nor_sensitivity_into_the_rated_load():
    data = changed(chained(open_air()), "candidates.0.amplifiers.0.taps", TRIODE)
    one = chain(data).amplifiers[0]
    assert (one.full_v, one.available_v) == pytest.approx((4.47214, 20.0), rel=1e-5)
    # The load of 8 ohm is the rated one, so the terminals still need 11.55 V of peak.
    assert one.links[-1].peak_v == pytest.approx(11.55, rel=1e-3)


def test_that_a_chain_that_falls_short_has_the_volume_fully_up():
    # By hand: 0.3 V rms ten times has a peak of 4.243 V of the 11.55 V that the target wants: 8.70 dB short.
    answer = chain(chained(open_air(), {"kind": "line", "volts": 0.3}))
    assert answer.volume_db == pytest.approx(8.70, abs=0.01)
    links = answer.amplifiers[0].links
    assert links[1].gain_db == 0.0 and links[-1].peak_v == pytest.approx(4.2426, rel=1e-4)


def test_that_a_record_comes_through_cartridge_and_phono_stage():
    # By hand: peaks 12.04 dB above 5 cm/s make 4 x 2.5 = 10 mV of a sine, 14.14 mV of peak, a hundred
    # times 1.414 V; 1 V ten times over 4.4721 V is 6.990 dB; 5 V over 1 V is 13.979 dB.
    answer = chain(chained(open_air(), PHONO))
    assert answer.source_v == pytest.approx(1.0, rel=1e-9)
    assert answer.spare_db == pytest.approx(6.990, abs=1e-3)
    assert answer.phono.peak_v == pytest.approx(1.41421, rel=1e-5)
    assert answer.phono.overload_margin_db == pytest.approx(13.979, abs=1e-3)
    links = answer.amplifiers[0].links
    assert [link.key for link in links] == ["cartridge", "phono", "volume", "amplifier"]
    assert [links[0].peak_v, links[1].peak_v] == pytest.approx([0.0141421, 1.41421], rel=1e-5)


def test_that_the_velocity_that_overloads_follows_the_playback_curve():
    # By hand: 20 cm/s lie 13.979 dB below overload at 1 kHz, so 100 cm/s; 16.95 dB less at 50 Hz (printed
    # table).
    velocity = chain(chained(open_air(), PHONO)).phono.overload_velocity_cm_s
    assert velocity[[4, 17]] == pytest.approx([100.0 * 10 ** (-16.946 / 20), 100.0], rel=0.005)


def test_that_the_part_with_least_above_the_peaks_overloads_first():
    tight = chain(
        chained(changed(open_air(), "target", {"peak_db": 70.0}), {**PHONO, "phono_overload_v": 1.5})
    )
    # By hand: 1.5 V over 1 V are 3.522 dB; the amplifier has 30 dB more than at 100 dB.
    assert tight.overloads_first == "phono"
    assert tight.overload_margin_db == pytest.approx(3.522, abs=1e-3)
    loud = chain(chained(open_air(), {**PHONO, "phono_overload_v": 1.5}))
    assert loud.overloads_first == "Triode"
    # By hand: 6.3246 V of peak at clip, 11.55 V wanted: -5.23 dB.
    assert loud.overload_margin_db == pytest.approx(-5.23, abs=0.01)


def test_that_without_its_overload_a_phono_stage_is_not_judged():
    answer = chain(
        chained(open_air(), {key: PHONO[key] for key in ("kind", "cartridge_mv", "phono_gain_db")})
    )
    assert answer.phono.overload_margin_db is None and answer.phono.overload_velocity_cm_s is None
    assert answer.overloads_first == "Triode"


@pytest.mark.parametrize("missing", ["candidates.0.source", "candidates.0.amplifiers.0.gain_db"])
def test_that_without_source_or_gain_there_is_no_chain(missing):
    data = changed(chained(open_air()), missing, None)
    assert chain(data) is None
    plan = plan_of(data)
    assert chain_emf(system_of(plan, plan.candidates[0], stage_of(plan)), plan) is None


def test_that_amplifiers_of_one_chain_are_levelled_to_the_hardest_to_drive():
    data = stereo(baffled(several_amplifiers(in_room())))
    data = chained(data, gain_db=26.0)
    # Trims are 4, 0 and -3 dB, output impedances a third of the loads: with equal gains the bass is the
    # hardest to drive, the others are turned down by the differences.
    levels = {
        one.name: [link.gain_db for link in one.links if link.key == "level"]
        for one in chain(data).amplifiers
    }
    assert levels == {"Low": [], "Middle": [pytest.approx(-4.0)], "High": [pytest.approx(-7.0)]}


def test_that_each_seat_has_a_setting_of_its_own():
    data = chained(stereo(baffled(in_room())))
    plan = plan_of(data)
    system = system_of(plan, plan.candidates[0], stage_of(plan))
    settings_db = [gain_chain(system, plan, seat).volume_db for seat in range(2)]
    assert settings_db[1] - settings_db[0] == pytest.approx(system.gain_db[1] - system.gain_db[0], abs=1e-9)
    emf = chain_emf(system, plan)
    # What a volt at the source becomes: gain, and the volume control at each seat's setting.
    assert emf == pytest.approx([10.0 ** ((20.0 + volume) / 20.0) for volume in settings_db])


@settings(max_examples=25)
@given(st.floats(0.05, 10.0), st.floats(-10.0, 60.0), st.floats(0.1, 20.0))
def test_that_more_gain_is_more_to_spare_and_less_volume(volts, gain_db, more_db):
    one = chain(chained(open_air(), {"kind": "line", "volts": volts}, gain_db))
    more = chain(chained(open_air(), {"kind": "line", "volts": volts}, gain_db + more_db))
    assert more.spare_db == pytest.approx(one.spare_db + more_db, abs=1e-6)
    assert more.volume_db == pytest.approx(one.volume_db - more_db, abs=1e-6)


def test_that_a_direct_coupled_amplifier_is_full_at_its_largest_swing():
    # By hand: 10 W into 16 ohm swing sqrt(160) = 12.649 V rms, more than 5 W into 8 ohm.
    taps = [
        {"ohm": 8.0, "watts": 5.0, "distortion_pct": 1.0, "output_ohm": 0.0},
        {"ohm": 16.0, "watts": 10.0, "distortion_pct": 1.0, "output_ohm": 0.0},
    ]
    data = changed(open_air(), "candidates.0.amplifiers", [amplifier(output="direct", taps=taps)])
    assert chain(chained(data)).amplifiers[0].full_v == pytest.approx(12.649, rel=1e-4)


def test_that_the_volts_of_a_source_are_rms_of_a_sine():
    plan = plan_of(chained(open_air(), PHONO))
    assert source_volts(plan.candidates[0].source) == pytest.approx(1.0, rel=1e-12)
    assert np.isclose(source_volts(plan_of(chained(open_air())).candidates[0].source), 2.0)


def test_that_a_quieter_cut_leaves_the_phono_stage_more_room():
    from planner.headroom.gain import source_volts
    from planner.plan.amplifier import PhonoSource

    usual = PhonoSource(kind="phono", cartridge_mv=3.5, phono_gain_db=40.0)
    quiet = usual.model_copy(update={"peak_velocity_cm_s": 10.0})
    # Half the velocity of the usual 20 cm/s is half the volts.
    assert source_volts(quiet) == pytest.approx(source_volts(usual) / 2.0)
