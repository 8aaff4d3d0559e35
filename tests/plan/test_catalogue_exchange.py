"""Entries to files and back: JSON and CSV round trips are exact, and every fault is named with its place."""

import csv
import io
import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.plan import PlanError
from planner.plan.amplifier import Amplifier, Cable
from planner.plan.catalogue import (
    KINDS,
    built_in_entries,
    dumps_csv,
    dumps_json,
    entry_of,
    export_entries,
    import_entries,
    loads_csv,
    loads_json,
    plain_data,
    read_entry,
)
from planner.plan.catalogue.cells import cell_of, value_of
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.room import OwnMaterial
from planner.plan.storage import MOST_BYTES
from tests.plans import amplifier, candidate, section

ENTRIES = built_in_entries()
BOTH = pytest.mark.parametrize(
    ("dumps", "loads"),
    [pytest.param(dumps_json, loads_json, id="JSON"), pytest.param(dumps_csv, loads_csv, id="CSV")],
)


def findings(loads, text):
    with pytest.raises(PlanError) as caught:
        loads(text)
    return {(one.path, one.value): one.expected for one in caught.value.findings}


def edited(text, *edits):
    """CSV with cells replaced: (row as a spreadsheet numbers it, heading, new text)."""
    table = list(csv.reader(io.StringIO(text, newline="")))
    for row, heading, cell in edits:
        if heading not in table[0]:
            for line in table:
                line.append("")
            table[0][-1] = heading
        table[row - 1][table[0].index(heading)] = cell
    stream = io.StringIO(newline="")
    csv.writer(stream).writerows(table)
    return stream.getvalue()


numbers = st.floats(0.001, 1e5, allow_nan=False) | st.integers(1, 10**5).map(float)
texts = st.text(st.characters(exclude_categories=("Cs",)), max_size=30)
names = texts.filter(bool)
curves = st.lists(
    st.tuples(st.floats(1.0, 1e5), st.floats(0.01, 999.0), st.floats(-180.0, 180.0)), min_size=1, max_size=5
).map(lambda rows: sorted({row[0]: row for row in rows}.values()))
octaves = st.dictionaries(st.sampled_from(["31.5", "125", "1000", "8000"]), st.floats(0.0, 1.0), min_size=1)


@st.composite
def loudspeakers(draw):
    one = section(draw(names), low_hz=draw(st.floats(10.0, 100.0)), high_hz=draw(st.floats(200.0, 2e4)))
    impedance = {"nominal_ohm": draw(st.floats(0.6, 999.0)), "table": draw(curves)}
    baffle = draw(st.just("wall") | st.floats(0.1, 50.0))
    given = {"name": draw(names), "baffle_width_m": baffle, "sections": [one], "impedance": impedance}
    speaker = Loudspeaker.model_validate({**candidate()["loudspeaker"], **given, "note": draw(texts)})
    return entry_of(speaker, note=draw(texts))


@st.composite
def amplifiers(draw):
    rating = st.fixed_dictionaries(
        {"ohm": st.floats(1.0, 999.0), "watts": numbers, "distortion_pct": st.floats(0.0, 100.0),
         "output_ohm": st.floats(0.0, 999.0)}
    )  # fmt: skip
    taps = draw(st.lists(rating, min_size=1, max_size=3))
    return entry_of(
        Amplifier.model_validate(amplifier(name=draw(names), taps=taps)), note=draw(st.none() | texts)
    )


@st.composite
def materials(draw):
    absorption = draw(octaves | st.floats(0.0, 1.0))
    return entry_of(OwnMaterial.model_validate({"name": draw(names), "absorption": absorption}))


cables = st.builds(lambda ohm, name: entry_of(Cable(loop_ohm=ohm), name), st.floats(0.0, 1000.0), names)
entries = st.one_of(loudspeakers(), amplifiers(), materials(), cables, st.sampled_from(ENTRIES))


@BOTH
def test_that_all_built_in_entries_go_out_and_come_back_the_same(dumps, loads):
    assert loads(dumps(ENTRIES)) == ENTRIES


@BOTH
@settings(max_examples=60)
@given(given=st.lists(entries, max_size=4))
def test_that_any_entries_go_out_and_come_back_exactly(dumps, loads, given):
    if not given and dumps is dumps_csv:
        assert dumps(given) == "\r\n"
    else:
        assert loads(dumps(given)) == tuple(given)
        assert dumps(loads(dumps(given))) == dumps(given)


@pytest.mark.parametrize("ending", ["json", "csv", "CSV"])
def test_that_a_file_comes_back_the_same(tmp_path, ending):
    file = tmp_path / f"entries.{ending}"
    export_entries(ENTRIES, file)
    assert import_entries(file) == ENTRIES
    assert [one.name for one in tmp_path.iterdir()] == [file.name]


def test_that_a_csv_file_tells_a_spreadsheet_its_encoding_and_its_columns_by_their_path(tmp_path):
    file = tmp_path / "entries.csv"
    export_entries(ENTRIES, file)
    assert file.read_bytes().startswith(b"\xef\xbb\xbfid,kind,name,note,data.name,")
    headings = file.read_text(encoding="utf-8-sig").split("\n")[0].strip().split(",")
    assert "data.sections[0].low_hz" in headings and "data.taps[0].watts" in headings
    assert headings.index("data.sections[0].high_hz") < headings.index("data.sections[1].low_hz")


def test_that_there_is_one_row_for_each_entry_and_a_curve_is_one_cell():
    table = list(csv.DictReader(io.StringIO(dumps_csv(ENTRIES), newline="")))
    assert len(table) == len(ENTRIES)
    curve = next(row["data.impedance.table"] for row in table if row["data.impedance.table"])
    assert curve.startswith("20 7.5 22; 25 8 27; ")
    assert "0.15; 250: 0.4" in next(row["data.absorption"] for row in table if row["kind"] == "material")


def test_that_an_empty_text_and_one_of_quotes_only_are_kept_apart_from_none():
    for note in ("", '"', '""', '"""', None):
        entry = entry_of(Cable(loop_ohm=0.1), "Cable", note)
        assert loads_csv(dumps_csv([entry])) == (entry,)


def test_that_a_curve_longer_than_a_cell_of_the_library_comes_back():
    table = [[20.0 + index / 7.0, 8.0 + index / 3.0 % 1.0, 1.0 / (index + 3.0)] for index in range(9000)]
    given = {**candidate()["loudspeaker"], "impedance": {"nominal_ohm": 8.0, "table": table}}
    entry = entry_of(Loudspeaker.model_validate(given))
    before = csv.field_size_limit()
    text = dumps_csv([entry])
    assert max(map(len, text.split(","))) > before
    assert loads_csv(text) == (entry,)
    assert csv.field_size_limit() == before


@pytest.mark.parametrize("value", [0.0, -0.0, 1e22, 12345678901234567.0, 0.1 + 0.2, 5e-324, 1.7e308])
def test_that_a_number_comes_back_to_the_last_bit(value):
    back = float(value_of(cell_of(value), frozenset({"number"})))
    assert math.copysign(1.0, back) == math.copysign(1.0, value) and back == value


@pytest.mark.parametrize("cell", ["9" * 5000, "1e999", "nan", "inf", "1_000", "٣", "0x10", "--1", "1.2.3"])
def test_that_what_is_no_number_of_a_usual_size_is_a_finding(cell):
    text = edited(dumps_csv(ENTRIES[:1]), (2, "data.mass_kg", cell))
    assert [path for path, _ in findings(loads_csv, text)] == ["row 2, column data.mass_kg"]


@pytest.mark.parametrize("cell", ["125: 0.1; 125: 0.2", "125 0.1", "125: much", "0.1; 0.2", ""])
def test_that_octaves_written_otherwise_are_left_as_text_for_the_model_to_refuse(cell):
    assert value_of(cell, frozenset({"number", "octaves"})) == cell


@pytest.mark.parametrize("mark", [";", "\t"], ids=["semicolons", "tabs"])
def test_that_a_table_saved_where_a_comma_is_decimal_is_understood(mark):
    stream = io.StringIO(newline="")
    row = ["own-x", "loudspeaker", "Box", "half_space", "0,45", "8", "20 9,5 25; 31,5 17 30", "Full", "45,5",
           "15000", "95,5", "2.83 V", "omni"]  # fmt: skip
    writer = csv.writer(stream, delimiter=mark)
    writer.writerow(["id", "kind", "data.name", "data.radiates_into", "data.baffle_width_m",
                     "data.impedance.nominal_ohm", "data.impedance.table", "data.sections[0].name",
                     "data.sections[0].low_hz", "data.sections[0].high_hz",
                     "data.sections[0].sensitivity.level_db", "data.sections[0].sensitivity.drive",
                     "data.sections[0].radiator.kind"])  # fmt: skip
    writer.writerow(row)
    (entry,) = loads_csv(stream.getvalue())
    assert entry.data.baffle_width_m == 0.45 and entry.data.sections[0].low_hz == 45.5
    assert entry.data.impedance.table == ((20.0, 9.5, 25.0), (31.5, 17.0, 30.0))


def test_that_a_comma_in_a_number_of_a_comma_table_is_refused():
    text = edited(dumps_csv(ENTRIES[:1]), (2, "data.mass_kg", "1,500"))
    assert findings(loads_csv, text) == {
        ("row 2, column data.mass_kg", '"1,500"'): "a number from 0.1 to 10000 kg"
    }


def test_that_whole_numbers_keep_their_kind_and_empty_rows_are_passed_over():
    text = "id,kind,name,data.gauge_awg,data.length_m\r\n,,,,\r\nown-a,cable,A,14,3\r\n,,,,\r\n"
    (entry,) = loads_csv(text)
    assert entry.data == Cable(gauge_awg=14, length_m=3.0)
    assert (
        "whole number"
        in findings(loads_csv, text.replace(",14,", ",14.5,"))[("row 3, column data.gauge_awg", "14.5")]
    )


def test_that_every_fault_of_a_table_is_named_at_once_with_row_column_and_what_was_expected():
    cable = entry_of(Cable(gauge_awg=14, length_m=3.0), "Cable")
    text = edited(
        dumps_csv([ENTRIES[0], ENTRIES[1], cable]),
        (2, "data.sections[0].low_hz", "deep"),
        (3, "data.sections[1].sensitivity.level_db", "300"),
        (3, "data.sections[0].radiator.kind", "trumpet"),
        (4, "kind", "rope"),
        (3, "data.sections[0].radiator.mouth_width_m", "0.4"),
    )
    found = findings(loads_csv, text)
    assert found.pop(("row 4, column kind", "'rope'")) == f"one of {', '.join(KINDS)}"
    assert found.pop(("row 2, column data.sections[0].low_hz", '"deep"')) == "a number above 0 Hz"
    level = found.pop(("row 3, column data.sections[1].sensitivity.level_db", "300"))
    assert level == "a number from 40 to 130 dB"
    kind = found.pop(("row 3, column data.sections[0].radiator.kind", '"trumpet"'))
    assert "horn" in kind and "dipole" in kind
    assert found == {}


def test_that_a_cell_that_does_not_belong_to_what_its_row_says_is_named():
    text = edited(dumps_csv(ENTRIES[:1]), (2, "data.sections[0].radiator.mouth_width_m", "0.4"))
    expected = findings(loads_csv, text)[("row 2, column data.sections[0].radiator.mouth_width_m", "0.4")]
    assert expected.startswith("a known key")


def test_that_a_missing_cell_is_named():
    text = edited(dumps_csv(ENTRIES[:1]), (2, "data.sections[1].high_hz", ""))
    expected = findings(loads_csv, text)[("row 2, column data.sections[1].high_hz", "")]
    assert expected == "a number above 0 Hz, and nothing stands here"


@pytest.mark.parametrize(
    ("heading", "near"),
    [
        ("data.sections[1].low_Hz", "data.sections[1].low_hz"),
        ("data.taps[12].wats", "data.taps[12].watts"),
        ("made", "made.year"),
        ("data..mass_kg", "data.mass_kg"),
        ("data.sections[].low_hz", "data.sections[0].low_hz"),
    ],
)
def test_that_an_unknown_column_is_named_once_with_the_nearest_one(heading, near):
    text = edited(dumps_csv(ENTRIES[:2]), (2, heading, "1"))
    assert findings(loads_csv, text) == {(f"row 1, column {heading}", ""): f"a known column, perhaps {near}"}


def test_that_a_column_given_twice_and_a_cell_beyond_the_headings_are_faults():
    text = "id,kind,name,data.loop_ohm,id\r\nown-a,cable,A,0.1,own-a,stray\r\n"
    found = findings(loads_csv, text)
    assert found[("row 1, column id", "the same heading twice")] == "each column once"
    assert found[("row 2, column 6", '"stray"')] == "no cell beyond the headings"


@pytest.mark.parametrize(
    ("text", "path"),
    [
        pytest.param("", "row 1", id="nothing"),
        pytest.param("\r\n1,2\r\n", "row 1", id="no headings"),
        pytest.param('id,kind\r\n"own-a,cable\r\n', "row 2", id="a quote never closed"),
        pytest.param(b"id,kind\r\n\xff\xfe\r\n", "the file", id="not UTF-8"),
    ],
)
def test_that_what_is_no_table_is_refused_with_its_place(text, path):
    assert [place for place, _ in findings(loads_csv, text)] == [path]


def test_that_every_fault_of_a_json_file_is_named_at_once_by_its_path(tmp_path):
    data = json.loads(dumps_json(ENTRIES[:3]))
    data["entries"][0]["data"]["sections"][0]["low_hz"] = -1
    data["entries"][1]["data"]["colour"] = "red"
    data["entries"][2]["id"] = "two words"
    data["entries"].append("no entry")
    data["entries"].append({"kind": "cable", "id": "own-c", "data": {}})
    file = tmp_path / "some.json"
    file.write_text(json.dumps(data), encoding="utf-8")
    with pytest.raises(PlanError) as caught:
        import_entries(file)
    assert {one.file for one in caught.value.findings} == {str(file)}
    assert [one.path for one in caught.value.findings] == [
        "entries[0].data.sections[0].low_hz",
        "entries[1].data.colour",
        "entries[2].id",
        "entries[3]",
        "entries[4].name",
        "entries[4].data",
    ]


@pytest.mark.parametrize(
    ("content", "path"),
    [
        pytest.param("{", "the file", id="cut short"),
        pytest.param("[]", "format", id="a list"),
        pytest.param('{"format": "fewwatts-plan", "version": 1}', "format", id="a plan"),
        pytest.param('{"format": "fewwatts-catalogue", "version": 2, "entries": []}', "version", id="newer"),
        pytest.param('{"format": "fewwatts-catalogue", "version": 1}', "entries", id="without entries"),
        pytest.param(
            '{"format": "fewwatts-catalogue", "version": 1, "entries": [], "more": 1}',
            "more",
            id="unknown key",
        ),
    ],
)
def test_that_what_is_no_catalogue_is_refused(content, path):
    assert [place for place, _ in findings(loads_json, content)] == [path]


def test_that_a_newer_catalogue_is_refused_with_a_clear_word():
    content = '{"format": "fewwatts-catalogue", "version": 2, "entries": []}'
    assert "newer Few Watts" in findings(loads_json, content)[("version", "2")]


def test_that_a_missing_and_a_huge_file_are_refused_with_a_reason(tmp_path):
    with pytest.raises(PlanError, match="No such file"):
        import_entries(tmp_path / "none.csv")
    huge = tmp_path / "huge.csv"
    with huge.open("wb") as stream:
        stream.truncate(MOST_BYTES + 1)
    with pytest.raises(PlanError, match="at most 20000000 bytes"):
        import_entries(huge)


def test_that_an_entry_of_no_known_kind_says_which_there_are():
    for data in ({}, {"kind": 5}, {"kind": "plan"}):
        with pytest.raises(PlanError, match="loudspeaker, amplifier, source, cable, material"):
            read_entry(data)


@pytest.mark.parametrize("kind", KINDS)
def test_that_an_entry_as_plain_data_is_the_plans_own_schema(kind):
    entry = next(one for one in ENTRIES if one.kind == kind)
    data = plain_data(entry)
    assert set(data) <= {"id", "kind", "name", "made", "note", "data"}
    if kind in ("loudspeaker", "amplifier"):
        assert type(entry.data).model_validate(data["data"]) == entry.data
