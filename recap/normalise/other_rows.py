"""Rows of a table that are about another part: told by its designator or words, or since nothing is a capacitor's."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import designators, order_codes, other_parts
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from recap.normalise.fields import Draft


def is_other_part(draft: Draft, text: str, *, united: bool) -> bool:
    """Tell whether a row is about another part: by its designator, by its words, or because nothing says capacitor."""
    if "ref-other-part" in draft.doubts:
        bare = not draft.has_value or other_parts.FARAD_UNIT.search(text) is None
        return bare or other_parts.speaks_only_of_others(text)  # ``Y1 | crystal 12 MHz 20 pF``
    if draft.refs:
        return _is_named_other(draft, text)
    if not draft.counts and "ref-unread" in draft.doubts and _names_other(draft, text):
        return True
    return not (united and draft.has_value) and other_parts.speaks_only_of_others(text)


def _is_named_other(draft: Draft, text: str) -> bool:
    """Tell whether a row with a designator that could be a capacitor's is about another part."""
    own = any(designators.find_group(ref) is not None for ref in draft.refs)
    if not own and not draft.has_value and not draft.not_fitted and other_parts.speaks_only_of_others(text):
        return True  # ``7805 | 5V regulator``
    if draft.has_value or draft.volts or draft.kinds or draft.safety or draft.not_fitted or draft.dittos:
        return False
    if _NAME.fullmatch(draft.refs[0]) and "cell-unread" in draft.doubts and order_codes.stands_in(text):
        return True  # ``CAM | 161-2508-EX``
    named = re.fullmatch(r"[A-Za-z]+\d+", draft.refs[0]) is not None
    return named and not own and not other_parts.names_capacitor(text)


def _names_other(draft: Draft, text: str) -> bool:
    """Tell whether a row names a part by a word or its net (``POWER``, ``+5V``), and nothing is a capacitor's."""
    name = draft.doubts["ref-unread"].strip("'\"")
    if other_parts.FARADS.search(text) or other_parts.names_capacitor(text) or draft.kinds or draft.not_fitted:
        return False
    unread = not draft.has_value and not draft.volts
    return _NET.fullmatch(name) is not None or (unread and _NAME.fullmatch(name) is not None)


_NET: Final = compiled(r"[+\-−±]?(?:\d{1,3}(?:[.,]\d)?\s?V(?:DC|AC|CC)?|V(?:CC|DD|SS|EE))|[+\-−±]|A?GND", re.IGNORECASE)
_NAME: Final = compiled(r"(?!C[\WOQIl\d]|C?[xy?]+$)[A-Za-z][A-Za-z_-]{2,11}\d{0,2}")
