"""Mouths of bores, and holes that threads are cut in."""

from __future__ import annotations

from math import radians, tan
from typing import Final

from generator.inputs.parameters import Parameters
from generator.standards.rows import Thread

BEVEL_DEG: Final = 60.0
BEVEL_SLOPE: Final = tan(radians(BEVEL_DEG / 2))
RUN_OUT_TURNS: Final = 3.0
CHAMFER_TURNS: Final = 0.65
"""Chamfer at the end of an outside thread, in turns: just over its height of 0.613 P, ISO 68-1."""
RIM_MM: Final = 0.25
"""How much wider in radius a recess is than the bevel on its floor; common practice, no source."""


def hole_to_tap_mm(row: Thread, bore_mm: float) -> float:
    """Return the diameter of the hole that a thread is cut in at the end of a bore.

    The bore itself, if it lies within the limits of the thread's minor diameter or above; else the
    tapping drill.
    """
    return bore_mm if bore_mm >= row.minor_least_mm else max(bore_mm, row.tapping_drill_mm)


def bevel_depth_mm(p: Parameters) -> float:
    """Return how far recess and bevel reach into the body from the nose face."""
    return p.body.recess_mm + p.body.bevel_mm / 2 / BEVEL_SLOPE


def thread_chamfer_mm(thread: Thread) -> float:
    """Return the chamfer at the end of an outside thread."""
    return round(CHAMFER_TURNS * thread.pitch_mm, 1)
