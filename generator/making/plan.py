"""The plan: every operation that makes a tool, by the best way that the workshop can go."""

from __future__ import annotations

from dataclasses import replace

from generator.making import screwed_tips
from generator.making.bench import bench
from generator.making.body import body
from generator.making.fitting import assembly, springs
from generator.making.headed import headed
from generator.making.nose_bush import nose_bush
from generator.making.operation import Operation, Plan
from generator.making.plunger import plunger
from generator.making.routes import routes
from generator.making.small import small_parts
from generator.model.tool import Tool


def plan(tool: Tool) -> Plan:
    """Return the plan of a tool: the body first, then plunger, small parts, springs, assembly.

    A nose bush comes before the plunger, which is tried in it.

    Raises:
        StandardError: If a material or a diameter is in no table of cutting data.
    """
    ways, own = routes(tool), bench(tool)
    turned = plunger if tool.parameters.shoulder is None else headed
    operations: list[Operation] = [
        *body(tool, own, ways[0]),
        *nose_bush(tool, own, ways[0]),
        *turned(tool, own, ways[0]),
        *small_parts(tool, own, ways[0]),
        *screwed_tips.tips(tool, own, ways[0]),
        *springs(tool, own),
        *assembly(tool, own),
    ]
    alignment = tool.parameters.alignment
    return Plan(
        routes=ways,
        operations=tuple(replace(each, number=10 * n) for n, each in enumerate(operations, 1)),
        assumed_mm=alignment.bore_mm,
        assumed_tip_mm=alignment.bore_mm + alignment.bore_slope_mm,
    )
