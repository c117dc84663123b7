"""Reading a parameter file: TOML to `Parameters`, or every problem at once in shop words."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from types import UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from pydantic_core import ErrorDetails, ValidationError

from generator.errors import ProfileError
from generator.inputs.names import NAME_PATTERN
from generator.inputs.parameters import Parameters
from generator.inputs.quantities import DERIVED_TEXT, SHORTEST_MM, Told, is_derived
from generator.inputs.rules import of_purpose
from generator.inputs.shop import Machine
from generator.inputs.tables import Disc
from generator.inputs.validator import FORM_KEYS, validator, validator_of

Kind = TypeVar("Kind")

CLOSED_KINDS = ("morse tang", "arbor taper", "arbor thread")
KEEPERS = ("set_screw", "cross_pin", "shoulder")
"""The tables of which one keeps the plunger in."""
LARGEST_BYTES = 1_000_000
LONGEST_SAID = 60
LONGEST_NUMBER = 20


def read_profile(path: Path) -> Parameters:
    """Return the parameters of a file, its name filled in.

    Raises:
        ProfileError: If the file cannot be read or holds any problem; all of them are listed.
    """
    parameters = parameters_from(read_toml(path, "parameter file"), str(path))
    if parameters.name != DERIVED_TEXT:
        return parameters
    if not re.fullmatch(NAME_PATTERN, path.stem):
        raise ProfileError(
            str(path),
            (
                f"name: the file's name {path.stem!r} does not serve as a folder; give a name of "
                "letters, digits, dot, dash and underscore",
            ),
        )
    return replace(parameters, name=path.stem)


def read_toml(path: Path, kind: str) -> dict[str, Any]:
    """Return what the TOML reader makes of a file.

    Args:
        path: The file.
        kind: What kind of file it is, for the messages.

    Raises:
        ProfileError: If it cannot be read, or is not TOML.
    """
    text = read_text(path, kind)
    try:
        return tomllib.loads(text)
    except ValueError as error:  # a TOMLDecodeError, or a number of thousands of digits
        raise ProfileError(str(path), (f"is not TOML: {_escaped(str(error))}",)) from None
    except RecursionError:
        raise ProfileError(str(path), ("is not TOML: nested too deeply",)) from None


def read_text(path: Path, kind: str) -> str:
    """Return the text of a file.

    Args:
        path: The file.
        kind: What kind of file it is, for the messages.

    Raises:
        ProfileError: If it cannot be read, is too large, or is no text.
    """
    try:
        if path.exists() and not path.is_file():
            raise ProfileError(str(path), (f"is no file; name a {kind}",))
        if path.stat().st_size > LARGEST_BYTES:
            raise ProfileError(str(path), (f"too large for a {kind}; 1 MB is the most",))
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise ProfileError(str(path), (f"cannot be read: {reason}",)) from None
    except UnicodeDecodeError:
        raise ProfileError(str(path), ("is not UTF-8 text; save it as plain text",)) from None
    except ValueError:
        raise ProfileError(str(path), ("cannot be read: no file can have this name",)) from None


def parameters_from(table: Mapping[str, Any], where: str) -> Parameters:
    """Return the parameters in a parsed file.

    Args:
        table: What the TOML reader made of the file.
        where: The file's name, for the messages.

    Raises:
        ProfileError: If anything in it is unknown, missing, of the wrong type or out of range.
    """
    try:
        parameters: Parameters = validator().validate_python(dict(table))
        problems = tuple(_across(table))
    except ValidationError as error:
        found = tuple(problems_of(error, table))
        told = {line.split(":")[0] for line in found}
        across = (line for line in _across(table) if line.split(":")[0] not in told)
        problems = (*found, *across)
    if problems:
        raise ProfileError(where, tuple(dict.fromkeys(problems)))
    return parameters


def table_from(kind: type[Kind], table: Mapping[str, Any], where: str) -> Kind:
    """Return a parsed file that is no parameter file as the dataclass that describes it.

    Args:
        kind: The dataclass, its fields marked as those of the parameters are.
        table: What the TOML reader made of the file.
        where: The file's name, for the messages.

    Raises:
        ProfileError: If anything in it is unknown, missing, of the wrong type or out of range.
    """
    try:
        found: Kind = validator_of(kind).validate_python(dict(table))
    except ValidationError as error:
        problems = dict.fromkeys(problems_of(error, table, kind))
        raise ProfileError(where, tuple(problems)) from None
    return found


def problems_of(
    error: ValidationError, table: Mapping[str, Any], root: type = Parameters
) -> Iterator[str]:
    """Yield one line for everything that the validator found wrong in a file.

    Args:
        error: What the validator found.
        table: The parsed file.
        root: The dataclass that describes the whole file.
    """
    for detail in error.errors(include_url=False):
        yield _problem(detail, table, root)


def _across(table: Mapping[str, Any]) -> Iterator[str]:
    """Yield what one table needs of another."""
    yield from missing_depth(table.get("mount"), table.get("machine"))
    yield from nothing_keeps_in(table)
    yield from behind_the_springs(table)
    for key, wrong in of_purpose(table):
        yield f"{key}: {wrong or f'missing; {explanation(Parameters, key)}'}"


def nothing_keeps_in(table: Mapping[str, Any]) -> Iterator[str]:
    """Yield what is missing to keep the plunger in.

    Args:
        table: The parsed file.
    """
    if not any(name in table for name in KEEPERS):
        yield (
            "set_screw: missing; what keeps the plunger in: give [set_screw] or [cross_pin], each "
            "with [slot], or [shoulder]"
        )
    elif "shoulder" not in table and "slot" not in table:
        yield f"slot: missing; {explanation(Parameters, 'slot')}"


def behind_the_springs(table: Mapping[str, Any]) -> Iterator[str]:
    """Yield what is wrong with what the springs stand on: a plug, or the disc of a blind bore.

    Args:
        table: The parsed file.
    """
    mount = table.get("mount")
    kind = mount.get("kind") if isinstance(mount, Mapping) else None
    closed = kind in CLOSED_KINDS
    if closed and "disc" not in table:
        yield (
            f"disc: missing; a mount of kind {_said(kind)} closes the rear, so the bore is blind "
            f"and the springs stand on a disc: {explanation(Disc, 'bottom_mm')}"
        )
    if "plug" in table and (closed or "disc" in table):
        why = f"a mount of kind {_said(kind)} closes the rear" if closed else "the bore is blind"
        yield f"plug: {why}; the springs stand on the [disc], leave [plug] out"


def missing_depth(mount: Any, machine: Any) -> Iterator[str]:
    """Yield that the machine's ejection depth is missing, if a mount needs it.

    Args:
        mount: The table of the mount, as the file has it.
        machine: The table of the machine.
    """
    ejected = isinstance(mount, Mapping) and str(mount.get("kind")).endswith(" ejected")
    key = "ejection_depth_mm"
    if ejected and isinstance(machine, Mapping) and key not in machine:
        yield f"machine.{key}: missing; {explanation(Machine, key)}"


def _problem(detail: ErrorDetails, table: Mapping[str, Any], root: type) -> str:
    """Return one line: the key, what is wrong with its value, what would be right."""
    path = tuple(_real_path(detail["loc"], table))
    context = detail.get("ctx", {})
    if context.get("key"):
        steps = context["key"].split(".")  # a number is a place in a list, from 0
        path = (*path, *(int(step) if step.isdigit() else step for step in steps))
    key, value = _dotted(path), detail["input"]
    match detail["type"]:
        case "unexpected_keyword_argument":
            return f"{key}: unknown key{_near(path, table, root)}"
        case "missing" if isinstance(path[-1], int):
            return f"{_dotted(path[:-1])}: expected 2 numbers, got {path[-1]}"
        case "missing" | "missing_argument" | "missing_keyword_only_argument":
            return f"{key}: missing; {_explanation(path, table, root)}"
        case "union_tag_not_found":
            name = str(context["discriminator"]).strip("'")
            return f"{key}.{name}: missing; {_explanation((*path, name), table, root)}"
        case "union_tag_invalid":
            name = str(context["discriminator"]).strip("'")
            known = context["expected_tags"].replace("'", '"')
            return f"{key}.{name}: expected one of {known}, got {_said(value[name])}"
        case "literal_error":
            known = context["expected"].replace("'", '"')
            return f"{key}: expected {known}, got {_said(value)}"
        case "unknown_size":
            names, given = context["names"], context["value"]
            close = get_close_matches(given, names, n=1)
            hint = f"did you mean {_said(close[0])}? " if close else ""
            there = ", ".join(map(_said, names))
            return f"{key}: unknown {_said(given)}; {hint}there are {there}"
        case "length_text":
            return f'{key}: expected a length such as 12, "12 mm" or "3/8 in", got {_said(value)}'
        case "too_short_a_length":
            return f"{key}: no length can be below {SHORTEST_MM:g} mm, got {_said(value)}"
        case "float_type":
            return f"{key}: expected a number, got {_said(value)}"
        case "finite_number":
            return f"{key}: expected a finite number, got {_said(value)}"
        case "greater_than":
            return f"{key}: must be above {context['gt']:g}, got {_said(value)}"
        case "greater_than_equal":
            return f"{key}: must be at least {context['ge']:g}, got {_said(value)}"
        case "less_than_equal":
            return f"{key}: must be at most {context['le']:g}, got {_said(value)}"
        case "multiple_of":
            return f"{key}: expected a whole number, got {_said(value)}"
        case "string_type":
            return f"{key}: expected text, got {_said(value)}"
        case "string_pattern_mismatch" if path[-1] != "name":
            return f"{key}: expected text on one line, got {_said(value)}"
        case "string_pattern_mismatch":
            return (
                f"{key}: {_said(value)} does not serve as a folder's name; use letters, digits, "
                "dot, dash and underscore, a letter or digit first"
            )
        case "string_too_short" | "string_too_long":
            most = context.get("max_length")
            limit = f"at most {most} characters" if most else "some text"
            return f"{key}: expected {limit}, got {_said(value)}"
        case "count":
            least, most = context["least"], context["most"]
            return f"{key}: expected {least} to {most} entries, got {context['count']}"
        case "too_short" | "too_long" | "missing_positional_only_argument":
            return f"{key}: expected 2 numbers, got {_said(value)}"
        case "tuple_type":
            return f"{key}: expected a list, got {_said(value)}"
        case "dataclass_type" | "model_attributes_type" | "dict_type":
            return f"{key}: expected a table, got {_said(value)}"
        case "contradiction":
            return f"{key}: {detail['msg']}" if key else detail["msg"]
        case _:
            return f"{key}: {detail['msg']}, got {_said(value)}"


def _real_path(location: tuple[int | str, ...], table: Mapping[str, Any]) -> Iterator[int | str]:
    """Yield the steps of a location that the file itself holds; the validator adds others.

    Where a table may have one of several forms, the validator names the form after the key.
    """
    here: Any = table
    for place, step in enumerate(location):
        last = place == len(location) - 1
        if isinstance(here, Mapping) and step not in here and not last:
            continue
        if isinstance(here, list) and not isinstance(step, int):
            continue
        if step == "[key]":
            continue
        yield step
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            here = None


def _dotted(path: tuple[int | str, ...]) -> str:
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            named = step if re.fullmatch(r"[A-Za-z0-9_-]+", step) else f'"{_escaped(step)}"'
            text += f".{_short(named)}" if text else _short(named)
    return text


def _said(value: Any) -> str:
    """Return a value as the file writes it, cut to a readable length."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return _short(f'"{_escaped(value)}"')
        case int() if abs(value) >= 10**LONGEST_NUMBER:
            return f"a number of more than {LONGEST_NUMBER} digits"
        case Mapping():
            return "a table"
        case list():
            return "a list"
        case _:
            return str(value)


def _escaped(text: str) -> str:
    """Return a text on one line: what does not print as its number."""
    return "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape").decode()
        for letter in text
    )


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_SAID else text[: LONGEST_SAID - 3] + "..."


def classes_at(
    path: tuple[int | str, ...], table: Mapping[str, Any], root: type = Parameters
) -> tuple[type, ...]:
    """Return the dataclasses that may describe the table at a path, the fitting one alone.

    Args:
        path: The steps to the table.
        table: The parsed file.
        root: The dataclass that describes the whole file.
    """
    found: tuple[type, ...] = (root,)
    here: Any = table
    for step in path:
        here = _step(here, step)
        if isinstance(step, int):
            found = tuple(kind for kind in found if _fits(kind, here)) or found
            continue
        nested: list[type] = []
        for owner in found:
            hints = hints_of(owner)
            nested += dataclasses_in(hints[step]) if step in hints else []
        found = tuple(kind for kind in nested if _fits(kind, here)) or tuple(nested)
    return found


@cache
def hints_of(kind: type) -> Mapping[str, Any]:
    """Return the types of a dataclass's fields; they are worked out once."""
    return get_type_hints(kind)


@cache
def marked_hints_of(kind: type) -> Mapping[str, Any]:
    """Return the same with the marks that stand in their annotations."""
    return get_type_hints(kind, include_extras=True)


def _step(here: Any, step: int | str) -> Any:
    """Return what lies one step further in a file; an empty table where nothing does."""
    try:
        return here[step]
    except (KeyError, IndexError, TypeError):
        return {}


def _fits(kind: type, here: Any) -> bool:
    """Tell whether a table names this form of several, by its kind or style."""
    if not isinstance(here, Mapping):
        return True
    hints = hints_of(kind)
    return all(here.get(key) in get_args(hints[key]) for key in FORM_KEYS if key in hints)


def dataclasses_in(hint: Any) -> list[type]:
    """Return the dataclasses that a type hint allows."""
    if isinstance(hint, type) and is_dataclass(hint):
        return [hint]
    if get_origin(hint) in (Union, UnionType, tuple, dict):
        return [kind for inner in get_args(hint) for kind in dataclasses_in(inner)]
    if hasattr(hint, "__metadata__"):
        return dataclasses_in(hint.__origin__)
    return []


def _near(path: tuple[int | str, ...], table: Mapping[str, Any], root: type) -> str:
    """Return a hint at the key that was meant, or the keys there are."""
    names = [field.name for kind in classes_at(path[:-1], table, root) for field in fields(kind)]
    close = get_close_matches(str(path[-1]), names, n=1)
    if close:
        return f"; did you mean {close[0]}?"
    return f"; there are {', '.join(dict.fromkeys(names))}"


def _explanation(
    path: tuple[int | str, ...], table: Mapping[str, Any], root: type = Parameters
) -> str:
    """Return what a missing key would say."""
    for kind in classes_at(path[:-1], table, root):
        text = explanation(kind, str(path[-1]))
        if text:
            return text
    return "this key is needed"


def explanation(kind: type, key: str) -> str:
    """Return the explanation of a key of a table, or that of the table which the key names."""
    hint = marked_hints_of(kind).get(key)
    for mark in getattr(hint, "__metadata__", ()):
        if isinstance(mark, Told):
            return mark.text
    for nested in dataclasses_in(hint):
        return (nested.__doc__ or "").strip()
    return ""


def derived_keys(asked: Any, complete: Any, prefix: str = "") -> tuple[str, ...]:
    """Return the dotted keys that the user left out and the model filled in.

    Args:
        asked: The parameters as read.
        complete: The same parameters, completed.
        prefix: Path of the table the two stand for.
    """
    found: list[str] = []
    for field in fields(asked):
        key = f"{prefix}{field.name}"
        before, after = getattr(asked, field.name), getattr(complete, field.name)
        if is_derived(before) and not is_derived(after):
            found.append(key)
        elif is_dataclass(before) and is_dataclass(after):
            found += derived_keys(before, after, f"{key}.")
        elif isinstance(before, tuple):
            for place, (one, other) in enumerate(zip(before, after, strict=True)):
                if is_dataclass(one):
                    found += derived_keys(one, other, f"{key}[{place + 1}].")
    return tuple(found)
