"""Rules of completeness: each size of a part given once, and each call-out true and understood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from generator.lint.called import called
from generator.lint.dimensioned import dimensioned
from generator.lint.equations import Equation, verdict
from generator.lint.measures import in_inches
from generator.lint.page import Page
from generator.lint.profile import Section
from generator.lint.sheet import Fault
from generator.lint.sizes import Sizes, sizes_of
from generator.lint.views import EndView, MainView, end_views, main_views

ON_MM: Final = 0.05


def lint_parts(page: Page, sections: Sequence[Section]) -> Iterator[Fault]:
    """Yield what the sheet of some parts leaves open, says twice, wrongly or darkly.

    Args:
        page: The sheet.
        sections: Half sections of the parts that have to be on it.
    """
    taken: list[MainView] = []
    found: list[tuple[MainView, list[MainView]]] = []
    for section in sections:
        views = list(main_views(page, section, taken))
        if views:
            found.append((views[0], views[1:]))
            taken.append(views[0])
        else:
            what = f"no view shows the profile {section.name}-turning.dxf"
            right = "draw the part as it is cut"
            yield Fault(page.sheet.file, "view", None, what, right)
    ends = _shared_out(list(end_views(page)), taken)
    for main, details in found:
        sizes = sizes_of(page, main, details, ends[main.origin])
        yield from _lint_part(page, sizes)


def _shared_out(
    ends: Sequence[EndView], mains: Sequence[MainView]
) -> dict[tuple[float, float], list[EndView]]:
    """Return the end views of each part: that of the nearest view level with it, or above it."""
    shared: dict[tuple[float, float], list[EndView]] = {main.origin: [] for main in mains}
    for end in ends:

        def apart(main: MainView, end: EndView = end) -> float:
            left, bottom, right, top = main.box
            dx = max(left - end.centre[0], end.centre[0] - right, 0.0)
            dy = max(bottom - end.centre[1], end.centre[1] - top, 0.0)
            return min(dx, dy) * 10 + dx + dy

        if mains:
            shared[min(mains, key=apart).origin].append(end)
    return shared


def _lint_part(page: Page, sizes: Sizes) -> Iterator[Fault]:
    file, part = page.sheet.file, sizes.view.section.name
    equations: list[Equation] = list(sizes.ties)
    dims = dimensioned(page, sizes)
    equations += dims.ties
    for measure, equation in dims.said:
        if equation is None:
            what = f"{part}: {measure.text!r} measures nothing of the part"
            right = "let its points lie on the edges that it is about"
            yield Fault(file, "unread", measure.at, what, right)
        else:
            equations.append(equation)
    unit_mm = 25.4 if in_inches(page) else 1.0
    for said in called(page, sizes, unit_mm):
        if said.equation is None:
            what = f"{part}: the call-out {said.row!r} is not understood, or about nothing drawn"
            right = "write it as other call-outs, and point at the surface it is about"
            yield Fault(file, "unread", said.at, what, right)
            continue
        if any(said.equation.forms):
            equations.append(said.equation)
        if abs(said.number - said.drawn) > said.slack:
            what = f"{part}: {said.row!r} says {said.number:.6g} where {said.drawn:.6g} is drawn"
            yield Fault(file, "call-out", said.at, what, "say what is drawn")
    extra = [u for e in equations for form in e.forms for u in form]
    told = verdict(tuple(dict.fromkeys((*sizes.unknowns, *extra))), equations)
    for unknown in told.missing:
        what = f"{part}: nothing gives {unknown.told}"
        if unknown.name[0] == "edge":
            right = "dimension it once, or leave the edge out if the part has none there"
            yield Fault(file, "edge", unknown.at, what, right)
        else:
            yield Fault(file, "missing", unknown.at, what, "dimension it once")
    for equation in told.bracketed:
        what = f"{part}: {equation.text!r} stands in brackets, yet nothing else gives it"
        yield Fault(file, "missing", equation.at, what, "take the brackets away")
    for equation, others in told.doubled:
        by = f" by {', '.join(repr(each) for each in others)}" if others else ""
        what = f"{part}: {equation.text!r} is given already{by}"
        yield Fault(file, "doubled", equation.at, what, "leave it out, or put it in brackets")
