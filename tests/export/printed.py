"""Printed pages as an outside reader finds them: words with the boxes of their ink, in mm."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pypdfium2

MM = 25.4 / 72
BROKEN = "\ufffe"
"""What the reader gives for a hyphen that ends a line."""


@dataclass(frozen=True, slots=True)
class Word:
    """A word and its box, counted from the lower left corner of the page."""

    text: str
    left: float
    bottom: float
    right: float
    top: float


@dataclass(frozen=True, slots=True)
class Page:
    """A page: its size and its words in the order in which they were written."""

    width_mm: float
    height_mm: float
    words: tuple[Word, ...]

    @property
    def text(self) -> str:
        """All words, a space between."""
        return " ".join(word.text for word in self.words)

    @property
    def body(self) -> tuple[Word, ...]:
        """The words between the head and the foot of an upright page, from the top down."""
        inner = [w for w in self.words if w.bottom > 18 and w.top < self.height_mm - 20]
        return tuple(sorted(inner, key=lambda word: -word.top))


def pages(content: bytes) -> tuple[Page, ...]:
    """Return all pages of a PDF."""
    pdf = pypdfium2.PdfDocument(content)
    return tuple(_page(pdf[n]) for n in range(len(pdf)))


def _page(page: pypdfium2.PdfPage) -> Page:
    read = page.get_textpage()
    text = "".join(read.get_text_range(n, 1) or " " for n in range(read.count_chars()))
    parted = (n for n, letter in enumerate(text) if letter.isspace() or letter == BROKEN)
    ends = [-1, *parted, len(text)]
    words = []
    for start, end in pairwise(ends):
        boxes = [read.get_charbox(n) for n in range(start + 1, end)]
        inked = [box for box in boxes if box[2] > box[0] and box[3] > box[1]]
        if inked:
            left, bottom, *_ = (min(side) * MM for side in zip(*inked, strict=True))
            *_, right, top = (max(side) * MM for side in zip(*inked, strict=True))
            words.append(Word(text[start + 1 : end], left, bottom, right, top))
    width, height = page.get_size()
    return Page(width * MM, height * MM, tuple(words))


def overlaps(page: Page, least_mm: float = 0.1) -> list[tuple[str, str]]:
    """Return the pairs of words whose ink lies on each other by more than so much both ways."""
    sides = np.array([(w.left, w.bottom, w.right, w.top) for w in page.words]).reshape(-1, 4)
    low = np.maximum(sides[:, None, :2], sides[None, :, :2])
    high = np.minimum(sides[:, None, 2:], sides[None, :, 2:])
    over = np.triu(((high - low) > least_mm).all(axis=2), 1)
    return [(page.words[a].text, page.words[b].text) for a, b in np.argwhere(over)]
