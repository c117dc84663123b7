"""Loads the CAD kernel when it is first wanted; that takes seconds, importing this nothing."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from types import ModuleType

from generator.loading import loading
from generator.model.contacts import Proof
from generator.model.tool import Tool


def prove(tool: Tool) -> Proof:
    """Return the proof of motion of a tool.

    Raises:
        ExportError: If the kernel cannot be loaded, makes no solid of a part, or cannot hold two
            against each other.
    """
    proof: Proof = _collisions().prove(tool)
    return proof


@cache
def _collisions() -> ModuleType:
    with loading():
        return import_module("generator.kernel.collisions")
