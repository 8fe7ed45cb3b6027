"""The sections of one can: counted in front of their value, or with a voltage for each."""

from __future__ import annotations

import re
from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise import values

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft


_LETTERED: Final = re.compile(
    r"(?P<lead>[\s*•-]*)(?P<ref>C[A-Z]?-?\d{1,4})?(?P<gap>[\s:.(-]+)(?P<letter>[A-F])[):.]?(?=\s+[\d.]+\s?[-+\d.,]*\s?"
    r"(?:[uµμ]\s?F|mfd|MFD|mf|MF|M|u|µ)\b)"
)


def lettered(lines: Sequence[str]) -> list[str]:
    """Return the lines with letters that stand apart joined to their can's designator: ``C-1   A   40 mfd``.

    The next section may stand below with its letter alone. One letter by itself says nothing.
    """
    found = list(lines)
    at = 0
    while at < len(lines):
        run = _sections_from(lines, at)
        if len(run) > 1:
            for number, text in enumerate(run):
                found[at + number] = text
        at += max(len(run), 1)
    return found


def _sections_from(lines: Sequence[str], at: int) -> list[str]:
    """Return the lines of a can's sections from line ``at`` on, written with the designator: none, or A, B, C."""
    run: list[str] = []
    ref = ""
    for line in lines[at : at + MOST_SECTIONS]:
        match = _LETTERED.match(line[:120])
        if match is None or match["letter"] != chr(ord("A") + len(run)):
            break
        if (not run and not match["ref"]) or (run and (match["ref"] or ref) != ref):
            break
        ref = match["ref"] or ref
        run.append(f"{match['lead']}{ref}{match['letter']} {line[match.end() :]}")
    return run


MOST_SECTIONS: Final = 6


def spelt_out(text: str) -> str:
    """Return a record with a unit for bare sections in front of a high voltage: ``C1 40/20/20 @ 450/400/25V``.

    With dashes they fall or are equal: what rises may be a choice. Behind a slash a smaller number is no rating.
    """
    match = _BARE.match(text)
    if match is None or int(match["volts"]) < CAN_VOLTS:
        return text
    found = [int(number) for number in re.findall(r"\d+", match["sections"])]
    falling = all(a >= b for a, b in pairwise(found))
    if not (falling or "/" in match["sections"]) or max(found[1:]) >= int(match["volts"]) or not all(found):
        return text
    if len(found) == 2 and found[0] != found[1] and "/" in match["sections"] and not _is_radio_s(match):  # noqa: PLR2004
        return text  # ``47/25 160``, ``100/16 250V``: a value and two ratings
    behind = "" if match["joint"].strip() == "/" else match["joint"].rstrip("@/ ")
    return f"{text[: match.start('sections')]}{'+'.join(map(str, found))}µF{behind} {text[match.start('volts') :]}"


def _is_radio_s(match: re.Match[str]) -> bool:
    return match["named"] is not None and int(match["volts"]) >= RADIO_VOLTS


RADIO_VOLTS: Final = 300
"""So high a voltage behind two numbers is that of a valve set's can (common practice)."""
_BARE: Final = re.compile(
    r"\W{0,4}C[A-Z]?-?\d{1,4}\s?[:=-]?\s+(?P<sections>\d{1,3}(?:(?P<mark>[/-])\d{1,3})(?:(?P=mark)\d{1,3}){0,3})"
    r"(?P<joint>\s?[@/]\s?|,?\s+(?:at\s+)?)(?P<volts>[1-9]\d{2})(?![\d.,]\d)(?:[/-]\d{2,3}){0,3}(?P<named>\s?(?:W?V|DC|volt))?"
    r"(?![uµnpF])",
    re.IGNORECASE,
)


def named_apart(refs: Sequence[str]) -> bool:
    """Tell whether several designators are those of one can's sections: ``C2A``, ``C2B``, ``C2C``."""
    return len(refs) > 1 and refs[0][-1:].isalpha() and len({ref[:-1] for ref in refs}) == 1


def rated(draft: Draft) -> list[Decimal] | None:
    """Return the voltage of each section where a list of as many stands there (``20/20/20 450/450/25 V``)."""
    if len(draft.sections) > 1 and len(draft.volts) == len(draft.sections):  # ``20µF 450V + 10µF 350V``
        each = [reading.value for reading in draft.volts if reading.value is not None]
        return each if len(each) == len(draft.sections) else None
    if not draft.sections or len(draft.volts) != 1 or draft.volts[0].value is not None or not draft.volt_texts:
        return None
    if "AC" in draft.volt_texts[0].upper():  # ``370/440VAC``: all sections of a motor capacitor may be used at either
        return None
    stated = [values.voltage(part, bare=True) for part in re.split(r"\s?[/+-]\s?", draft.volt_texts[0])]
    each = [reading.value for reading in stated if reading is not None and reading.value is not None]
    if len(each) == 2 and each[0] < each[1] <= each[0] * PEAK:  # noqa: PLR2004 - ``50+50 µF 350/385 V``
        return None
    return each if len(each) == len(draft.sections) else None


PEAK: Final = Decimal("1.25")
"""A second voltage no further above the first is the peak that all sections stand for a while (common practice)."""


def descending(draft: Draft) -> None:
    """Read ``40-20 mfd 450 V`` as a can: choices between two values are named upwards, and seldom of such voltages."""
    if len(draft.refs) > 1 or len(draft.caps) != 1 or draft.sections or not _is_high(draft):
        return
    read = draft.caps[0].readings
    if draft.caps[0].value is None and len(read) == 2 and read[0] > read[1] >= 1:  # noqa: PLR2004 - two sections
        draft.sections, draft.caps = read, []
        draft.doubts.pop("alternatives", None)


def _is_high(draft: Draft) -> bool:
    return any(r.value is not None and r.value >= CAN_VOLTS for r in draft.volts)


def counted(draft: Draft) -> None:
    """Read ``C8 2x50µF 350V`` as a can of two sections: one designator, high voltage (common practice)."""
    if len(draft.refs) != 1 or len(draft.counts) != 1 or len(draft.caps) != 1 or draft.sections:
        return
    if draft.counted_apart:
        return
    count, value = draft.counts[0], draft.caps[0].value
    if 2 <= count <= 4 and value is not None and value >= 1 and _is_high(draft):  # noqa: PLR2004 - no can has more, or less
        draft.sections, draft.caps, draft.counts = (value,) * count, [], []


CAN_VOLTS: Final = 150
"""From this voltage on ``2x50`` behind one designator is a can of two sections (common practice)."""
