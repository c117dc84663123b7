import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.documents.table import Column, Table
from generator.export.columns import column_widths_mm, letters_mm, lines_of

WORDS = st.text(alphabet="abc W_.é工", min_size=0, max_size=40)


@given(text=WORDS, room_mm=st.floats(min_value=4, max_value=60))
def test_every_line_fits_and_no_letter_is_lost(text: str, room_mm: float) -> None:
    lines = lines_of(text, room_mm, 7.5)
    assert all(letters_mm(line, 7.5) <= room_mm for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


@given(
    rows=st.lists(st.tuples(WORDS, WORDS, WORDS), min_size=0, max_size=5),
    room_mm=st.floats(min_value=20, max_value=180),
)
def test_columns_never_take_more_than_the_room(
    rows: list[tuple[str, str, str]], room_mm: float
) -> None:
    columns = (Column("what"), Column("value", "number"), Column("verdict", "verdict"))
    widths = column_widths_mm(Table("", columns, tuple(rows)), room_mm, 7.5)
    assert sum(widths) <= room_mm + 1e-6
    assert all(width >= 0 for width in widths)


def test_short_columns_keep_their_cells_on_one_line() -> None:
    long = "the plug comes away under load: keep a thumb on it " * 4
    rows = tuple((f"check {n}", "at least 12.25 mm", long) for n in range(6))
    table = Table("", (Column("check"), Column("limit"), Column("what happens")), rows)
    widths = column_widths_mm(table, 150, 7.5)
    assert letters_mm("at least 12.25 mm", 7.5) <= widths[1] < 40
    assert sum(widths) == pytest.approx(150)


def test_columns_without_a_letter_in_their_cells_end_the_sharing() -> None:
    """The headings alone are wider than the room; only columns of no weight can still grow."""
    columns = (Column("long"), Column("rule that then fails"), Column("what happens there"))
    rows = (("length of the tap", "", ""),)
    widths = column_widths_mm(Table("", columns, rows), 72, 7.5)
    assert sum(widths) == pytest.approx(72)
    assert widths[0] >= letters_mm("length", 7.5)


def test_what_is_over_goes_to_the_text() -> None:
    table = Table(
        "", (Column("k", "symbol"), Column("what"), Column("mm", "number")), (("S",) * 3,)
    )
    widths = column_widths_mm(table, 100, 7.5)
    assert sum(widths) == pytest.approx(100)
    assert widths[1] > widths[0] > widths[2] - 1
    assert widths[2] < 10
