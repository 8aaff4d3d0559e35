"""The vectorised pass against the plain loops of ``oracle.py``, on plans of every kind."""

import pytest

from planner.headroom import compute
from tests.headroom import oracle
from tests.plans import amplifier, changed, in_room, open_air, plan_of, section
from tests.programme.kept import beats_kept

BOX = "candidates.0.loudspeaker"
HORN = {
    "kind": "horn",
    "horizontal_deg": 60.0,
    "vertical_deg": 40.0,
    "mouth_width_m": 0.5,
    "mouth_height_m": 0.3,
}
DRIVER = {
    "dc_ohm": 5.6,
    "resonance_hz": 42.0,
    "mechanical_q": 5.0,
    "electrical_q": 0.45,
    "inductance_h": 0.0009,
}
DIP = [[20, 12, 20], [100, 3, -30], [1000, 7, 10], [20000, 16, 45]]


def stereo(data):
    """Two stands that point past the seat, and a second seat to one side."""
    data = changed(
        data,
        "seats",
        [
            {"name": "Chair", "x_m": 5.0, "y_m": 2.2, "z_m": 1.1},
            {"name": "Bench", "x_m": 3.5, "y_m": 4.0, "z_m": 0.9},
        ],
    )
    return changed(
        data,
        "stands",
        [
            {"name": "L", "x_m": 1.0, "y_m": 1.0, "z_m": 1.0, "aim": {"seat": "Chair"}},
            {
                "name": "R",
                "x_m": 1.2,
                "y_m": 3.9,
                "z_m": 1.3,
                "aim": {"azimuth_deg": -40.0, "elevation_deg": 5.0},
            },
        ],
    )


def baffled(data, width=0.4, radiates="half_space"):
    return changed(changed(data, f"{BOX}.baffle_width_m", width), f"{BOX}.radiates_into", radiates)


def three_ways(data):
    return changed(
        data,
        f"{BOX}.sections",
        [
            section(
                "bass",
                low_hz=35.0,
                high_hz=300.0,
                sensitivity={"level_db": 96.0, "drive": "2.83 V"},
                radiator={"kind": "diaphragm", "diameter_m": 0.3, "count": 2},
            ),
            section(
                "middle",
                low_hz=300.0,
                high_hz=3000.0,
                slopes_db_per_octave=[24.0, 12.0],
                radiator=HORN,
                response=[[300, 0], [1000, 2.0], [3000, -1.0]],
            ),
            section(
                "treble",
                low_hz=3000.0,
                high_hz=17000.0,
                slopes_db_per_octave=[12.0, 18.0],
                sensitivity={"level_db": 103.0, "drive": "1 W"},
                radiator={"kind": "diaphragm", "diameter_m": 0.025},
            ),
        ],
    )


def several_amplifiers(data):
    data = three_ways(data)
    for index, ohm in enumerate((8.0, 16.0, 4.0)):
        data = changed(data, f"{BOX}.sections.{index}.impedance", {"nominal_ohm": ohm})
    data = changed(data, f"{BOX}.sections.0.impedance", {"nominal_ohm": 8.0, "driver": DRIVER})
    taps = [
        {"ohm": ohm, "watts": 8.0, "distortion_pct": 3.0, "output_ohm": ohm / 3} for ohm in (4.0, 8.0, 16.0)
    ]
    return changed(
        data,
        "candidates.0.amplifiers",
        [
            amplifier(name="Low", drives="bass", trim_db=4.0, taps=taps),
            amplifier(name="Middle", drives="middle", taps=taps),
            amplifier(name="High", drives="treble", trim_db=-3.0, taps=taps[:2]),
        ],
    )


def triode(data):
    """A real triode stage: several ratings, output impedance, a dip in the load, some cable."""
    taps = [
        {"ohm": 4.0, "watts": 2.4, "distortion_pct": 3.0, "output_ohm": 1.6},
        {"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 3.0},
        {"ohm": 8.0, "watts": 3.4, "distortion_pct": 10.0, "output_ohm": 3.0},
    ]
    data = changed(data, "candidates.0.amplifiers", [amplifier(taps=taps)])
    data = changed(data, f"{BOX}.impedance", {"nominal_ohm": 6.0, "table": DIP})
    return changed(data, "candidates.0.cable", {"loop_ohm": 0.12})


def of_a_recording(data):
    kept = beats_kept().model_dump(mode="json", exclude_none=True)
    kept["bands"] = kept["bands"][2:-3]  # as of a record that holds nothing at the ends
    return changed(data, "programme", {"kind": "recording", "crest_db": 14.0, "recording": kept})


CASES = {
    "open air": open_air(),
    "a room": in_room(),
    "measured T60": changed(in_room(), "room.measured_t60_s", {"125": 0.9, "500": 0.5, "4000": 0.3}),
    "dry warm air": changed(changed(in_room(), "room.temperature_c", 31.0), "room.humidity_pct", 12.0),
    "a pair": stereo(baffled(in_room())),
    "a pair in open air": stereo(baffled(open_air())),
    "given coherence": changed(stereo(baffled(in_room())), "programme.coherence", [[50, 0.9], [5000, -0.3]]),
    "free field": stereo(baffled(in_room(), 0.3, "free_field")),
    "a recording": of_a_recording(stereo(baffled(in_room()))),
    "average held": changed(stereo(baffled(in_room())), "target", {"average_db": 82.0}),
    "long transient": changed(in_room(), "programme.transient_ms", 200.0),
    "simulated programme": changed(in_room(), "programme.kind", "simulated"),
    "horn": stereo(baffled(changed(in_room(), f"{BOX}.sections.0.radiator", HORN))),
    "dipole": stereo(
        baffled(changed(in_room(), f"{BOX}.sections.0.radiator", {"kind": "dipole"}), 1, "free_field")
    ),
    "three ways": stereo(baffled(three_ways(in_room()))),
    "an amplifier a section": stereo(baffled(several_amplifiers(in_room()))),
    "a triode on a dip": stereo(baffled(triode(in_room()))),
    "bass apart": changed(
        changed(stereo(baffled(three_ways(in_room()))), "stands.0.carries", ["bass", "middle", "treble"]),
        "stands.1.carries",
        ["middle", "treble"],
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_that_both_roads_lead_to_the_same_figures(name):
    plan = plan_of(CASES[name])
    for index, seat in enumerate(compute(plan).seats):
        for key, value in oracle.headroom(plan, index).items():
            assert getattr(seat, key) == pytest.approx(value, abs=2e-3), f"{key} at {seat.name}"


@pytest.mark.parametrize("name", CASES)
def test_that_the_steps_of_the_ladder_add_up_to_the_loudest_peak(name):
    for seat in compute(plan_of(CASES[name])).seats:
        assert sum(step.change_db for step in seat.ladder) == pytest.approx(seat.loudest_peak_db, abs=1e-9)
