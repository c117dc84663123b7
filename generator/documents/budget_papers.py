"""A budget of errors: each with its key and what it comes to, and what all of them add up to."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from generator.documents.signs import amount, places, signed
from generator.documents.table import Column, Table
from generator.use.alignment import Figures, Term

BUDGET_LINE: Final = (
    "Each error is at most what stands in the table, to any side with the same chance unless it "
    "says that it always goes one way. Worst: all at their most and in one line. RSS: those that "
    "always go one way, and the root of the sum of the squares of the others. 50, 95 and 99.7 %: "
    "what so many of all cases do not exceed, worked out exactly; the check judges the 95 %."
)

SUMS: Final = (
    ("worst", "worst"),
    ("RSS", "rss"),
    ("50 %", "half"),
    ("95 %", "most"),
    ("99.7 %", "nearly_all"),
)


def budget_table(
    terms: Sequence[Term], columns: Mapping[str, Callable[[Term], str]], title: str
) -> Table:
    """Return every error with its key and value, and what further columns tell of it.

    Args:
        terms: The errors.
        columns: Each further column by its heading; one that ends in mm holds numbers.
        title: What stands over the table.
    """
    heads = (
        Column("error"),
        Column("key"),
        Column("its value", "number"),
        *(Column(name, "number" if name.endswith("mm") else "text") for name in columns),
    )
    rows = tuple(
        (term.name, term.key, given(term), *(told(term) for told in columns.values()))
        for term in terms
    )
    return Table(title, heads, rows)


def given(term: Term) -> str:
    """Return what the parameter of an error says."""
    text = signed(amount(term.given, term.unit))
    return f"{text} in 100" if term.key == "alignment.slope_mm" else text


def sums_table(found: Mapping[str, Figures], title: str) -> Table:
    """Return what the errors add up to, a row for each sum, in millimetres."""
    heads = (Column("mm"), *(Column(name, "number") for name, _ in SUMS))
    rows = tuple(
        (what, *(places(getattr(figures, field), 3) for _, field in SUMS))
        for what, figures in found.items()
    )
    return Table(title, heads, rows)


def sums_data(figures: Figures) -> dict[str, float]:
    """Return the sums as plain data."""
    return {
        "worst": figures.worst,
        "rss": figures.rss,
        "exact_50": figures.half,
        "exact_95": figures.most,
        "exact_99_7": figures.nearly_all,
    }


def term_data(term: Term) -> dict[str, Any]:
    """Return an error as plain data."""
    return {
        "name": term.name,
        "key": term.key,
        "value": term.given,
        "unit": term.unit,
        "most_mm": term.most_mm,
        "kind": term.kind,
    }
