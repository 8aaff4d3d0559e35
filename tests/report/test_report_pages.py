"""Setting of pages: what stays together, what is repeated, how tables and lines are broken."""

import io
import re

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QRectF
from PySide6.QtGui import QImage, QPageLayout, QPageRanges, QPainter, QPdfWriter

from planner.report.content.blocks import Column, Heading, Picture, Table, Text
from planner.report.figures.chart import Chart, rounded_axis
from planner.report.pages.canvas import Canvas
from planner.report.pages.flow import BREAK, Piece, flowed, paint_stack
from planner.report.pages.paper import A4
from planner.report.pages.setting import pieces_of
from planner.report.pages.tables import table_pieces
from planner.report.pages.typeface import BODY, NOTE, SMALL, elided, lines_of, width_of
from planner.report.printing import paint_report, pdf_bytes
from planner.report.wishes import Wishes
from tests.report.papers import ON, cases_of, pages_of

pytestmark = pytest.mark.usefixtures("qapp")


def piece(height=30.0, **changes):
    return Piece(height, lambda canvas, rect: None, **changes)


def tops(pages):
    return [[(placed.top, placed.height) for placed in page] for page in pages]


def test_that_pieces_stand_one_below_the_other_with_their_gaps():
    assert tops(flowed([piece(before=9.0), piece(before=5.0), piece()], 100.0)) == [
        [(0.0, 30.0), (35.0, 30.0), (65.0, 30.0)]
    ]


def test_that_a_piece_without_room_begins_the_next_page_without_its_gap():
    assert tops(flowed([piece(80.0), piece(before=5.0)], 100.0)) == [[(0.0, 80.0)], [(0.0, 30.0)]]


def test_that_a_heading_never_stands_alone_at_the_foot_of_a_page():
    pages = flowed([piece(60.0), piece(10.0, keep=True), piece(40.0)], 100.0)
    assert tops(pages) == [[(0.0, 60.0)], [(0.0, 10.0), (10.0, 40.0)]]


def test_that_a_break_begins_a_page_and_two_of_them_no_empty_one():
    assert tops(flowed([piece(), BREAK, BREAK, piece()], 100.0)) == [[(0.0, 30.0)], [(0.0, 30.0)]]


def test_that_a_table_goes_on_below_its_head_on_the_next_page():
    head = piece(10.0, keep=True)
    rows = [piece(30.0, head=head) for _ in range(4)]
    pages = flowed([head, *rows], 100.0)
    assert tops(pages) == [
        [(0.0, 10.0), (10.0, 30.0), (40.0, 30.0), (70.0, 30.0)],
        [(0.0, 10.0), (10.0, 30.0)],
    ]
    assert pages[1][0].piece is head


def test_that_what_stretches_takes_the_free_room_of_its_page_in_shares():
    pages = flowed([piece(20.0, stretch=1.0), piece(20.0), piece(20.0, stretch=3.0)], 100.0)
    assert tops(pages) == [[(0.0, 30.0), (30.0, 20.0), (50.0, 50.0)]]


def test_that_a_piece_taller_than_a_page_has_a_page_of_its_own():
    assert [len(page) for page in flowed([piece(), piece(500.0), piece()], 100.0)] == [1, 1, 1]


def test_that_a_stack_is_stretched_to_its_box():
    seen = []
    stretched = Piece(10.0, lambda canvas, rect: seen.append(rect.height()), stretch=1.0)
    image = QImage(10, 10, QImage.Format.Format_RGB32)
    with QPainter(image) as painter:
        paint_stack(Canvas(painter), QRectF(0.0, 0.0, 50.0, 100.0), [piece(), stretched])
    assert seen == [70.0]


def test_that_lines_are_no_wider_than_their_column_and_hold_every_word():
    text = "Nothing of this long sentence may be lost when it is broken into lines of a narrow column."
    lines = lines_of(text, BODY, 120.0)
    assert len(lines) > 2 and " ".join(lines) == text
    assert all(width_of(line, BODY) <= 120.0 + 0.1 for line in lines)


@pytest.mark.parametrize("width", [80.0, 95.0, 110.0, 125.0, 140.0])
def test_that_a_figure_and_its_unit_are_never_parted(width):
    lines = lines_of("It needs 0.77 W of its 2.5 W at 104.0 dB, 86 % of the time, at 250 Hz.", BODY, width)
    assert not any(re.match(r"(W|dB|%|Hz)\b", line) for line in lines[1:])


def test_that_a_word_wider_than_its_column_is_broken_within():
    lines = lines_of("x" * 60, SMALL, 40.0)
    assert len(lines) > 3 and "".join(lines) == "x" * 60


def test_that_a_text_too_long_for_its_place_ends_in_an_ellipsis():
    assert elided("short", NOTE, 200.0) == "short"
    assert elided("a long text " * 9, NOTE, 60.0).endswith("…")


def table(rows, **changes):
    columns = (Column("Thing", side="left"), Column("Level", "dB"), Column("Power", "W"))
    return Table(columns, rows, **changes)


def painted(blocks, width=300.0):
    """The texts of blocks set in a column, with the right end of each, by way of a PDF [pt]."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(72)
    writer.setPageMargins(QMarginsF())
    with QPainter(writer) as painter:
        paint_stack(Canvas(painter), QRectF(20.0, 20.0, width, 700.0), pieces_of(blocks, width))
    found = []
    page = PdfReader(io.BytesIO(bytes(buffer.data().data()))).pages[0]
    page.extract_text(visitor_text=lambda text, cm, tm, *_: found.append((text.strip(), cm, tm)))
    return [one for one in found if one[0]]


def test_that_numbers_stand_with_their_last_digits_below_one_another():
    rows = (("first", "9.5", "1234.56"), ("second", "-110.25", "0.10"))
    places = {text: cm[4] + tm[4] * cm[0] for text, cm, tm in painted([table(rows)])}
    for pair in (("9.5", "-110.25"), ("1234.56", "0.10")):
        ends = [places[text] + width_of(text, SMALL) for text in pair]
        assert ends[0] == pytest.approx(ends[1], abs=0.05)
    assert places["first"] == pytest.approx(places["second"], abs=0.01)


def test_that_a_table_is_no_wider_than_its_page_however_long_its_names():
    rows = (("a name that goes on and on " * 4, "9.5", "1234.56"),)
    heights = [one.height for one in table_pieces(table(rows), 200.0)]
    assert heights[1] > 4 * SMALL.line_pt
    assert table_pieces(table(rows), 480.0)[1].height < heights[1]


def test_that_a_table_with_a_row_of_the_wrong_length_is_refused():
    with pytest.raises(ValueError, match="one cell or 3"):
        table((("first", "9.5"),))


def test_that_a_short_table_is_never_parted_and_a_long_one_may_be():
    short = table_pieces(table((("a", "1.0", "2.0"),) * 5), 300.0)
    long = table_pieces(table((("a", "1.0", "2.0"),) * 60), 300.0)
    assert all(one.keep for one in short[:-1]) and not short[-1].keep
    assert not all(one.keep for one in long[:-1])
    assert all(one.head is long[0] for one in long[1:])


def test_that_a_name_stays_with_the_rows_below_it():
    rows = (*((("a", "1.0", "2.0"),) * 40), ("A name",), ("b", "1.0", "2.0"), ("c", "1.0", "2.0"))
    pieces = table_pieces(table(rows), 300.0)
    assert pieces[41].keep and pieces[42].keep


def test_that_a_note_stays_with_the_table_it_explains():
    pieces = pieces_of([table((("a", "1.0", "2.0"),) * 60), Text("Why.", "note")], 300.0)
    assert pieces[-2].keep


def test_that_a_heading_stays_with_what_it_heads():
    pieces = pieces_of([Heading("What follows"), Text("The text.")], 300.0)
    assert pieces[0].keep and not pieces[1].keep


def test_that_a_picture_is_at_least_as_high_as_it_asks():
    axis = rounded_axis("", 0.0, 1.0)
    (only,) = pieces_of([Picture(Chart("test", "", axis, axis, ()), 80.0, 2.0)], 300.0)
    assert (only.height, only.stretch) == (80.0, 2.0)


def printed(prepare):
    """The report of a demo room on a device that somebody has set up."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    prepare(writer)
    paint_report(writer, cases_of("tea_room"), Wishes(on=ON))
    return bytes(buffer.data().data())


def test_that_a_printer_s_own_margins_and_dots_do_not_move_the_page():
    def prepare(writer):
        writer.setResolution(600)
        writer.setPageMargins(QMarginsF(15.0, 12.0, 9.0, 20.0), QPageLayout.Unit.Millimeter)

    def corner(pdf):
        found = []
        page = PdfReader(io.BytesIO(pdf)).pages[0]
        page.extract_text(visitor_text=lambda text, cm, tm, *_: found.append((text.strip(), cm[4:], cm[0])))
        return next((x, y) for text, (x, y), _ in found if text)

    plain = corner(pdf_bytes(cases_of("tea_room"), A4, Wishes(on=ON)))
    assert corner(printed(prepare)) == pytest.approx(plain, abs=0.6)


def test_that_only_the_pages_asked_for_are_printed():
    def prepare(writer):
        ranges = QPageRanges()
        ranges.addRange(2, 3)
        writer.setPageRanges(ranges)
        writer.setPageMargins(QMarginsF())

    pages = [page.replace("\t", " ") for page in pages_of(printed(prepare))]
    assert ["page 2 of" in pages[0], "page 3 of" in pages[1], len(pages)] == [True, True, 2]


@pytest.mark.qt_log_ignore("QPainter::begin", extend=True)
def test_that_a_device_that_takes_no_page_is_an_error_and_no_crash(tmp_path):
    writer = QPdfWriter(str(tmp_path / "nowhere" / "report.pdf"))
    with pytest.raises(OSError, match="takes no page"):
        paint_report(writer, cases_of("tea_room"), Wishes(on=ON))
