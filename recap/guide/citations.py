"""Every source that the program names beside a number, by subject."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from typing import TYPE_CHECKING, Final

from recap.guide.marks import sentence
from recap.match import (
    balancing,
    combine,
    condition,
    discharge,
    esr,
    failure,
    life,
    limits,
    mechanics,
    obsolete,
    ratings,
    ripple,
    shelf,
)
from recap.model import Citation

if TYPE_CHECKING:
    from collections.abc import Iterator
    from types import ModuleType

SUBJECTS: Final[tuple[tuple[str, tuple[ModuleType, ...]], ...]] = (
    ("What fits: the matching rules", (limits,)),
    ("How a part goes in: leads, cases, vents", (mechanics,)),
    ("Life and ripple current", (life, ripple)),
    ("Failure rates", (failure,)),
    ("Measuring: capacitance, ESR, loss, leakage, surge", (condition, esr, ratings)),
    ("Old stock and re-forming", (shelf,)),
    ("Discharging", (discharge,)),
    ("Obsolete values, cans, joined parts", (obsolete, combine, balancing)),
)
"""The modules that hold sources, by what they are about."""


def citations_part() -> str:
    """Return every source by subject, each once."""
    lines: list[str] = []
    for subject, modules in SUBJECTS:
        found = dict.fromkeys(one for module in modules for one in _held(vars(module), 0))
        lines += [f"## {subject}", "", *(f"- {sentence(one.text)} ({one.kind})" for one in found), ""]
    return "\n".join(lines)


DEEPEST: Final = 4
"""Tables of records of citations go no deeper."""


def _held(value: object, depth: int) -> Iterator[Citation]:
    """Yield the citations within a value: a table, a record, one by itself."""
    if isinstance(value, Citation):
        yield value
    elif depth > DEEPEST or isinstance(value, str | bytes | type):
        return
    elif isinstance(value, Mapping):
        for name, each in list(value.items()):
            if not str(name).startswith("__"):
                yield from _held(each, depth + 1)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _held(getattr(value, field.name), depth + 1)
    elif isinstance(value, Iterable):
        for each in value if isinstance(value, tuple | list | frozenset | set) else ():
            yield from _held(each, depth + 1)
