"""Texts that must be one of the names of a table."""

from __future__ import annotations

from typing import Annotated, Final

from generator.inputs.quantities import Micrometres, OneOf
from generator.standards.bands import SpringWire, ToleranceZone
from generator.standards.holders import holder_names
from generator.standards.limits import Limit
from generator.standards.mounts import ChuckTaper
from generator.standards.rows import (
    CentreHole,
    Material,
    MorseTaper,
    Row,
    Thread,
    WorkMaterial,
)

NAME_PATTERN: Final = r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}"
ONE_LINE: Final = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$"


def _names(table: type[Row]) -> OneOf:
    return OneOf(lambda: tuple(row.name for row in table.rows()))


ThreadName = Annotated[str, _names(Thread)]
TaperSize = Annotated[str, OneOf(MorseTaper.sizes)]
ChuckTaperName = Annotated[str, _names(ChuckTaper)]
HolderName = Annotated[str, OneOf(holder_names)]
MaterialName = Annotated[str, _names(Material)]
WorkName = Annotated[str, _names(WorkMaterial)]
CentreHoleName = Annotated[str, _names(CentreHole)]
ZoneName = Annotated[str, OneOf(ToleranceZone.zones)]
WireGrade = Annotated[str, _names(SpringWire)]
LimitName = Annotated[str, _names(Limit)]
Limits_um = tuple[Micrometres, Micrometres]
