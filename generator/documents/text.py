"""The typeface of the papers, and how much room its letters take."""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path
from typing import Final

from fontTools.ttLib import TTFont

from generator.documents.drawing import Text
from generator.errors import ExportError

FAMILY: Final = "DejaVu Sans"
REGULAR: Final = "DejaVuSans.ttf"
BOLD: Final = "DejaVuSans-Bold.ttf"
WIDEST: Final = "W"

Box = tuple[float, float, float, float]


@cache
def font_folder() -> Path:
    """Return the folder that holds the regular and the bold face.

    They come with matplotlib, which is found but not imported.

    Raises:
        ExportError: If the faces are not installed.
    """
    spec = find_spec("matplotlib")
    for place in (spec.submodule_search_locations or ()) if spec else ():
        folder = Path(place) / "mpl-data" / "fonts" / "ttf"
        if (folder / REGULAR).is_file() and (folder / BOLD).is_file():
            return folder
    raise ExportError(f"{REGULAR} and {BOLD} not found; install matplotlib, which brings them")


@cache
def _face(bold: bool) -> TTFont:
    """Return a face; its tables are read as they are needed."""
    content = (font_folder() / (BOLD if bold else REGULAR)).read_bytes()
    return TTFont(BytesIO(content), lazy=True)


@cache
def _capital(bold: bool) -> int:
    """Return the height of a capital in units of the face."""
    height: int = _face(bold)["glyf"]["H"].yMax
    return height


@cache
def _letter(letter: str, bold: bool) -> tuple[float, float, float]:
    """Return advance, lowest and highest point of a letter, the height of a capital being 1.

    A letter that the typeface lacks is shown as a box; it counts as the widest capital.
    """
    face, capital = _face(bold), _capital(bold)
    glyphs = face.getBestCmap()
    glyph = glyphs.get(ord(letter), glyphs[ord(WIDEST)])
    shape = face["glyf"][glyph]
    low, high = (shape.yMin, shape.yMax) if shape.numberOfContours else (0, 0)
    return face["hmtx"][glyph][0] / capital, low / capital, high / capital


@cache
def _em(bold: bool) -> float:
    return float(_face(bold)["head"].unitsPerEm / _capital(bold))


def em_mm(height_mm: float, *, bold: bool = False) -> float:
    """Return the nominal size of the type whose capitals have this height."""
    return height_mm * _em(bold)


@cache
def width_mm(text: str, height_mm: float, *, bold: bool = False) -> float:
    """Return the width of one line of text whose capitals have this height."""
    return height_mm * sum(_letter(letter, bold)[0] for letter in text)


def text_box(text: Text) -> Box:
    """Return left, bottom, right and top of the letters as they stand on the sheet."""
    width = width_mm(text.text, text.height_mm, bold=text.bold)
    inked = [_letter(letter, text.bold) for letter in text.text if letter != " "]
    shown = inked or [(0.0, 0.0, 0.0)]
    low = text.height_mm * min(letter[1] for letter in shown)
    high = text.height_mm * max(letter[2] for letter in shown)
    start = {"left": 0.0, "centre": -width / 2, "right": -width}[text.anchor]
    x, y = text.at
    if text.rotation_deg:
        return x - high, y + start, x - low, y + start + width
    return x + start, y + low, x + start + width, y + high


def wrapped(text: str, room_mm: float, height_mm: float, *, bold: bool = False) -> tuple[str, ...]:
    """Return the text broken between words into lines that fit the room.

    A single word wider than the room stands on a line of its own.

    Example:
        >>> wrapped("deburr all edges", 30, 3.5)
        ('deburr all', 'edges')
    """
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, height_mm, bold=bold) <= room_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)
