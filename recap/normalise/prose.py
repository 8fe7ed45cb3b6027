"""Whether a line that names a part or a value is a sentence rather than a record."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from recap.normalise.fields import Draft
    from recap.normalise.record_line import Line

MOST_LEAD_WORDS: Final = 4
MOST_WORDS: Final = 14
MOST_BESIDE: Final = 4
"""So many words may stand in a record that has a voltage but no value: ``C7 can't read it, 25 V``."""


def _names_type(draft: Draft) -> bool:
    """Tell whether what looks like designators may as well be a type (``CC9999 module``): nothing says capacitor."""
    said = draft.volts or draft.kinds or draft.safety or draft.not_fitted or draft.like or draft.dittos
    return not said and all(re.fullmatch(r"C[A-Z]\d{3,}", ref) for ref in draft.refs)


def _says_no_capacitor(line: Line) -> bool:
    """Tell whether designators without a value stand among words only."""
    if line.chatter and all(_names_type(draft) for draft in line.drafts):
        return True
    return bool(line.lead) and not any(draft.not_fitted or draft.like for draft in line.drafts)


def is_prose(line: Line) -> bool:
    """Tell whether a line that names a part or a value is a sentence rather than a record."""
    valued = line.has_values or line.valued or (line.chatter <= MOST_BESIDE and any(d.volts for d in line.drafts))
    if line.has_refs and valued and ((line.refs_first and not line.lead) or line.adds):
        return False
    unread = line.refs_first and line.unread and not line.lead  # ``C12 - cannot read``
    if not unread and line.has_refs and not line.has_values and _says_no_capacitor(line):
        return True
    if len(line.lead) > MOST_LEAD_WORDS or line.chatter > MOST_WORDS:
        return True
    if line.lead and line.hedged:
        return True
    if not unread and line.has_refs != line.has_values and line.chatter >= 3 and not any(d.counts for d in line.drafts):  # noqa: PLR2004
        return line.hedged or bool(line.lead) or line.chatter > 4 or not line.has_values  # noqa: PLR2004
    return False
