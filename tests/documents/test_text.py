import string

import pytest
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from generator.documents.drawing import Text
from generator.documents.text import BOLD, REGULAR, em_mm, font_folder, text_box, width_mm, wrapped


def test_both_faces_are_in_the_folder() -> None:
    assert (font_folder() / REGULAR).is_file()
    assert (font_folder() / BOLD).is_file()


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", ["HNEZ", "Ø8 H7 (+0.015/0)", "1°25'50''"])
def test_box_is_the_one_another_reader_of_the_typeface_finds(text: str, *, bold: bool) -> None:
    # matplotlib's own reader of the file; it adds kerning and hints, hence the tolerance
    face = FontProperties(fname=font_folder() / (BOLD if bold else REGULAR))
    path = TextPath((0, 0), text, size=em_mm(3.5, bold=bold), prop=face)
    box = path.get_extents()
    left, bottom, right, top = text_box(Text((0.0, 0.0), text, 3.5, bold=bold))
    assert bottom == pytest.approx(box.y0, abs=0.1)
    assert top == pytest.approx(box.y1, abs=0.1)
    assert left <= box.x0
    assert right == pytest.approx(box.x1, abs=0.8)


def test_height_is_that_of_a_capital() -> None:
    _, bottom, _, top = text_box(Text((0.0, 0.0), "H", 3.5))
    assert bottom == 0.0
    assert top == pytest.approx(3.5)


def test_turned_text_reads_from_the_right() -> None:
    left, bottom, right, top = text_box(Text((10.0, 20.0), "HH", 3.5, rotation_deg=90.0))
    assert [left, right] == pytest.approx([6.5, 10.0])
    assert [bottom, top] == pytest.approx([20.0, 20.0 + width_mm("HH", 3.5)])


def test_anchor_shifts_the_box_by_its_width() -> None:
    width = width_mm("Ra 0.8", 3.5)
    boxes = [text_box(Text((0.0, 0.0), "Ra 0.8", anchor=a)) for a in ("left", "centre", "right")]
    assert [box[0] for box in boxes] == [0.0, pytest.approx(-width / 2), pytest.approx(-width)]


def test_a_letter_that_the_typeface_lacks_takes_the_room_of_a_wide_one() -> None:
    assert width_mm("心", 3.5) == width_mm("W", 3.5)
    assert text_box(Text((0.0, 0.0), "心"))[2] == pytest.approx(width_mm("W", 3.5))


def test_wrapped_lines_fit_and_lose_no_word() -> None:
    text = " ".join(string.ascii_lowercase[n : n + 6] for n in range(18))
    lines = wrapped(text, 40.0, 3.5)
    assert " ".join(lines) == text
    assert all(width_mm(line, 3.5) <= 40.0 for line in lines)
    assert len(lines) > 3
