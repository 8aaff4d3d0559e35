"""Tables of text in every shape that programs and people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.measurements.errors import MeasurementError
from planner.measurements.table import parse_table

ROWS = ((100.0, 90.5), (200.0, 91.25), (1000.0, -3.0))


@pytest.mark.parametrize(
    ("text", "delimiter", "decimal_comma"),
    [
        pytest.param("100,90.5\n200,91.25\n1000,-3", "comma", False, id="comma"),
        pytest.param("100, 90.5\n200, 91.25\n1000, -3", "comma", False, id="comma and blank"),
        pytest.param("100;90,5\n200;91,25\n1000;-3", "semicolon", True, id="semicolon, decimal comma"),
        pytest.param(
            "100 ; 90.5\n200 ; 91.25\n1000 ; -3;", "semicolon", False, id="semicolon at the end too"
        ),
        pytest.param("100\t90.5\n200\t91.25\n1000\t-3", "tab", False, id="tab"),
        pytest.param("100\t90,5\n200\t91,25\n1000\t-3", "tab", True, id="tab, decimal comma"),
        pytest.param("100 90.5\n 200   91.25\n1000 -3", "spaces", False, id="spaces"),
        pytest.param("100,0 90,5\n200,0 91,25\n1000,0 -3,0", "spaces", True, id="spaces, decimal comma"),
        pytest.param(
            "1e2 90.5\n2.0E+02 91.25\n1000. \u22123", "spaces", False, id="powers of ten, minus sign"
        ),
        pytest.param('"100";"90,5"\n"200";"91,25"\n"1000";"-3"', "semicolon", True, id="quoted"),
        pytest.param("100 90.5\r\n\r\n200 91.25\r\n1000 -3\r\n", "spaces", False, id="line ends of Windows"),
    ],
)
def test_that_every_separator_and_decimal_mark_gives_the_same_rows(text, delimiter, decimal_comma):
    table = parse_table(text)
    assert table.rows == ROWS
    assert (table.delimiter, table.decimal_comma) == (delimiter, decimal_comma)


@pytest.mark.parametrize("mark", ["#", ";", "*", "//", '"', "%", "!"])
def test_that_comment_lines_are_passed_over_anywhere(mark):
    text = f"{mark} measured at night\n100 90.5\n{mark} door closed\n200 91.25\n\n1000 -3\n{mark} end"
    table = parse_table(text)
    assert table.rows == ROWS
    assert table.lines == (2, 4, 6)


@pytest.mark.parametrize(
    ("head", "header"),
    [
        ("Frequency;SPL", ("Frequency", "SPL")),
        ("* Freq(Hz) SPL(dB)", ("Freq(Hz)", "SPL(dB)")),
        ('"Freq. [Hz]";"Level [dB]"', ("Freq. [Hz]", "Level [dB]")),
        ("Horn, mouth\nHz;dB", ("Hz", "dB")),
        ("a title of several words", ()),
        ("", ()),
    ],
)
def test_that_the_header_is_the_last_line_above_with_a_word_for_each_column(head, header):
    assert parse_table(f"{head}\n100;90.5\n200;91\n").header == header


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "line 1: no table of numbers begins here or below"),
        ("only words\nand more", "line 1: no table of numbers begins here or below"),
        ("100 90\n200 nine", "line 2: expected a number, found 'nine'"),
        ("# head\n100;90\n\n200;91;5", "line 4: expected 2 numbers as in line 2, found 3 ('200;91;5')"),
        ("100;90\n200", "line 2: expected 2 numbers as in line 1, found 1 ('200')"),
        ("100;90,5\n200;1.091,5", "line 2: expected a number, found '1.091,5'"),
        ("100;90,5\n200;91.5", "line 2: a decimal point in '91.5', and commas in other numbers; use one"),
        ("100 90\nnan 91", "line 2: expected a number, found 'nan'"),
        ("100 1e999\n200 3", "line 1: '1e999' is beyond all bounds"),
        ("100;90\nthe end", "line 2: expected a number, found 'the end'"),
    ],
)
def test_that_a_fault_names_its_line(text, message):
    with pytest.raises(MeasurementError) as fault:
        parse_table(text)
    assert str(fault.value).startswith(message)


numbers = st.floats(-1e6, 1e6).map(lambda value: round(value, 4))
tables = st.integers(2, 5).flatmap(
    lambda width: st.lists(st.lists(numbers, min_size=width, max_size=width), min_size=1, max_size=20)
)


@given(tables, st.sampled_from([";", "\t", " "]), st.booleans())
def test_that_what_was_written_is_read_back(rows, separator, comma):
    text = "\n".join(separator.join(repr(value) for value in row) for row in rows)
    table = parse_table(text.replace(".", ",") if comma else text)
    assert table.rows == tuple(tuple(row) for row in rows)


@given(tables)
def test_that_numbers_between_commas_are_read_back(rows):
    assert parse_table("\n".join(",".join(map(repr, row)) for row in rows)).rows == tuple(map(tuple, rows))


@given(st.text(max_size=200))
def test_that_any_text_is_a_table_or_a_fault_with_a_line(text):
    try:
        table = parse_table(text)
    except MeasurementError as fault:
        assert str(fault).startswith("line ")
    else:
        assert len({len(row) for row in table.rows}) == 1
