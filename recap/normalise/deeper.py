"""What lines set deeper than the record above them are: its attributes, its value, or the rest of another part."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.normalise.clean import clean, squeeze
from recap.normalise.joining import holds_attributes
from recap.normalise.line_shapes import without_bullet
from recap.normalise.style import Style, is_voltage
from recap.normalise.tokens import Sort, tokenise

if TYPE_CHECKING:
    from recap.normalise.record_line import Line


def _is_deeper(below: str, indent: int) -> bool:
    return bool(below.strip()) and len(below) - len(below.lstrip()) > indent


def are_attributes(line: Line, below: str, indent: int, style: Style) -> bool:
    """Tell whether the next line holds nothing but attributes of this record: indented, or as the list has it."""
    if len(line.drafts) != 1 or not line.has_refs or not line.has_values or not below.strip():
        return False
    deeper = _is_deeper(below, indent)
    if not deeper and not (style.volts_below and not line.drafts[0].volts and is_voltage(below)):
        return False
    return holds_attributes(without_bullet(squeeze(below)))


def is_value(line: Line, below: str, indent: int) -> bool:
    """Tell whether the value of this record begins the next line: ``C1  CAP, ELCTLT:`` over ``  100 uF, 25 V``."""
    if len(line.drafts) != 1 or not line.has_refs or line.has_values or not _is_deeper(below, indent):
        return False
    draft = line.drafts[0]
    if draft.like or draft.dittos or draft.not_fitted or draft.volts:
        return False
    tokens = tokenise(squeeze(clean(below).text))
    begins = bool(tokens) and tokens[0].sort in {Sort.CAP, Sort.PAIR}
    return begins and not any(token.sort in {Sort.REFS, Sort.OTHER_REF, Sort.COUNT} for token in tokens)


def is_rest_of_other(text: str, indent: int, above: tuple[int, int] | None, row: int) -> bool:
    """Tell whether a line is the rest of another part's, whose row and indent are ``above``: ``  5.1 V`` of a diode."""
    return above is not None and above[0] + 1 == row and indent > above[1] and holds_attributes(text)
