"""Curves from tables: which column is what, what is refused, smoothing, and the noise of a room."""

import numpy as np
import pytest

from planner.acoustics.bands import third_octaves
from planner.acoustics.noise_criteria import nc_levels
from planner.measurements.curves import Curve, curve_of, read_curve
from planner.measurements.errors import MeasurementError
from planner.measurements.room_noise import read_room_noise, room_noise_of
from planner.measurements.smoothing import smoothed_to_thirds
from planner.measurements.table import parse_table


def curve(text, kind=None):
    return curve_of(parse_table(text), kind)


@pytest.mark.parametrize(
    ("head", "kind", "columns"),
    [
        ("Frequency (Hz);SPL (dB);Phase (deg)", "response", "fvp"),
        ("Hz;dB;°", "response", "fvp"),
        ("Frequenz;Pegel;Phase", "response", "fvp"),
        ("Frequency;Impedance (ohm);Phase (degrees)", "impedance", "fvp"),
        ("f [Hz];|Z| [\u03a9];phi [deg]", "impedance", "fvp"),
        ("Phase;Frequency;Ohm", "impedance", "pfv"),
        ("Level dB;Freq Hz;Phase", "response", "vfp"),
        ("Angle (deg);Level (dB);note", "off_axis", "fv "),
        ("Winkel;Pegel;n", "off_axis", "fv "),
    ],
)
def test_that_the_header_says_which_column_is_what(head, kind, columns):
    values = {"f": (100.0, 200.0), "v": (6.5, 7.5), "p": (-10.0, 20.0), " ": (1.0, 2.0)}
    rows = [";".join(str(values[column][row]) for column in columns) for row in (0, 1)]
    found = curve("\n".join([head, *rows]))
    assert (found.kind, found.certain) == (kind, True)
    assert (found.points, found.values) == (values["f"], values["v"])
    assert found.phase_deg == (values["p"] if "p" in columns else None)


@pytest.mark.parametrize(
    ("text", "kind", "phase_deg"),
    [
        ("20 82\n200 95\n2000 96", "response", None),
        ("20 -12.5\n200 0\n2000 1", "response", None),
        ("20 6.4 12\n200 7 -30\n2000 12 40", "impedance", (12.0, -30.0, 40.0)),
        ("20 88 12\n200 90 -30\n2000 91 40", "response", (12.0, -30.0, 40.0)),
        ("-30 -3\n0 0\n30 -3", "off_axis", None),
        ("0 0\n15 -1\n90 -12", "off_axis", None),
    ],
)
def test_that_without_a_header_the_numbers_decide_and_the_curve_says_it_is_a_guess(text, kind, phase_deg):
    found = curve(text)
    assert (found.kind, found.phase_deg, found.certain) == (kind, phase_deg, False)
    assert "no header, so this is a guess from the numbers" in found.understood


def test_that_the_reader_may_say_the_kind():
    found = curve("20 40\n200 42", kind="response")
    assert (found.kind, found.certain) == ("response", True)


def test_that_what_was_understood_is_told():
    told = curve("# horn\nkHz;dB;coherence\n0,1;90;1\n0,2;91;1\n").understood
    assert told == (
        "2 rows from line 3, semicolons between, decimal comma: "
        "column 1 frequency in kHz, column 2 level in dB; 1 more not read"
    )


def test_that_kilohertz_become_hertz_and_rows_are_put_in_order():
    found = curve("Freq [kHz];dB\n1;90\n0.1;80\n")
    assert found.points == (100.0, 1000.0)
    assert found.values == (80.0, 90.0)


def test_that_the_row_at_0_hz_is_left_out():
    assert curve("Hz;dB\n0;12\n10;80\n20;81").points == (10.0, 20.0)


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("100\n200", None, "line 1: expected two columns or more, found one"),
        ("100 90", None, "line 1: expected two points or more, found 1"),
        ("0 90\n100 91", "response", "line 2: expected two points or more, found 1"),
        ("100 90\n200 91\n100 92", None, "line 3: 100 stands in line 1 too; each point may stand once"),
        ("Hz dB\n100 90\n-200 91", None, "line 3: the frequency -200 is not above 0"),
        ("Hz ohm\n100 6\n200 0", None, "line 3: an impedance of 0 ohm is not above 0"),
        ("-30 0\n0 0\n400 0", "off_axis", "line 3: the angle 400° is beyond a full turn"),
    ],
)
def test_that_an_impossible_row_is_refused_by_its_line(text, kind, message):
    with pytest.raises(MeasurementError) as fault:
        curve(text, kind)
    assert str(fault.value) == message


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1"])
def test_that_files_of_every_usual_encoding_are_read(tmp_path, encoding):
    file = tmp_path / "horn.txt"
    file.write_bytes("* gemessen für zwei\n100 90,5\n200 91,0\n".encode(encoding))
    assert read_curve(file).values == (90.5, 91.0)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (None, "cannot be read (No such file or directory); check name and folder"),
        (b"RIFF\0\0\0\0WAVE", "holds no text; export the curve as text or CSV"),
        (b"100 90\n200 x\n", "line 2: expected a number, found 'x'"),
    ],
)
def test_that_a_fault_names_the_file(tmp_path, content, message):
    file = tmp_path / "horn.txt"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(MeasurementError) as fault:
        read_curve(file)
    assert str(fault.value) == f"{file}: {message}"


def test_that_a_file_too_large_for_a_table_is_not_read(tmp_path):
    file = tmp_path / "huge.txt"
    with open(file, "wb") as stream:
        stream.truncate(20_000_001)
    with pytest.raises(MeasurementError, match="is larger than 20 MB"):
        read_curve(file)


FREQUENCY_HZ = np.geomspace(20.0, 20000.0, 3001)


def response(level_db):
    return Curve("response", tuple(FREQUENCY_HZ), tuple(level_db), None, "", True)


def test_that_smoothing_averages_powers_over_each_third():
    # By hand: a ripple of whole periods in a third, 10 lg(1 + cos), has a mean power of 1.
    periods = 3.0 * 10.0 * np.log10(FREQUENCY_HZ)
    smooth = smoothed_to_thirds(response(10.0 * np.log10(1.001 + np.cos(2.0 * np.pi * periods))))
    assert smooth.points == pytest.approx(tuple(third_octaves()))
    assert smooth.values[1:-1] == pytest.approx([10.0 * np.log10(1.001)] * 29, abs=0.05)


def test_that_smoothing_keeps_a_slope():
    # By hand: 6 dB an octave is 20 lg f; over a third the mean of f^2 is sinh(a)/a with a = 0.23, or 0.04 dB.
    smooth = smoothed_to_thirds(response(20.0 * np.log10(FREQUENCY_HZ)))
    inside = np.array(smooth.points[1:-1])
    assert smooth.values[1:-1] == pytest.approx(20.0 * np.log10(inside), abs=0.05)


def test_that_phase_is_averaged_across_the_jump_from_180_to_minus_180():
    phase = (np.linspace(170.0, 190.0, 3001) + 180.0) % 360.0 - 180.0
    coil = Curve("impedance", tuple(FREQUENCY_HZ), (8.0,) * 3001, tuple(phase), "", True)
    smooth = smoothed_to_thirds(coil)
    assert smooth.values == pytest.approx([8.0] * 31)
    assert np.abs(smooth.phase_deg).min() > 169.0


def test_that_a_curve_over_angles_is_not_smoothed():
    with pytest.raises(MeasurementError, match="no one-third octaves"):
        smoothed_to_thirds(Curve("off_axis", (0.0, 30.0), (0.0, -3.0), None, "", True))


NOMINAL = ("16", "31.5", "63", "125", "250", "500", "1000", "2000", "4000", "8000")


@pytest.mark.parametrize("nc", [15.0, 25.0, 40.0, 65.0])
def test_that_noise_on_a_published_curve_is_rated_by_its_number(nc):
    # ANSI/ASA S12.2-2019 table 1.
    rows = zip(NOMINAL, nc_levels(nc), strict=True)
    noise = room_noise_of(parse_table("Hz;dB\n" + "\n".join(f"{hz};{level}" for hz, level in rows)))
    assert noise.nc == pytest.approx(nc, abs=1e-6)
    assert len(noise.level_db) == 10


def test_that_the_a_weighted_level_is_that_of_the_published_sum():
    # Computed from table 1 and the A weights of IEC 61672-1 by other software: NC-30 has 40.34 dB(A).
    rows = "\n".join(f"{hz} {level}" for hz, level in zip(NOMINAL, nc_levels(30.0), strict=True))
    assert room_noise_of(parse_table(rows)).dba == pytest.approx(40.34, abs=0.02)


def test_that_octaves_that_lack_are_silent_and_exact_mids_are_taken_too(tmp_path):
    file = tmp_path / "night.txt"
    file.write_text("501.187\t26\n1000\t20\n")
    noise = read_room_noise(file)
    assert noise.centre_hz == pytest.approx((501.187, 1000.0))
    assert noise.nc == pytest.approx(20.0, abs=0.01)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("500 30\n700 20", "line 2: 700 Hz is not the middle of an octave from 16 Hz to 8 kHz"),
        ("Hz dB\n500 30\n1000 300", "line 3: 300 dB is no level of a room"),
    ],
)
def test_that_a_table_that_is_no_room_noise_is_refused_by_its_line(text, message):
    with pytest.raises(MeasurementError, match=message):
        room_noise_of(parse_table(text))
