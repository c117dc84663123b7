"""Whatever a file holds: parameters, or problems of one line each in shop words."""

from __future__ import annotations

import datetime
import re
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.errors import ProfileError
from generator.inputs.parameters import Parameters
from generator.inputs.profile import parameters_from
from tests.tools import BASE, REMOVED, changed

MACHINE_WORDS = re.compile(
    r"dataclass|Input should|pydantic|\bdict\b|\bstr\b|\bfloat\b|\bint\b|\btuple\b|\bNone\b"
    r"|keyword|argument|Literal|Union|datetime|NoneType|Value error|<class|validation"
)
SCALARS = st.one_of(
    st.booleans(),
    st.integers(-(2**63), 2**63 - 1),
    st.floats(),
    st.text(max_size=20),
    st.dates(),
    st.datetimes(),
    st.times(),
    st.sampled_from(
        ["morse ejected", "straight", "point", "M6", "3/8 in", "1/0 in", "", "a\nb", "\u2028"]
    ),
)
KEYS = st.one_of(
    st.sampled_from(["kind", "style", "diameter_mm", "length_mm", "wire", "size", "travel"]),
    st.text(max_size=8),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=6,
)


def keys_in(node: Any, before: str = "") -> list[str]:
    items = node.items() if isinstance(node, dict) else enumerate(node)
    found = []
    for key, value in items:
        found.append(f"{before}{key}")
        if isinstance(value, dict | list):
            found += keys_in(value, f"{before}{key}.")
    return found


TOP = [key for key in keys_in(BASE) if "." not in key]
DEEP = [*keys_in(BASE), "limits", "making", "bore.limits_um", "separator", "springs.0.ends"]


def read(table: dict[str, Any]) -> Parameters | ProfileError:
    try:
        return parameters_from(table, "file")
    except ProfileError as error:
        return error


def assert_read_or_told(table: dict[str, Any]) -> None:
    found = read(table)
    if isinstance(found, Parameters):
        return
    assert found.problems
    for line in found.problems:
        assert len(line.splitlines()) == 1
        assert not MACHINE_WORDS.search(re.sub(r'"[^"]*"?', "", line)), line


@given(st.dictionaries(st.sampled_from(TOP) | KEYS, VALUES, max_size=6))
@settings(max_examples=150)
def test_any_tables_are_read_or_told(table: dict[str, Any]) -> None:
    assert_read_or_told(table)


@given(st.dictionaries(st.sampled_from(DEEP), VALUES | st.just(REMOVED), max_size=3))
@settings(max_examples=300)
def test_any_change_to_a_good_file_is_read_or_told(changes: dict[str, Any]) -> None:
    table = dict(BASE)
    for key, value in changes.items():
        try:
            table = changed(table, {key: value})
        except (AttributeError, IndexError, TypeError, ValueError):
            continue  # an earlier change took away what this one would change
    assert_read_or_told(table)


def test_date_is_no_number() -> None:
    table = changed(BASE, {"slot.length_mm": datetime.date(2000, 1, 2)})
    found = read(table)
    assert isinstance(found, ProfileError)
    assert found.problems == ("slot.length_mm: expected a number, got 2000-01-02",)
