"""The search: every design passes, nothing better is left, every combination is accounted for."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.checks import lean, springs
from generator.checks.run import CHECKS, run_checks
from generator.choice.candidate import (
    STYLES,
    Candidate,
    Fit,
    Lengths,
    Piece,
    Retention,
    parameters,
)
from generator.choice.choosing import choose
from generator.choice.front import bettered, distinct, unbettered
from generator.choice.ground import Share, combinations, ground, levels_of
from generator.choice.levels import Levels
from generator.choice.matters import MEASURES, in_steps
from generator.choice.rows import row_count
from generator.choice.rows import springs as spring_rows
from generator.choice.search import Outcome, search
from generator.cli.main import main
from generator.inputs.drawer import Matter, Shop, StockBar, StockSpring
from generator.inputs.drawer_file import read_shop
from generator.inputs.profile import read_profile
from generator.inputs.quantities import DERIVED
from generator.inputs.tables import OwnDrawbarMount
from generator.model.shank import shank_of
from generator.model.tool import Tool, design
from generator.standards.rows import MorseTaper
from generator.use.alignment import leans
from tests.choice.shops import MEDIUM, SHIPPED, SHORT, SOFT, shop
from tests.tools import plug_of

shipped = pytest.mark.parametrize("path", SHIPPED, ids=lambda p: p.stem)

EVERY = (
    springs.forces,
    springs.solid_margin,
    *(lean.bare if check is lean.lean else check for check in CHECKS),
)
"""All checks; those that most tools of a lattice fail come first."""


def passes(tool: Tool, levels: Levels) -> bool:
    return all(levels.passes(finding) for check in EVERY for finding in check(tool))


def values(tool: Tool, taps: int) -> dict[Matter, float]:
    """What a tool reaches, measured on the tool itself."""
    p = tool.parameters
    out_mm = max(o.projection_compressed_mm for o in tool.orientations)
    return {
        "taps": taps,
        "travel": tool.orientations[0].travel_mm,
        "preload": max(o.preload_N for o in tool.orientations),
        "length": shank_of(p.mount).stand_out_mm + p.body.nose_length_mm + out_mm,
        "lean": 0.0,
        "parts": len(tool.springs) + 1,
    }


def held(outcome: Outcome) -> None:
    """Every combination is excluded by one rule, surpassed, or makes a design."""
    counted = sum(outcome.excluded.values()) + outcome.surpassed + outcome.feasible
    assert counted == outcome.combinations
    assert all(count >= 0 for count in outcome.excluded.values())


@shipped
def test_each_design_of_a_shipped_workshop_passes(path: Path, tmp_path: Path) -> None:
    asked = read_shop(path)
    levels = levels_of(asked)
    ran = CliRunner().invoke(main, ["choose", str(path), "--out", str(tmp_path), "--json"])
    assert ran.exit_code == 0, ran.output
    told = json.loads(ran.output)
    files = sorted((tmp_path / path.stem).iterdir())
    assert len(files) == len(told["designs"]) > 1
    for file, one in zip(files, told["designs"], strict=True):
        tool = design(read_profile(file))
        findings = run_checks(tool)
        assert all(levels.passes(finding) for finding in findings)
        assert tool.name == one["name"]
        reached = values(tool, len(tool.parameters.taps))
        for matter in ("taps", "travel", "preload", "length", "parts"):
            assert one["values"][matter] == pytest.approx(reached[matter], abs=1e-5)
        assert set(one["binds"]) >= {"travel", "length"}
        assert one["gives_up"].endswith(".")
    counted = sum(told["excluded"].values()) + told["surpassed"] + told["feasible"]
    assert counted == told["combinations"]


def test_an_own_taper_with_the_figures_of_a_morse_taper_gives_the_same_designs() -> None:
    row = MorseTaper.find("MT2")
    own = OwnDrawbarMount(
        kind="own taper draw-bar",
        taper=row.taper,
        gauge_diameter_mm=row.gauge_diameter_mm,
        length_mm=row.length_mm,
        stand_out_mm=row.projection_mm,
        drawbar_thread="M10",
    )
    morse, same = (choose(asked, "small") for asked in (shop(), shop(mounts=(own,))))
    assert [one.values for one in morse.designs] == [one.values for one in same.designs]
    assert morse.designs


@shipped
def test_the_designs_shown_are_truly_different(path: Path) -> None:
    asked = read_shop(path)
    choice = choose(asked, path.stem)
    steps = [
        tuple(MEASURES[m].told(one.values[m]) for m in asked.wishes.matters)
        for one in choice.designs
    ]
    assert len(set(steps)) == len(steps) <= asked.wishes.designs
    for one, other in product(steps, steps):
        assert one == other or any(a < b for a, b in zip(one, other, strict=True))
    for matter in asked.wishes.matters:
        assert any(matter in one.best for one in choice.designs)


def lattice(asked: Shop, slots_mm: tuple[float, ...]) -> Iterator[Candidate]:
    """Every combination of a small drawer, with lengths around those that matter."""
    items = [item.piece for item in spring_rows(asked, levels_of(asked)).items]
    whole = [piece for piece in items if piece.cut_to_mm is None]
    rows = [(one,) for one in items] + list(product(whole, whole))
    for slot_mm, style, row in product(slots_mm, STYLES, rows):
        for nose_mm, button_mm, offset_mm in product(
            (0.0, 0.5), np.arange(1.5, 22.0, 0.5), (0.0, 1.0)
        ):
            if offset_mm and style[1] == "plain":
                continue
            position_mm = np.ceil(2 * (slot_mm - 1.25 + 2)) / 2
            outer_mm = 6.582 if "point" in style else 0.3
            base_mm = np.ceil(4 * (position_mm - 1.25 + outer_mm + 2) - 1e-6) / 4
            lengths = Lengths(
                slot_mm=slot_mm,
                position_mm=float(position_mm),
                front_mm=float(base_mm + offset_mm),
                plunger_mm=float(2 * base_mm + offset_mm + slot_mm),
                nose_mm=float(np.ceil(2 * (position_mm + 5)) / 2 + nose_mm),
                sunk_mm=15.0,
                button_mm=float(button_mm),
            )
            yield Candidate(
                mount=asked.mounts[0],
                rear=asked.thread_taps[0],
                fit=Fit(asked.reamers[0], asked.bars[1]),
                style=style,
                retention=Retention(asked.set_screws[0], 3.0, DERIVED, DERIVED),
                body=asked.bars[0],
                nose_diameter_mm=22.0,
                lengths=lengths,
                row=row,
                taps=(),
            )


def brute(asked: Shop, slots_mm: tuple[float, ...]) -> Iterator[tuple[int, ...]]:
    """Yield what every design of the lattice reaches that the checker passes."""
    levels, matters = levels_of(asked), asked.wishes.matters
    for one in lattice(asked, slots_mm):
        kinds = [piece.stock for piece in one.row]
        if any(kinds.count(kind) > kind.count for kind in kinds):
            continue
        for taps in ((0, 1), (0,), (1,)):
            tool = design(parameters(asked, replace(one, taps=taps)))
            if not all(2 <= o.preload_N < o.full_force_N < 60 for o in tool.orientations):
                break
            if passes(tool, levels):
                table = np.array([[values(tool, len(taps))[m] for m in matters]])
                yield tuple(int(step) for step in in_steps(matters, table)[0])
                break


@pytest.mark.parametrize(
    ("stock", "matters"),
    [
        ((MEDIUM,), ("taps", "length", "travel")),
        ((SHORT, SOFT), ("travel", "preload", "parts")),
        ((SOFT,), ("preload", "length", "taps")),
    ],
    ids=["medium", "short and soft", "soft"],
)
def test_brute_force_through_the_checker_finds_nothing_better(
    stock: tuple[StockSpring, ...], matters: tuple[Matter, ...]
) -> None:
    asked = shop(*stock, matters=matters)
    outcome = search(ground(asked))
    held(outcome)
    front = np.array([one.steps for one in outcome.found])
    found = set(brute(asked, (8.5, 12.0)))
    assert found
    for steps in found:
        assert bettered(np.array([steps]), front)[0], f"{matters}: {steps} is better"


small_springs = st.builds(
    StockSpring,
    wire_mm=st.sampled_from([0.5, 0.6, 0.7, 0.8, 0.9]),
    outside_mm=st.sampled_from([5.0, 5.5, 6.0, 6.5, 7.0, 7.4]),
    free_mm=st.integers(10, 45).map(float),
    active_coils=st.integers(4, 9).map(float),
    ends=st.sampled_from(["closed and ground", "closed"]),
    count=st.sampled_from([1.0, 2.0, 4.0]),
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    stock=st.lists(small_springs, min_size=1, max_size=5, unique_by=repr),
    matters=st.permutations(["taps", "travel", "preload", "length", "parts"]),
    accept=st.sets(
        st.sampled_from(
            [
                "land in front of the slot",
                "thread left when the springs are slack",
                "solid margin with tolerances",
                "force ratio",
                "stroke inside the force window",
            ]
        ),
        max_size=2,
    ),
)
def test_every_design_of_any_drawer_passes_the_checker(
    stock: list[StockSpring], matters: list[Matter], accept: set[str]
) -> None:
    asked = shop(*stock, matters=tuple(matters[:3]), accept=tuple(sorted(accept)))
    g = ground(asked)
    outcome = search(g)
    held(outcome)
    assert outcome.combinations == combinations(asked, g.each)
    for one in outcome.found:
        tool = design(parameters(asked, one.candidate))
        assert passes(tool, g.levels)
        reached = values(tool, len(one.candidate.taps))
        for matter in ("taps", "travel", "preload", "length", "parts"):
            assert one.values[matter] == pytest.approx(reached[matter], abs=1e-6)


def test_a_fuller_drawer_is_never_worse() -> None:
    less, more = (
        np.array([one.steps for one in search(ground(shop(*some))).found])
        for some in ((MEDIUM,), (MEDIUM, SHORT, SOFT))
    )
    assert bettered(less, more).all()


@pytest.mark.parametrize(
    ("key", "value", "matter"),
    [
        ("travel_mm", 14.0, "travel"),
        ("length_mm", 34.0, "length"),
        ("preload_N", 8.0, "preload"),
        ("parts", 2.0, "parts"),
        ("taps", 2.0, "taps"),
    ],
)
def test_a_demand_is_kept(key: str, value: float, matter: Matter) -> None:
    free = search(ground(shop(matters=("taps", "travel", "length")))).found
    asked = shop(matters=("taps", "travel", "length"), demands={key: value})
    kept = search(ground(asked)).found
    sign = -1 if MEASURES[matter].most else 1
    assert kept
    assert all(sign * one.values[matter] <= sign * value + 1e-9 for one in kept)
    assert any(sign * one.values[matter] > sign * value for one in free) or matter in ("parts",)


def test_lean_may_be_what_matters() -> None:
    asked = shop(MEDIUM, matters=("lean", "taps"))
    found = search(ground(asked)).found
    assert found
    for one in found:
        tool = design(parameters(asked, one.candidate))
        worst = max(each.most_deg() for each in leans(tool))
        assert MEASURES["lean"].told(one.values["lean"]) == MEASURES["lean"].told(worst)


def test_rows_are_counted_without_being_made() -> None:
    asked = shop()
    made = spring_rows(asked, Levels(frozenset(), {}))
    sound = [item for item in made.items if not item.broken]
    assert row_count(asked, sound) == len(made.rows)


def test_a_measured_rate_grows_as_coils_are_cut_off() -> None:
    stock = replace(MEDIUM, rate_N_per_mm=1.5)
    cut = Piece(stock, 18.0)
    assert Piece(stock).spring.rate_N_per_mm == 1.5
    assert 1.5 < cut.spring.rate_N_per_mm < 4.0


def test_different_rows_are_found_by_one_number() -> None:
    table = np.array([[3, -2], [0, 7], [3, -2], [-1, 0]])
    kinds, kind = distinct(table)
    assert (kinds[kind] == table).all()
    assert len(kinds) == 3


@given(st.lists(st.tuples(*[st.integers(0, 4)] * 3), min_size=1, max_size=30))
def test_the_unbettered_are_those_that_no_other_betters(rows: list[tuple[int, ...]]) -> None:
    kinds, _ = distinct(np.array(rows))
    kept = {tuple(kinds[place]) for place in unbettered(kinds)}
    for one in set(rows):
        worse = any(
            other != one and all(a <= b for a, b in zip(other, one, strict=True)) for other in rows
        )
        assert (one in kept) is not worse


def test_the_same_workshop_gives_the_same_files(tmp_path: Path) -> None:
    path = SHIPPED[0]
    texts = []
    for place in ("a", "b"):
        CliRunner().invoke(main, ["choose", str(path), "--out", str(tmp_path / place)])
        folder = tmp_path / place / path.stem
        texts.append({file.name: file.read_bytes() for file in folder.iterdir()})
    assert texts[0] == texts[1]


def test_no_folder_but_one_of_designs_is_replaced(tmp_path: Path) -> None:
    place = tmp_path / SHIPPED[0].stem
    place.mkdir()
    (place / "notes.txt").write_text("mine")
    ran = CliRunner().invoke(main, ["choose", str(SHIPPED[0]), "--out", str(tmp_path)])
    assert ran.exit_code == 2
    assert "notes.txt" in ran.output
    assert [file.name for file in place.iterdir()] == ["notes.txt"]


def test_two_shares_find_what_one_search_does() -> None:
    asked = shop(MEDIUM, SHORT, matters=("taps", "length", "travel"))
    bar = replace(asked.bars[1], diameter_mm=9.0)
    reamer = replace(asked.reamers[0], diameter_mm=9.0)
    wider = replace(asked, bars=(*asked.bars, bar), reamers=(*asked.reamers, reamer))
    whole = search(ground(wider))
    shares = [search(ground(wider, share=Share(place, 2))) for place in (0, 1)]
    every = np.array([one.steps for outcome in shares for one in outcome.found])
    kinds, _ = distinct(every)
    assert {tuple(kinds[n]) for n in unbettered(kinds)} == {one.steps for one in whole.found}
    counted = sum((outcome.excluded for outcome in shares), Counter[str]())
    rest = sum(outcome.surpassed + outcome.feasible for outcome in shares)
    assert sum(counted.values()) + rest == whole.combinations
    assert all(outcome.combinations == whole.combinations for outcome in shares)


def test_small_parts_come_from_brass_in_the_drawer_or_else_from_the_bodys_bar() -> None:
    asked = shop(MEDIUM)
    (one, *_) = search(ground(asked)).found
    assert plug_of(parameters(asked, one.candidate)).material == "steel 11SMn30"
    thin, wide = (
        StockBar(material="brass CW614N", diameter_mm=size, length_mm=90.0) for size in (8.0, 12.0)
    )
    narrow = parameters(replace(asked, bars=(*asked.bars, thin)), one.candidate)
    assert plug_of(narrow).material == "steel 11SMn30"
    made = parameters(replace(asked, bars=(*asked.bars, thin, wide)), one.candidate)
    assert made.button is not None
    assert plug_of(made).material == made.button.material == "brass CW614N"
