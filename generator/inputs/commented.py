"""A parameter file with every key explained, the explanations taken from the parameters."""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields
from pathlib import Path
from textwrap import wrap
from typing import Any, get_origin

from generator.inputs.drawer import Shop
from generator.inputs.parameters import Parameters
from generator.inputs.profile import classes_at, dataclasses_in, explanation, hints_of
from generator.inputs.purposes import TABLES
from generator.inputs.quantities import is_derived

WIDTH = 96
SCHEMA_LINES = {
    Parameters: "#:schema parameters.schema.json",
    Shop: "#:schema workshop.schema.json",
}
"""What points an editor to the schema of each kind of file, by the dataclass that describes it."""
EXAMPLE_LIMIT = '"wall over the rear thread" = { warn = 1.4 }'


def commented(table: Mapping[str, Any], heading: str, root: type = Parameters) -> str:
    """Return the text of a parameter file, or of a workshop file.

    Keys that the table leaves out are listed too, commented out, with the value they would have.

    Args:
        table: What the TOML reader makes of the file.
        heading: What the tool is for, in a few sentences, for the top of the file.
        root: The dataclass that describes the whole file.
    """
    lines = [SCHEMA_LINES[root], *_comment(heading), ""]
    lines += _table(table, (), table, root)
    return "\n".join(lines).rstrip() + "\n"


def heading_of(text: str) -> str:
    """Return the heading of a file that this module wrote, unwrapped."""
    lines = []
    for line in text.splitlines()[1:]:
        if not line.startswith("# "):
            break
        lines.append(line[2:])
    return " ".join(lines)


def root_of(text: str) -> type:
    """Return the dataclass that describes a file, by the schema that its first line names."""
    first = text.split("\n", 1)[0]
    return next((root for root, line in SCHEMA_LINES.items() if line == first), Parameters)


def _comment(text: str) -> list[str]:
    return [f"# {line}" for line in wrap(text, WIDTH)]


def _table(
    table: Mapping[str, Any], path: tuple[int | str, ...], whole: Mapping[str, Any], root: type
) -> Iterator[str]:
    """Yield the lines of one table: its own keys first, then the tables in it."""
    kind = classes_at(path, whole, root)[0]
    nested = []
    for field in fields(kind):
        value = table.get(field.name)
        if _holds_tables(value) or (value is None and _is_table(kind, field.name)):
            nested.append(field.name)
            continue
        yield from _comment(explanation(kind, field.name))
        if value is not None:
            yield f"{field.name} = {literal(value)}"
        else:
            yield f"# {field.name} = {_left_out(field)}"
    for name in nested:
        if name in table:
            yield from _nested(name, table[name], path, whole, root)
        elif not (root is Parameters and name in TABLES.values()):  # another purpose has it
            yield from _left_out_table(kind, (*path, name), root)


def _left_out_table(kind: type, path: tuple[int | str, ...], root: type) -> Iterator[str]:
    """Yield a table that the file does without, commented out."""
    yield ""
    yield from _comment(explanation(kind, str(path[-1])))
    several = get_origin(hints_of(kind)[str(path[-1])]) is tuple
    yield f"# [[{_header(path)}]]" if several else f"# [{_header(path)}]"
    if several:
        return
    if path == ("limits",):
        yield f"# {EXAMPLE_LIMIT}"
        return
    if len(path) > 1 or root is not Parameters or not _needs_keys(path, root):
        yield from _table({}, path, {}, root)


def _needs_keys(path: tuple[int | str, ...], root: type) -> bool:
    """Tell whether a table cannot be empty: what a file does without is then named alone."""
    kind = classes_at(path, {}, root)[0]
    return any(
        field.default is MISSING and field.default_factory is MISSING for field in fields(kind)
    )


def _header(path: tuple[int | str, ...]) -> str:
    """Return a path as TOML heads a table; a table in a list belongs to the last entry."""
    return ".".join(step for step in path if isinstance(step, str))


def _nested(
    name: str, value: Any, path: tuple[int | str, ...], whole: Mapping[str, Any], root: type
) -> Iterator[str]:
    inner = (*path, name)
    header = _header(inner)
    entry = (*inner, 0) if isinstance(value, list) else inner
    described = (classes_at(entry, whole, root)[0].__doc__ or "").strip()
    if name == "limits":
        yield ""
        yield from _comment(described)
        yield "[limits]"
        for limit, change in value.items():
            levels = ", ".join(f"{key} = {literal(number)}" for key, number in change.items())
            yield f"{literal(limit)} = {{ {levels} }}"
    elif isinstance(value, list):
        for place, entry in enumerate(value):
            yield ""
            if place == 0:
                yield from _comment(described)
            yield f"[[{header}]]"
            if place == 0:
                yield from _table(entry, (*inner, place), whole, root)
            else:
                yield from _plain(entry, (*inner, place))
    else:
        yield ""
        yield from _comment(described)
        yield f"[{header}]"
        yield from _table(value, inner, whole, root)


def _plain(table: Mapping[str, Any], path: tuple[int | str, ...]) -> Iterator[str]:
    """Yield the keys of a table whose like was explained before, then the tables in it."""
    nested = {key: value for key, value in table.items() if isinstance(value, Mapping)}
    yield from (f"{key} = {literal(item)}" for key, item in table.items() if key not in nested)
    for key, value in nested.items():
        yield ""
        yield f"[{_header((*path, key))}]"
        yield from _plain(value, (*path, key))


def _holds_tables(value: Any) -> bool:
    return isinstance(value, Mapping) or (
        isinstance(value, list) and bool(value) and isinstance(value[0], Mapping)
    )


def _is_table(kind: type, key: str) -> bool:
    return bool(dataclasses_in(hints_of(kind)[key]))


def _left_out(field: Any) -> str:
    """Return what stands behind a key that was left out."""
    if field.default is MISSING or is_derived(field.default):
        return "(derived)"
    return "(none)" if field.default is None else literal(field.default)


def literal(value: Any) -> str:
    """Return a value as TOML writes it.

    Example:
        >>> literal("3/8 in"), literal(12.0), literal(True), literal([-13, 13])
        ('"3/8 in"', '12.0', 'true', '[-13, 13]')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, list | tuple):
        return "[" + ", ".join(literal(item) for item in value) + "]"
    return repr(value)


def main(names: list[str]) -> None:
    """Write each named file anew, with the explanations as they now are."""
    for path in map(Path, names):
        text = path.read_text("utf-8")
        path.write_text(commented(tomllib.loads(text), heading_of(text), root_of(text)), "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
