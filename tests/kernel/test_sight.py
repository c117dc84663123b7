"""What the papers take for hidden, held against rays cast at the kernel's own solids."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from generator.documents.exploded_pieces import Piece, pieces
from generator.documents.isometric import EYE, turn_of
from generator.documents.layout import Array
from generator.documents.part_edges import part_edges
from generator.documents.sight import Solid
from generator.inputs.profile import read_profile
from generator.kernel.shapes import solid
from generator.model.part import Part
from generator.model.tool import design

pytestmark = pytest.mark.solid

FOLDER = Path(__file__).parents[2] / "profiles"
FINE_MM = 0.005
CLEAR_MM, GRAZED_MM = 0.25, 0.003
"""More metal than the one hides; less than the other does not; between them meshes may err."""


def metal_mm(part: Part, points: Array, eye: Array) -> Array:
    """Return how much metal the straight line from each point to the eye runs through.

    Every triangle of a fine mesh that the line crosses is an entrance or an exit.
    """
    vertices, triangles = solid(part).tessellate(FINE_MM, 0.05)
    corners = np.array([vertex.toTuple() for vertex in vertices])[np.array(triangles)]
    eye = eye / np.linalg.norm(eye)
    first, second = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    across = np.cross(eye, second)
    turn = (first * across).sum(axis=1)
    facing = np.abs(turn) > 1e-12
    corners, first, second, across, turn = (
        each[facing] for each in (corners, first, second, across, turn)
    )
    total = np.zeros(len(points))
    for n, point in enumerate(points):
        off = point - corners[:, 0]
        u = (off * across).sum(axis=1) / turn
        side = np.cross(off, first)
        v = side @ eye / turn
        t = (side * second).sum(axis=1) / turn
        met = (u >= 0) & (v >= 0) & (u + v <= 1) & (t > 0)
        # an exit adds its distance, an entrance takes it away: the way in lies against the normal
        total[n] = np.where(turn[met] < 0, t[met], -t[met]).sum()
    return np.abs(total)


def edge_points(piece: Piece, eye: Array, rng: np.random.Generator) -> Array:
    """Return points along all edges of a part, seen or not, and along lines behind it."""
    part = piece.placed.part
    edges = list(part_edges(part, eye, piece.crests, 1.0))
    points = [edge.at(rng.uniform(edge.start, edge.end, 8)) for edge in edges]
    r, length = part.outline.diameter_mm, part.outline.length_mm
    around = rng.uniform([-r, -r, -r], [r, r, length], (60, 3))
    return np.concatenate([*points, around])


@pytest.mark.parametrize("name", ["mt2-drawbar-8", "mt1-tailstock-5"])
def test_the_papers_hide_what_the_solids_hide(name: str) -> None:
    row, screws = pieces(design(read_profile(FOLDER / f"{name}.toml")), 1.0)
    rng = np.random.default_rng(5)
    told = hidden = 0
    for piece in (*row, *screws):
        if piece.spring is not None:
            continue
        eye = turn_of(piece.placed) @ EYE
        points = edge_points(piece, eye, rng)
        through = metal_mm(piece.placed.part, points, eye)
        clear = (through > CLEAR_MM) | (through < GRAZED_MM)
        flags = Solid(piece.placed.part, eye).hides(points)
        wrong = clear & (flags != (through > CLEAR_MM))
        assert not wrong.any(), (piece.placed.name, points[wrong], through[wrong])
        told += int(clear.sum())
        hidden += int(flags[clear].sum())
    assert told > 600
    assert 0.2 < hidden / told < 0.8
