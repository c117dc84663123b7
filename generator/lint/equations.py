"""What the dimensions of a part determine: unknown sizes, linear equations, and their rank.

A dimension or call-out fixes a linear form of the unknown sizes; a sloping line ties its four
coordinates and its slope, taken to first order about the sizes drawn. What the equations leave free
is missing; an equation that frees nothing more is doubled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.lint.sheet import Point
from generator.lint.touch import Array

SMALL: Final = 1e-6
"""Share of an equation that counts as none."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """A size that the sheet has to give.

    Attributes:
        name: Its place among the unknowns, unique on a sheet.
        told: What it is, for a reader.
        at: Where on the sheet.
        rank: Which of several is named first where they are tied to each other; least first.
    """

    name: tuple[str, int, float]
    told: str
    at: Point
    rank: int = 0


Form = Mapping[Unknown, float]


@dataclass(frozen=True, slots=True)
class Equation:
    """What one dimension, one number of a call-out or the drawing itself fixes.

    Attributes:
        forms: Linear forms that it may mean, the likeliest first.
        text: What is written; empty for what the drawing itself says.
        at: Where on the sheet.
        is_reference: Whether it stands in brackets.
    """

    forms: tuple[Form, ...]
    text: str = ""
    at: Point = (0.0, 0.0)
    is_reference: bool = False


def combined(*terms: tuple[Form, float]) -> dict[Unknown, float]:
    """Return the sum of linear forms, each times a factor."""
    total: dict[Unknown, float] = {}
    for form, factor in terms:
        for unknown, value in form.items():
            total[unknown] = total.get(unknown, 0.0) + factor * value
    return {unknown: value for unknown, value in total.items() if abs(value) > 1e-12}


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a set of equations leaves open and what it says twice.

    Attributes:
        missing: Unknowns to be given, as few as would do.
        bracketed: Equations in brackets that alone give something.
        doubled: Equations that others give already, each with the texts of those others.
    """

    missing: tuple[Unknown, ...]
    bracketed: tuple[Equation, ...]
    doubled: tuple[tuple[Equation, tuple[str, ...]], ...]


@dataclass(slots=True)
class _System:
    """Equations taken up so far: orthonormal rows that span them, and the rows themselves."""

    order: dict[Unknown, int]
    span: list[Array]
    rows: list[Array]
    texts: list[str]

    def row(self, form: Form) -> Array:
        values = np.zeros(len(self.order))
        for unknown, value in form.items():
            values[self.order[unknown]] = value
        size = np.linalg.norm(values)
        return np.asarray(values / size) if size else values

    def rest(self, row: Array) -> Array:
        """Return what of a row the equations do not give; twice, against rounding."""
        for _ in range(2):
            for each in self.span:
                row = row - (row @ each) * each
        return row

    def take(self, equation: Equation) -> bool:
        """Take up the first form that gives something new; False where none does."""
        for form in equation.forms:
            row = self.row(form)
            rest = self.rest(row)
            size = np.linalg.norm(rest)
            if size > SMALL:
                self.span.append(rest / size)
                self.rows.append(row)
                self.texts.append(equation.text)
                return True
        return False

    def partners(self, equation: Equation) -> tuple[str, ...]:
        """Return the texts of the equations that give an equation together."""
        row = self.row(equation.forms[0])
        if not self.rows:
            return ()
        shares = np.linalg.lstsq(np.array(self.rows).T, row, rcond=None)[0]
        texts = [text for text, share in zip(self.texts, shares, strict=True) if abs(share) > SMALL]
        return tuple(dict.fromkeys(text for text in texts if text))


def verdict(unknowns: Sequence[Unknown], equations: Sequence[Equation]) -> Verdict:
    """Return what is missing, what is given in brackets alone, and what is doubled.

    Args:
        unknowns: All sizes to be given.
        equations: What gives them.

    Example:
        >>> a, b = (Unknown(("z", n, 0.0), f"length {n}", (0.0, 0.0)) for n in (1, 2))
        >>> told = verdict((a, b), (Equation(({a: 1.0},), "10"), Equation(({a: 2.0},), "20")))
        >>> [each.told for each in told.missing], [twice.text for twice, _ in told.doubled]
        (['length 2'], ['20'])
    """
    system = _System({unknown: n for n, unknown in enumerate(unknowns)}, [], [], [])
    doubled = []
    for equation in sorted(equations, key=lambda e: (e.is_reference, bool(e.text), len(e.forms))):
        if equation.is_reference:
            continue
        if not system.take(equation) and equation.text:
            doubled.append((equation, system.partners(equation)))
    bracketed = tuple(e for e in equations if e.is_reference and system.take(e))
    return Verdict(tuple(_missing(system)), bracketed, tuple(doubled))


def _missing(system: _System) -> Iterator[Unknown]:
    """Yield unknowns that would make the rank full."""
    for unknown in sorted(system.order, key=lambda each: each.rank):
        if system.take(Equation(({unknown: 1.0},))):
            yield unknown
