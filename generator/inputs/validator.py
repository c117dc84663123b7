"""From the annotations of the parameters to a validator.

The engine of pydantic is driven without its class machinery: that takes as long to load as the
whole check of a tool, and does nothing here that a translation of a page does not.
"""

from __future__ import annotations

from dataclasses import MISSING, Field, fields, is_dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Literal, Union, cast, get_args, get_origin, get_type_hints

from pydantic_core import CoreSchema, SchemaValidator, core_schema

from generator.inputs.parameters import ParameterFile

FORM_KEYS: Final = ("kind", "style")
"""The keys by which a table names its form, where it may have one of several."""


@cache
def validator() -> SchemaValidator:
    """Return the validator of a whole file; it is made once a process."""
    return SchemaValidator(file_schema())


def validator_of(kind: type) -> SchemaValidator:
    """Return the validator of a file that another dataclass describes."""
    return SchemaValidator(schema_of(kind))


@cache
def file_schema() -> CoreSchema:
    """Return the schema of a whole file, in the terms of the engine."""
    return schema_of(ParameterFile)


def schema_of(hint: Any) -> CoreSchema:
    """Return the schema of a type hint.

    Raises:
        TypeError: If the hint is of a kind that no parameter has.
    """
    if is_dataclass(hint):
        return _table(cast("type", hint))
    arguments = get_args(hint)
    match get_origin(hint):
        case _ if hint is str:
            return core_schema.str_schema(strict=True)
        case _ if hint is float:
            return core_schema.float_schema(strict=True)
        case origin if origin is Annotated:
            made = schema_of(arguments[0])
            for mark in arguments[1:]:
                made = mark.schema(made)
            return made
        case origin if origin is Literal:
            return core_schema.literal_schema(list(arguments))
        case origin if origin is tuple and arguments[-1] is Ellipsis:
            return core_schema.tuple_schema([schema_of(arguments[0])], variadic_item_index=0)
        case origin if origin is tuple:
            return core_schema.tuple_schema([schema_of(each) for each in arguments])
        case origin if origin is dict:
            return core_schema.dict_schema(*(schema_of(each) for each in arguments))
        case origin if origin in (Union, UnionType) and NoneType in arguments:
            (inner,) = (each for each in arguments if each is not NoneType)
            return schema_of(inner)
        case origin if origin in (Union, UnionType) and is_dataclass(arguments[0]):
            return _forms(arguments)
        case origin if origin in (Union, UnionType):
            words = [word for each in arguments for word in get_args(each)]
            return core_schema.literal_schema(words)
    raise TypeError(f"{hint!r}")


def _table(kind: type) -> CoreSchema:
    """Return the schema of a table; keys it does not have are refused."""
    hints = get_type_hints(kind, include_extras=True)
    keys = [
        core_schema.dataclass_field(field.name, _key(field, hints[field.name]), kw_only=True)
        for field in fields(kind)
    ]
    return core_schema.dataclass_schema(
        kind,
        core_schema.dataclass_args_schema(kind.__name__, keys, extra_behavior="forbid"),
        [field.name for field in fields(kind)],
        slots=True,
    )


def _key(field: Field[Any], hint: Any) -> CoreSchema:
    made = schema_of(hint)
    if field.default is not MISSING:
        return core_schema.with_default_schema(made, default=field.default)
    if field.default_factory is not MISSING:
        return core_schema.with_default_schema(made, default_factory=field.default_factory)
    return made


def _forms(kinds: tuple[type, ...]) -> CoreSchema:
    """Return the schema of a table that may have one of several forms and names it itself."""
    named: dict[Any, CoreSchema] = {}
    for kind in kinds:
        hints = get_type_hints(kind)
        (key,) = (key for key in FORM_KEYS if key in hints)
        named |= {form: _table(kind) for form in get_args(hints[key])}
    return core_schema.tagged_union_schema(named, discriminator=key)
