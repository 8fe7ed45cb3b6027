"""The nouns as JSON and back, exactly: decimals as text, dates as ISO text, what isn't stated left out."""

from __future__ import annotations

import types
import typing
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from functools import cache
from typing import Any, TypeVar, cast

from recap import model
from recap.diagnostics import Source

T = TypeVar("T")

MOST_ZEROS = 10_000
"""A number of more digits was not written by us: shown in full it would fill the memory."""

_NAMES: dict[str, Any] = {**vars(model), "Source": Source, "Mapping": Mapping, "date": date, "datetime": datetime}


class DocumentError(ValueError):
    """A stored document that doesn't hold what its kind needs."""


def encode(value: object) -> Any:  # noqa: ANN401 - JSON is any
    """Return dataclasses, tuples, decimals, dates and enums as JSON; fields at their default are left out."""
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: encode(getattr(value, f.name)) for f in fields(value) if not _at_default(f, value)}
    if isinstance(value, tuple | list):
        return [encode(item) for item in value]
    if isinstance(value, Decimal | StrEnum):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    return value


def decode(kind: type[T], document: object) -> T:
    """Return a ``kind`` from what :func:`encode` made of it; keys it doesn't know are passed over."""
    try:
        return cast("T", _read(kind, document))
    except (TypeError, ValueError, KeyError, InvalidOperation) as fault:
        raise DocumentError(f"not a {kind.__name__}: {fault}") from fault


def _at_default(field: Any, value: object) -> bool:  # noqa: ANN401 - dataclasses.Field is generic in what doesn't matter
    present = getattr(value, field.name)
    if field.default is not MISSING:
        return bool(present == field.default) and type(present) is type(field.default)
    return field.default_factory is not MISSING and present == field.default_factory()


def _read(kind: Any, document: Any) -> Any:  # noqa: ANN401 - walks type hints
    origin = typing.get_origin(kind)
    if origin in {types.UnionType, typing.Union}:
        (inner,) = (a for a in typing.get_args(kind) if a is not type(None))
        return None if document is None else _read(inner, document)
    if origin is tuple:
        return tuple(_read(typing.get_args(kind)[0], item) for item in document)
    if is_dataclass(kind):
        hints = _hints(cast("type", kind))
        return kind(**{name: _read(hint, document[name]) for name, hint in hints.items() if name in document})  # type: ignore[operator]
    return _read_plain(kind, document)


def _read_plain(kind: Any, document: Any) -> Any:  # noqa: ANN401 - walks type hints
    if kind in {datetime, date}:
        return kind.fromisoformat(document)
    if kind is Decimal:
        return _number(document)
    if issubclass(kind, StrEnum):
        return kind(document)
    if type(document) is not kind:
        message = f"{document!r} is not {kind.__name__}"
        raise TypeError(message)
    return document


def _number(document: Any) -> Decimal:  # noqa: ANN401 - whatever stands in a document
    """Return a number as :func:`encode` writes it: text, finite, and not too long to be shown."""
    if isinstance(document, bool) or not isinstance(document, str | int):
        message = f"{document!r} is not a number in text"
        raise TypeError(message)
    number = Decimal(document)
    if not number.is_finite() or abs(int(number.as_tuple().exponent)) > MOST_ZEROS:
        message = f"{str(document)[:40]!r} is no number that can be counted with"
        raise ValueError(message)
    return number


@cache
def _hints(kind: type) -> dict[str, Any]:
    return typing.get_type_hints(kind, globalns={**_NAMES, kind.__name__: kind})
