"""Where nothing fits: the rule that excludes most, and a change or purchase that really helps."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.choice.choosing import choose
from generator.choice.ground import ground
from generator.choice.lacking import changes, purchases
from generator.choice.search import search
from generator.inputs.drawer import Shop, StockScrew, StockSpring
from tests.choice.shops import MEDIUM, shop

THICK = StockSpring(wire_mm=1.6, outside_mm=13.0, free_mm=40.0, active_coils=8.0)


def told(asked: Shop) -> tuple[str, ...]:
    choice = choose(asked, "lacks")
    assert not choice.designs
    counted = sum(choice.excluded.values()) + choice.surpassed
    assert counted == choice.combinations
    return choice.lacking


def test_a_demand_that_is_too_high_is_told_with_what_can_be_had() -> None:
    asked = shop(MEDIUM, demands={"travel_mm": 40.0})
    (first, *_) = told(asked)
    assert first.startswith("Set demands.travel_mm to at most ")
    best_mm = float(first.split("at most ")[1].split(" mm")[0])
    for demanded_mm, fits in ((best_mm, True), (best_mm + 0.5, False)):
        demands = replace(asked.demands, travel_mm=demanded_mm)
        assert bool(search(ground(replace(asked, demands=demands), 2)).found) is fits


def test_springs_too_big_for_every_bore_end_in_a_spring_to_buy() -> None:
    asked = shop(THICK)
    sentences = told(asked)
    (buy,) = (one for one in sentences if one.startswith("Buy a spring "))
    wire, outside, free = (
        float(x) for x in buy.split("Buy a spring ")[1].split(" mm")[0].split(" x ")
    )
    coils = float(buy.split(" of ")[1].split(" coils")[0])
    bought = StockSpring(
        wire_mm=wire, outside_mm=outside, free_mm=free, total_coils=coils, count=2.0
    )
    assert search(ground(replace(asked, springs=(bought,)), 2)).found


def test_a_screw_without_a_use_ends_in_one_to_buy() -> None:
    asked = shop(set_screws=(StockScrew(thread="M4", point="cup"),))
    assert any(one.startswith("Buy a set screw M4, dog long") for one in told(asked))


def test_headroom_that_is_too_low_is_told() -> None:
    asked = shop(MEDIUM)
    low = replace(asked, machine=replace(asked.machine, headroom_mm=80.0))
    (first, *_) = told(low)
    assert first.startswith("Set machine.headroom_mm to ")
    need_mm = float(first.split(" to ")[1].split(" mm")[0])
    enough = replace(low, machine=replace(low.machine, headroom_mm=need_mm))
    assert search(ground(enough, 2)).found


@pytest.mark.parametrize("ways", [changes, purchases])
def test_each_way_changes_one_thing(ways: object) -> None:
    asked = shop(MEDIUM, demands={"travel_mm": 5.0})
    outcome = search(ground(asked))
    found = list(changes(asked, outcome.excluded) if ways is changes else purchases(asked))
    assert len({way.text for way in found}) == len(found) > 5
    for way in found:
        fields = [
            name
            for name in asked.__slots__
            if repr(getattr(asked, name)) != repr(getattr(way.shop, name))
        ]
        assert len(fields) == 1, way.text
