"""The JSON Schema: read by a second reader, which accepts and refuses what the first does."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from generator.errors import ProfileError
from generator.inputs.profile import parameters_from
from generator.inputs.schema import schema
from tests.tools import BASE, REMOVED, changed

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))


@pytest.fixture(scope="module")
def second() -> Draft202012Validator:
    return Draft202012Validator(schema())


def tables(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        if "properties" in node:
            yield node
        for each in node.values():
            yield from tables(each)
    elif isinstance(node, list):
        for each in node:
            yield from tables(each)


def test_schema_is_one_of_its_draft() -> None:
    Draft202012Validator.check_schema(schema())


def test_schema_is_plain_json() -> None:
    text = json.dumps(schema(), allow_nan=False)
    assert json.loads(text) == schema()
    assert "NaN" not in text


def test_every_key_is_described_and_no_other_is_allowed() -> None:
    found = list(tables(schema()))
    assert len(found) > 15
    for table in found:
        assert table["additionalProperties"] is False
        for key, told in table["properties"].items():
            assert len(told.get("description", "")) > 5, key


def test_no_derived_key_has_a_default() -> None:
    for table in tables(schema()):
        for key, told in table["properties"].items():
            if "Derived" in told["description"]:
                assert "default" not in told, key


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_shipped_profiles_agree_with_it(second: Draft202012Validator, path: Path) -> None:
    second.validate(tomllib.loads(path.read_text("utf-8")))


REFUSED: dict[str, Any] = {
    "slot.zzz": 1,
    "bores": {},
    "mount.extension_length_mm": 3,
    "slot.length_mm": 0,
    "slot.depth_mm": -1,
    "slot.front_mm": 2001,
    "slot.width_mm": "3",
    "plug.sunk_mm": "1 ft",
    "plug.length_mm": [8],
    "plug.drive": "torx",
    "plug.thread": "M10.5",
    "mount.size": "MT9",
    "mount.kind": "R9",
    "plunger.front.style": "ball",
    "plunger.rear.angle_deg": 5,
    "set_screw.point": "sharp",
    "springs": [],
    "taps": [],
    "taps.0.end": "sharp",
    "machine.headroom_mm": REMOVED,
    "machine": REMOVED,
    "title": "",
    "name": "../x",
    "limits": {"travle": {}},
    "bore.limits_um": [1, 2, 3],
    "button": 3,
    "making.projection": "second",
    "body.material": "unobtainium",
}
ACCEPTED: dict[str, Any] = {
    "slot.length_mm": "9/16 in",
    "slot.depth_mm": 2,
    "plug.sunk_mm": "15 mm",
    "button": {},
    "separator": {"hole_mm": 2.0},
    "limits": {"travel": {"warn": 4}},
    "bore.limits_um": [-3, 12.5],
    "taps.0.end": "bevel",
    "plunger.rear": {"style": "plain"},
    "making.revision": "B",
    "mount": {"kind": "straight", "diameter_mm": 16, "length_mm": 50},
}


@pytest.mark.parametrize("key", REFUSED)
def test_both_readers_refuse(second: Draft202012Validator, key: str) -> None:
    table = changed(BASE, {key: REFUSED[key]})
    assert not second.is_valid(table)
    with pytest.raises(ProfileError):
        parameters_from(table, "file")


@pytest.mark.parametrize("key", ACCEPTED)
def test_both_readers_accept(second: Draft202012Validator, key: str) -> None:
    table = changed(BASE, {key: ACCEPTED[key]})
    second.validate(table)
    parameters_from(table, "file")
