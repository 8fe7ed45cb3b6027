"""Part numbers as spreadsheets spoil them: powers of ten, months, numbers cut off after 15 digits or at zeros."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

import numpy as np
import pyarrow.compute as pc

from recap.bench.arrow import to_arrow, to_numpy
from recap.bench.findings import tell_rows
from recap.diagnostics import Severity

if TYPE_CHECKING:
    import pyarrow as pa
    from numpy.typing import NDArray

    from recap.bench.texts import TextTable
    from recap.diagnostics import Diagnostic

EXACT_DIGITS: Final = 15
"""A spreadsheet's number has no more digits than these; those after them become zeros (IEEE 754, binary64)."""
FEWEST: Final = 3
"""So many numbers of one length must begin with zeros for a shorter one to be missed some."""
_MONTHS = (
    "Jan|Gen|Ene|Feb|Fév|Mar|Mär|Mrz|Mrt|Apr|Avr|Abr|May|Mai|Mag|Maj|Mei|Jun|Juin|Giu|Jul|Juil|Lug|Aug|Ago|Aoû|Sep|Set"
    "|Oct|Okt|Ott|Out|Nov|Dec|Dez|Déc|Dic"
)
_POWER = r"^[0-9](?:[.,][0-9]+)?[eE]\+[0-9]{2,3}$"
_DATE = (
    rf"^(?:{_MONTHS})[-. /]\s?[0-9]{{2}}$|^[0-9]{{1,2}}[-. /]\s?(?:{_MONTHS})(?:[-. /][0-9]{{2,4}})?$"
    r"|^[0-9]{4}-[01][0-9]-[0-3][0-9](?: 00:00:00)?$|^[0-3]?[0-9][./][01]?[0-9][./](?:19|20)[0-9]{2}$"
)
_CUT = rf"^[1-9][0-9]{{{EXACT_DIGITS - 1}}}0+$"
_WHY: Final = (
    (_POWER, "is a number as a spreadsheet shortens it: the digits of the part number are lost"),
    (_DATE, "is a day or month: a spreadsheet may have made it of a part number"),
    (_CUT, f"ends in zeros after {EXACT_DIGITS} digits: a spreadsheet keeps no more of a number"),
)
_HINT = "type the part number as the supplier writes it, in a cell formatted as text; it can't be ordered by this one"


def spoilt_numbers(table: TextTable, numbers: pa.Array) -> list[Diagnostic]:
    """Return a warning for each part number that a spreadsheet seems to have spoilt."""
    found: dict[int, str] = {}
    for pattern, why in _WHY:
        for row in np.flatnonzero(to_numpy(pc.match_substring_regex(numbers, pattern))).tolist():
            found.setdefault(row, why)
    for row in _short_of_zeros(numbers).tolist():
        found.setdefault(row, "is shorter than the others, which begin with zeros: its own may be lost")

    def say(row: int) -> tuple[Severity, str, str, str | None, str | None]:
        text = str(numbers[row].as_py())
        return Severity.WARNING, "part-spoilt", f"part number {text[:40]!r} {found[row]}", _HINT, text[:80]

    return tell_rows(table, sorted(found), table.columns["part"].header, say) if found else []


def _short_of_zeros(numbers: pa.Array) -> NDArray[np.int64]:
    """Return the rows whose number has digits alone, and fewer than most of those that begin with zeros."""
    digits = np.flatnonzero(to_numpy(pc.ascii_is_decimal(numbers)))
    none = np.zeros(0, np.int64)
    if len(digits) < FEWEST:
        return none
    texts = numbers.take(to_arrow(digits))
    lengths, zeros = to_numpy(pc.binary_length(texts)), to_numpy(pc.starts_with(texts, "0"))
    if int(zeros.sum()) < FEWEST:
        return none
    length, count = Counter(lengths[zeros].tolist()).most_common(1)[0]
    if count < FEWEST or 2 * count < len(digits):
        return none
    return np.asarray(digits[~zeros & (lengths < length)], np.int64)
