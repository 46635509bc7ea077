"""What JSON can hold, and typed values to and from it."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache, partial
from math import isfinite
from types import UnionType
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

from drills.basics.days import day_of

JSON = None | bool | int | float | str | list["JSON"] | dict[str, "JSON"]
T = TypeVar("T")


def as_json(value: object) -> Any:
    """A value as JSON: a dataclass as its fields, a tuple as a list, a day as 2026-03-09."""
    if is_dataclass(value):
        return {field.name: as_json(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): as_json(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [as_json(one) for one in value]
    return value.isoformat() if isinstance(value, date) else value


def from_json(kind: type[T], value: object) -> T:
    """The value of this type whose ``as_json`` this is; keys that it does not know are passed over.

    A type is a dataclass, tuple (named or not), mapping from texts, day, bool, int, float
    or str, or one of these or None. Raises ValueError for what is not of its shape.
    """
    try:
        found: T = _reader(kind)(value)  # type: ignore[arg-type]  # a type is hashable
    except (AttributeError, KeyError, OverflowError, TypeError) as error:
        raise ValueError(f"{error!r} in JSON of another shape") from error
    return found


def json_text(value: object, in_order: bool = False) -> str:
    """JSON with no spaces, keys sorted if ``in_order``. Raises ValueError for NaN, infinities."""
    return json.dumps(
        value, ensure_ascii=False, sort_keys=in_order, separators=(",", ":"), allow_nan=False
    )


def names_in(value: JSON) -> tuple[str, ...]:
    """The texts of a list; nothing for anything else."""
    return tuple(one for one in value if isinstance(one, str)) if isinstance(value, list) else ()


@cache
def _reader(kind: Any) -> Callable[[Any], Any]:
    if is_dataclass(kind):
        make: Callable[..., Any] = kind  # type: ignore[assignment]
        hints = get_type_hints(kind)
        readers = {field.name: _reader(hints[field.name]) for field in fields(kind)}
        return lambda value: make(**{name: read(value[name]) for name, read in readers.items()})
    origin, of = get_origin(kind), get_args(kind)
    if origin is UnionType:
        (read_some,) = (_reader(one) for one in of if one is not type(None))
        return lambda value: None if value is None else read_some(value)
    if hasattr(kind, "_fields"):
        of_fields = tuple(_reader(one) for one in get_type_hints(kind).values())
        return lambda value: kind(*_tuple(of_fields, value, False))
    if origin is tuple:
        readers_in = tuple(_reader(one) for one in of if one is not Ellipsis)
        return lambda value: _tuple(readers_in, value, Ellipsis in of)
    if origin is not None and issubclass(origin, Mapping):
        read_one = _reader(of[1])
        return lambda value: {key: read_one(one) for key, one in value.items()}
    return {date: _day, float: _number}.get(kind, partial(_of_type, kind))


def _tuple(readers: tuple[Callable[[Any], Any], ...], value: object, any_length: bool) -> Any:
    if not isinstance(value, list):
        raise TypeError("no list")
    if any_length:
        return tuple(map(readers[0], value))
    return tuple([read(one) for read, one in zip(readers, value, strict=True)])


def _of_type(kind: type, value: object) -> object:
    if type(value) is not kind:
        raise TypeError(f"no {kind.__name__}")
    return value


def _number(value: object) -> float:
    if type(value) in (float, int) and isfinite(value):  # type: ignore[arg-type]
        return float(value)  # type: ignore[arg-type]
    raise TypeError("no number")


def _day(value: object) -> date:
    if not isinstance(value, str):
        raise TypeError("no day")
    return day_of(value)
