"""An empty file of measured sizes, in the order of the inspection sheets, for the user to fill."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from generator.documents.inspection_papers import figure
from generator.inputs.commented import WIDTH
from generator.inputs.measured import MeasuredInner, MeasuredSpring, Weighed
from generator.inputs.profile import explanation
from generator.making.inspection import Sheet, inspection
from generator.making.line import Line
from generator.model.tool import Tool


def measured_template(tool: Tool) -> str:
    """Return the text of a file in which every key is commented out.

    Each has its nominal value, or the limit nearest to it. Taken as it is, the file says that
    nothing is measured yet.
    """
    sheets = inspection(tool)
    heading = (
        f"Sizes measured on {tool.name}. Take the # off a line when that size is cut and write "
        "what it measures; what is left out is taken as not cut yet. Lengths are millimetres, or "
        'text with a unit, such as "0.315 in". Then: springcentre actual PROFILE THIS_FILE'
    )
    lines = [*_comment(heading), "", f'tool = "{tool.name}"']
    for sheet in sheets:
        lines += _sheet(sheet)
    lines += _springs(tool)
    lines += _scale(sheets)
    return "\n".join(lines) + "\n"


def _comment(text: str) -> list[str]:
    return [f"# {line}" for line in wrap(text, WIDTH)]


def _sheet(sheet: Sheet) -> Iterator[str]:
    """Yield the single keys of a sheet."""
    own = [line for line in sheet.lines if line.key and "." not in line.key]
    if not own:
        return
    yield ""
    yield f"# {sheet.title}"
    for line in own:
        yield from _comment(
            f"{line.what[0].upper()}{line.what[1:]}, {_least_to_greatest(line)}: {line.how}."
        )
        usual = min(max(line.limits.nominal, line.limits.least), line.limits.greatest)
        yield f"# {line.key} = {figure(usual, line.unit)}"


def _least_to_greatest(line: Line) -> str:
    least, greatest = (
        figure(each, line.unit) for each in (line.limits.least, line.limits.greatest)
    )
    return f"{least} to {greatest} {line.unit}"


def _springs(tool: Tool) -> Iterator[str]:
    """Yield an entry for each spring, and the one inside it."""
    yield ""
    yield from _comment((MeasuredSpring.__doc__ or "").strip())
    for one in tool.in_place:
        yield "# [[springs]]" if not one.inner else "# [springs.inner]"
        spring = one.spring
        values = {
            "free_mm": spring.free_mm,
            "outside_mm": spring.outside_mm,
            "solid_mm": spring.solid_mm,
            "rate_N_per_mm": spring.rate_N_per_mm,
        }
        for key, value in values.items():
            yield from _comment(explanation(MeasuredInner, key))
            yield f"# {key} = {figure(value, 'mm')}"


def _scale(sheets: tuple[Sheet, ...]) -> Iterator[str]:
    """Yield an entry for each reading of the scale that the sheets ask for."""
    yield ""
    yield from _comment((Weighed.__doc__ or "").strip())
    for line in sheets[-1].lines:
        if line.at is None:
            continue
        yield "# [[scale]]"
        yield f'# end = "{line.at[0]}"'
        yield f"# projection_mm = {figure(line.at[1], 'mm')}"
        yield f"# scale_g = {figure(line.reads.nominal, 'g')}"
