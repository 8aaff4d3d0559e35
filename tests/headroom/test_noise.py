"""Noise with nothing playing: by hand, by plain loops, and by what must always hold."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.acoustics.noise_criteria import nc_a_level, nc_levels
from planner.headroom.noise import PARTS, seat_noises
from planner.headroom.system import stage_of, system_of
from tests.headroom import noise_oracle
from tests.headroom.test_against_plain_loops import CASES, baffled, several_amplifiers, stereo
from tests.plans import changed, in_room, open_air, plan_of

AMPLIFIER = "candidates.0.amplifiers.0"
SECTION = "candidates.0.loudspeaker.sections.0"


def residual(hum_mv=0.5, hiss_mv=0.1, mains_hz=50.0, weighting="Z"):
    return {"hum_mv": hum_mv, "mains_hz": mains_hz, "hiss_mv": hiss_mv, "weighting": weighting}


def noisy(data, **changes):
    """The data with a residual in every amplifier."""
    for index in range(len(data["candidates"][0]["amplifiers"])):
        data = changed(data, f"candidates.0.amplifiers.{index}.residual", residual(**changes))
    return data


def horn_of_104_db(data):
    return changed(data, f"{SECTION}.sensitivity", {"level_db": 104.0, "drive": "2.83 V"})


def in_nc_20(**changes):
    """A 104 dB loudspeaker behind a noisy amplifier in a room of NC-20."""
    return noisy(changed(horn_of_104_db(in_room()), "room.noise", {"nc": 20.0}), **changes)


def noises(data):
    plan = plan_of(data)
    return seat_noises(system_of(plan, plan.candidates[0], stage_of(plan)), plan)


def noise(data):
    return noises(data)[0]


def band(answer, hertz):
    return int(np.argmin(np.abs(np.log(answer.band_hz / hertz))))


def test_that_hiss_at_a_metre_is_what_the_sensitivity_makes_of_it():
    # By hand: 1 mV is 69.03 dB below sqrt(8) V, so 104 dB give 34.97; the third at 1 kHz holds 230.8 of
    # 19 980 Hz, 19.37 dB less.
    answer = noise(noisy(horn_of_104_db(open_air()), hum_mv=0.0, hiss_mv=1.0))
    one_kilohertz = answer.amplifier.level_1m_db[band(answer, 1000.0)]
    assert one_kilohertz == pytest.approx(34.97 - 19.37, abs=0.01)
    powers = 10.0 ** (answer.amplifier.level_1m_db / 10.0)
    assert 10.0 * np.log10(powers.sum()) == pytest.approx(34.97, abs=0.01)
    # 4 m away in open air: two doublings of distance, and next to no air loss at 1 kHz (0.02 dB).
    assert answer.amplifier.level_db[band(answer, 1000.0)] == pytest.approx(15.60 - 12.04 - 0.02, abs=0.01)


def test_that_hum_stands_at_the_first_three_harmonics():
    # By hand: 1 mV makes 34.97 dB; 4/9 of its power is 3.52 dB less, 1/9 is 9.54 dB less.
    answer = noise(noisy(horn_of_104_db(open_air()), hum_mv=1.0, hiss_mv=0.0, mains_hz=60.0))
    at_a_metre = answer.amplifier.level_1m_db
    tones = [band(answer, hertz) for hertz in (63.0, 125.0, 200.0)]
    assert at_a_metre[tones] == pytest.approx([31.45, 31.45, 25.43], abs=0.01)
    assert np.all(np.delete(at_a_metre, tones) == pytest.approx(-120.0))
    # IEC 61672-1 annex E, worked out apart, at 60, 120 and 180 Hz: -27.05, -16.71 and -11.95 dB. At the
    # mids of their bands they would be -26.2, -16.1 and -10.9 dB.
    tones_dba = np.array([31.45 - 27.05, 31.45 - 16.71, 25.43 - 11.95])
    assert answer.amplifier.dba_1m == pytest.approx(
        10.0 * np.log10(np.sum(10.0 ** (tones_dba / 10.0))), abs=0.01
    )


@pytest.mark.parametrize("part", ["hum_mv", "hiss_mv"])
def test_that_a_weighted_millivolts_are_a_weighted_decibels(part):
    # By hand: 1 mV A-weighted on 104 dB for 2.83 V is 34.97 dB(A) at 1 m, whatever its spectrum.
    silent = {"hum_mv": 0.0, "hiss_mv": 0.0}
    answer = noise(noisy(horn_of_104_db(open_air()), weighting="A", **{**silent, part: 1.0}))
    assert answer.amplifier.dba_1m == pytest.approx(34.97, abs=0.01)


def test_that_unweighted_hiss_reads_less_on_an_a_meter():
    # Computed from IEC 61672-1 annex E with scipy's quad: white noise from 20 Hz to 20 kHz loses 2.048 dB.
    answer = noise(noisy(horn_of_104_db(open_air()), hum_mv=0.0, hiss_mv=1.0))
    assert answer.amplifier.dba_1m == pytest.approx(34.97 - 2.048, abs=0.02)


def test_that_a_silent_amplifier_in_a_room_of_nc_20_leaves_the_room_alone():
    answer = noise(changed(horn_of_104_db(in_room()), "room.noise", {"nc": 20.0}))
    assert answer.noise_dba is None and answer.amplifier is None
    # Computed from ANSI/ASA S12.2-2019 table 1 with the A weighting by other software.
    assert answer.room_noise_dba == pytest.approx(32.39, abs=0.03)
    assert answer.room_nc == answer.together_nc == pytest.approx(20.0)


def test_that_without_room_noise_only_the_ear_judges():
    for data in (noisy(in_room()), noisy(open_air())):
        answer = noise(data)
        assert answer.room_noise_dba is None and answer.quiet.room is None and answer.together_nc is None
        assert answer.quiet.limit_db == pytest.approx(answer.quiet.threshold_db)


def test_that_twenty_decibels_of_hiss_make_it_audible_where_the_limit_is_nearest():
    before = noise(in_nc_20(hum_mv=0.1, hiss_mv=0.15))
    after = noise(in_nc_20(hum_mv=0.1, hiss_mv=1.5))
    assert not before.amplifier.audible and after.amplifier.audible
    assert (after.amplifier.band_hz, after.amplifier.part) == (before.amplifier.band_hz, "hiss")
    assert after.amplifier.margin_db == pytest.approx(before.amplifier.margin_db - 20.0, abs=0.01)
    where = band(after, after.amplifier.band_hz)
    assert after.amplifier.level_db[where] > after.quiet.limit_db[where]
    excess = after.amplifier.level_db - after.quiet.limit_db
    assert np.argmax(excess) == where


def test_that_hum_is_named_where_hum_is_heard():
    answer = noise(in_nc_20(hum_mv=20.0, hiss_mv=0.01))
    assert answer.amplifier.audible and answer.amplifier.part == "hum"
    assert min(abs(answer.amplifier.band_hz / tone - 1.0) for tone in (50.0, 100.0, 150.0)) < 0.07


def test_that_a_room_hides_a_hiss_that_open_air_does_not():
    quiet = noise(noisy(horn_of_104_db(in_room()), hum_mv=0.0, hiss_mv=0.15))
    hidden = noise(in_nc_20(hum_mv=0.0, hiss_mv=0.15))
    assert quiet.amplifier.audible and not hidden.amplifier.audible
    assert quiet.amplifier.level_db == pytest.approx(hidden.amplifier.level_db)


@pytest.mark.parametrize(("weighting", "hum_mv", "hiss_mv"), [("Z", 0.5, 0.1), ("A", 0.02, 3.0)])
def test_that_the_tolerated_residual_is_just_inaudible(weighting, hum_mv, hiss_mv):
    for part, other in (("hum_mv", "hiss_mv"), ("hiss_mv", "hum_mv")):
        given_mv = {"hum_mv": hum_mv, "hiss_mv": hiss_mv}
        tolerated = noise(in_nc_20(weighting=weighting, **given_mv)).amplifier.tolerated[0]
        alone = {part: getattr(tolerated, part), other: 0.0}
        assert noise(in_nc_20(weighting=weighting, **alone)).amplifier.margin_db == pytest.approx(
            0.0, abs=1e-6
        )


def test_that_a_part_of_zero_has_no_largest_value():
    tolerated = noise(in_nc_20(hum_mv=0.0)).amplifier.tolerated[0]
    assert tolerated.hum_mv is None and tolerated.hiss_mv > 0.0


def test_that_a_stated_level_shapes_the_room_like_the_curve_that_has_it():
    data = horn_of_104_db(in_room())
    curve = noise(changed(data, "room.noise", {"nc": 25.0}))
    level = noise(changed(data, "room.noise", {"dba": float(nc_a_level(25.0))}))
    assert level.quiet.room.octave_db == pytest.approx(nc_levels(25.0), abs=0.02)
    assert level.quiet.limit_db == pytest.approx(curve.quiet.limit_db, abs=0.02)
    # By hand: 20 dB(A) is 8.94 dB below NC-15, all of it.
    low = noise(changed(data, "room.noise", {"dba": 20.0}))
    assert low.room_noise_dba == 20.0
    assert low.quiet.room.octave_db == pytest.approx(nc_levels(15.0) - 8.94, abs=0.03)
    assert low.room_nc == pytest.approx(15.0 - 8.94, abs=0.03)


def test_that_the_higher_of_room_and_ear_is_the_limit_in_every_band():
    # By hand at 1 kHz, where the ear has 2.4 dB (ISO 226:2003): NC-20 has 22 - 4.77 = 17.2 dB in the
    # third, less a little because the curve is steeper below; 3 dB(A) are 25.94 below NC-15: -12.7 dB.
    data = noisy(horn_of_104_db(in_room()))
    for noise_key, limit_db in (({"nc": 20.0}, 17.2), ({"dba": 3.0}, 2.4)):
        answer = noise(changed(data, "room.noise", noise_key))
        assert answer.quiet.limit_db[band(answer, 1000.0)] == pytest.approx(limit_db, abs=0.3)
        assert np.all(answer.quiet.limit_db >= answer.quiet.threshold_db)
        assert np.all(answer.quiet.limit_db >= answer.quiet.room.third_db)


def test_that_thirds_of_the_room_make_its_octaves_again():
    answer = noise(changed(in_room(), "room.noise", {"nc": 30.0}))
    # By hand: NC-30 has 32 dB at 1 kHz, 4.77 dB more than its middle third; its slopes of 3 dB hardly
    # bend that.
    assert answer.quiet.room.third_db[band(answer, 1000.0)] == pytest.approx(27.23, abs=0.1)
    thirds = 10.0 ** (answer.quiet.room.third_db / 10.0)
    octaves = [10.0 * np.log10(thirds[start : start + 3].sum()) for start in range(1, 28, 3)]
    assert octaves == pytest.approx(nc_levels(30.0)[1:], abs=1e-9)


def test_that_hiss_on_the_curve_lifts_the_rating():
    silent = noise(in_nc_20(hum_mv=0.0, hiss_mv=1e-3))
    assert silent.together_nc == pytest.approx(20.0, abs=0.05)
    loud = noise(in_nc_20(hum_mv=0.0, hiss_mv=3.0))
    # White hiss is worst in the highest octave, whose curves have 16, 22, 27, 32 and 37 dB from NC-20 to
    # NC-40.
    hiss = loud.amplifier.level_db[band(loud, 6310.0) : band(loud, 10_000.0) + 1]
    octave_db = 10.0 * np.log10(np.sum(10.0 ** (hiss / 10.0)) + 10.0**1.6)
    expected = np.interp(octave_db, [16.0, 22.0, 27.0, 32.0, 37.0], [20.0, 25.0, 30.0, 35.0, 40.0])
    assert 25.0 < expected < 40.0
    assert loud.together_nc == pytest.approx(expected, abs=1e-6)


def test_that_two_stands_add_in_power_at_all_frequencies():
    # By hand: two equal independent sources 4 m away make 3.01 dB more than one.
    data = noisy(open_air())
    pair = changed(data, "stands", [*data["stands"], {**data["stands"][0], "name": "Right", "y_m": 2.0}])
    one, two = noise(data), noise(pair)
    assert two.amplifier.level_db == pytest.approx(
        np.where(one.amplifier.level_db > -100.0, one.amplifier.level_db + 3.0103, -120.0), abs=1e-3
    )
    assert two.amplifier.level_1m_db == pytest.approx(one.amplifier.level_1m_db)


def test_that_the_crossover_does_not_filter_the_residual_of_an_amplifier_behind_it():
    data = changed(several_amplifiers(open_air()), "candidates.0.loudspeaker.baffle_width_m", "wall")
    with_bass = noise(changed(data, f"{AMPLIFIER}.residual", residual(hum_mv=0.0, hiss_mv=1.0)))
    level = with_bass.amplifier.level_1m_db
    # The bass section, 96 dB for 2.83 V, goes on level above its crossover at 300 Hz: 1 mV of hiss makes
    # 96 - 69.03 dB in all, of which the third at 1 kHz holds 19.37 dB less.
    assert level[band(with_bass, 1000.0)] == pytest.approx(96.0 - 69.03 - 19.37, abs=0.02)
    assert not with_bass.amplifier.complete
    with_treble = noise(
        changed(data, "candidates.0.amplifiers.2.residual", residual(hum_mv=1.0, hiss_mv=0.0))
    )
    # The treble, 103 dB for 1 W in 4 ohm, has a 12 dB an octave foot below 3 kHz: at 100 Hz 1/(1 + 30^2).
    expected = 103.0 - 20.0 * np.log10(2000.0) - 3.52 - 20.0 * np.log10(901.0)
    assert with_treble.amplifier.level_1m_db[band(with_treble, 100.0)] == pytest.approx(expected, abs=0.02)


def test_that_amplifiers_add_in_power():
    data = stereo(baffled(several_amplifiers(in_room())))
    alone = []
    for index in range(3):
        one = changed(data, f"candidates.0.amplifiers.{index}.residual", residual())
        alone.append(10.0 ** (noise(one).amplifier.level_db / 10.0))
    together = noise(noisy(data)).amplifier
    assert together.level_db == pytest.approx(10.0 * np.log10(sum(alone)), abs=1e-6)
    assert together.complete


PHONO = {"kind": "phono", "cartridge_mv": 2.5, "phono_gain_db": 40.0, "phono_noise_uv": 0.5}


def with_phono(data, **changes):
    data = changed(data, "candidates.0.source", {**PHONO, **changes})
    for index in range(len(data["candidates"][0]["amplifiers"])):
        data = changed(data, f"candidates.0.amplifiers.{index}.gain_db", 26.0)
    return data


def test_that_a_phono_stage_adds_its_noise_where_the_chain_is_known():
    without, with_it = noise(in_nc_20()), noise(with_phono(in_nc_20()))
    unknown = noise(changed(in_nc_20(), "candidates.0.source", PHONO))
    assert unknown.noise_dba == without.noise_dba
    assert with_it.noise_dba > without.noise_dba
    phono = with_it.amplifier.part_db[PARTS.index("phono")]
    assert 10.0 ** (phono / 10) + 10.0 ** (without.amplifier.level_db / 10) == pytest.approx(
        10.0 ** (with_it.amplifier.level_db / 10), rel=1e-9
    )


def test_that_phono_noise_keeps_its_distance_to_the_peaks():
    # By hand: peaks 12.04 dB above those of a sine of 2.5 mV rms are 14.14 mV; 0.5 uV is 89.03 dB below,
    # and the third at 1 kHz holds 19.37 dB less of it. The peaks are 100 dB at the seat, the mean of its
    # pink bands has lost 0.18 dB to air (ISO 9613-1, 4 m) and 1 kHz 0.02 dB, so that the third stands
    # 0.16 dB higher.
    answer = noise(with_phono(noisy(open_air())))
    level = answer.amplifier.part_db[PARTS.index("phono"), band(answer, 1000.0)]
    assert level == pytest.approx(100.0 - 89.03 - 19.37 + 0.16, abs=0.01)


@pytest.mark.parametrize("name", CASES)
def test_that_both_roads_lead_to_the_same_noise(name):
    plan = plan_of(with_phono(noisy(CASES[name], mains_hz=60.0)))
    answers = seat_noises(system_of(plan, plan.candidates[0], stage_of(plan)), plan)
    for index, answer in enumerate(answers):
        told = noise_oracle.noise(plan, index)
        assert answer.amplifier.dba == pytest.approx(told["dba"], abs=2e-3)
        assert answer.amplifier.dba_1m == pytest.approx(told["dba_1m"], abs=2e-3)
        assert answer.amplifier.level_db == pytest.approx(told["level_db"], abs=5e-3)
        assert answer.amplifier.level_1m_db == pytest.approx(told["level_1m_db"], abs=5e-3)


def test_that_both_roads_agree_on_weighted_figures_and_on_a_chain_that_falls_short():
    data = with_phono(noisy(stereo(baffled(several_amplifiers(in_room()))), weighting="A", mains_hz=50.0))
    data = changed(data, "candidates.0.amplifiers.1.gain_db", -10.0)
    plan = plan_of(data)
    answer = seat_noises(system_of(plan, plan.candidates[0], stage_of(plan)), plan)[1]
    told = noise_oracle.noise(plan, 1)
    assert answer.amplifier.dba == pytest.approx(told["dba"], abs=2e-3)
    assert answer.amplifier.level_db == pytest.approx(told["level_db"], abs=5e-3)


@settings(max_examples=20)
@given(st.floats(0.01, 100.0), st.floats(0.01, 100.0), st.floats(1.0, 100.0))
def test_that_more_residual_is_never_quieter(hum_mv, hiss_mv, factor):
    one = noise(in_nc_20(hum_mv=hum_mv, hiss_mv=hiss_mv))
    more = noise(in_nc_20(hum_mv=hum_mv * factor, hiss_mv=hiss_mv * factor))
    assert more.noise_dba == pytest.approx(one.noise_dba + 20.0 * np.log10(factor), abs=1e-6)
    assert more.amplifier.margin_db == pytest.approx(
        one.amplifier.margin_db - 20.0 * np.log10(factor), abs=1e-6
    )


def test_that_a_residual_of_nothing_stays_finite():
    answer = noise(in_nc_20(hum_mv=0.0, hiss_mv=0.0))
    assert np.isfinite(answer.noise_dba) and not answer.amplifier.audible
    assert np.all(np.isfinite(answer.amplifier.level_db))
