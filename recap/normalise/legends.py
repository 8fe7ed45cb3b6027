"""Lines that explain a list's own abbreviations (``(np) = non-polar, (a) = axial``), and their use in its records.

Such a line says nothing of all parts, though it reads like a heading that does.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from recap.normalise.clean import fold
from recap.normalise.later import compiled
from recap.normalise.tokens import Sort, sorts, tokenise

if TYPE_CHECKING:
    from collections.abc import Sequence

_PART: Final = compiled(
    r"(?P<open>[(\[])?(?P<mark>[A-Za-z]{1,4}|[*†‡§#^+]{1,3})[)\]]?\s?"
    r"(?:(?P<equals>=|means|stands for|steht für|bedeutet)|:|\s-\s)\s?"
    r"(?P<meaning>[^=:()]{3,40})",
    re.IGNORECASE,
)
_NAMED: Final = compiled(
    r"^(?:legend|legenda|key|abbreviations?|legende|abkürzungen|légende|leyenda|leggenda)(?:\s*[:-]|\s)[\s,;|]*",
    re.IGNORECASE,
)
_BEGINNING: Final = compiled(
    rf"(?:{_NAMED.pattern[1:]})?[(\[]?(?:[A-Za-z]{{1,4}}|[*†‡§#^]{{1,3}})[)\]]?\s?"
    r"(?:[=:]|-\s|means|stands|steht|bedeutet)",
    re.IGNORECASE,
)
"""Lines that begin otherwise, as records do, are told apart by this alone."""
_JOINTS: Final = compiled(r"[,;|]|\s/\s|\s+(?=[(\[]?(?:[A-Za-z]{1,4}|[*†‡§#^+]{1,3})[)\]]?\s?=)"
    r"|\s+(?=(?-i:[A-Z]{1,4}):\s)")
"""Between two explanations; nothing but a blank may stand there (``* = low ESR  # = bipolar``)."""
_STATES: Final = frozenset((Sort.KIND, Sort.MOUNT, Sort.TEMP))
_NEVER: Final = frozenset((Sort.NUMBER, Sort.REFS, Sort.CAP, Sort.PAIR, Sort.SECTIONS, Sort.VOLTS, Sort.OTHER_REF))
_NAMES: Final = frozenset("temp tmax type typ kind all alle caps cap elko mount case ref rev".split())
"""What stands in front of a statement rather than being explained by it."""
_DEGREES: Final = compiled(r"T\s?[=:]\s?\d", re.IGNORECASE)
SIGNS: Final = "*†‡§#^+"
"""Marks that are no letters."""
LONGEST: Final = 160
FEWEST: Final = 2
"""So many explanations with colons make a legend; one alone is a heading or a field."""

Legend = tuple[tuple[str, str], ...]


@lru_cache(maxsize=512)
def read(text: str) -> Legend | None:
    """Return the marks that a line explains, as they stand in records, and their meanings; None: it is no legend."""
    if len(text) > LONGEST or _BEGINNING.match(text) is None:
        return None
    parts = [part.strip(" .") for part in _JOINTS.split(_NAMED.sub("", text))]
    found = [_PART.fullmatch(part) for part in parts if part]
    told = [match for match in found if match is not None]
    if not told or len(told) < len(found) or not any(states(match["meaning"]) for match in told):
        return None
    if any(match["mark"].casefold() in _NAMES or _DEGREES.match(match[0]) for match in told):
        return None  # ``Temp = 105 °C`` says it of all parts
    known = all(_same(match["mark"], match["meaning"]) for match in told)
    if not (known or len(told) >= FEWEST or told[0]["equals"]):
        return None
    return tuple(
        (f"({match['mark']})" if match["open"] else match["mark"], match["meaning"].strip())
        for match in told
        if states(match["meaning"])
    )


def states(meaning: str) -> bool:
    """Tell whether a text says of what a part is made, how it is held or what heat it bears, and nothing more."""
    there = sorts(tokenise(meaning, refs_seen=True))
    return bool(there & _STATES) and not there & _NEVER


def _same(mark: str, meaning: str) -> bool:
    """Tell whether a mark is understood as what it is said to mean: ``NP``."""
    said = [{(t.sort, t.what) for t in tokenise(text, refs_seen=True) if t.sort in _STATES} for text in (mark, meaning)]
    return bool(said[0]) and said[0] == said[1]


def survey(lines: Sequence[str]) -> Legend:
    """Return what all the legends of a list explain; one sign below what bears it is a footnote, laid on by itself."""
    found: list[tuple[str, str]] = []
    for at, line in enumerate(lines):
        told = read(" ".join(line.split())) if len(line) <= LONGEST else None
        if told and not (len(told) == 1 and told[0][0][0] in SIGNS and any(_bears(told[0][0], e) for e in lines[:at])):
            found += told
    return tuple(found)


def _bears(sign: str, line: str) -> bool:
    return re.search(_signed(sign), line) is not None


def _signed(sign: str) -> str:
    if sign == "+":  # elsewhere it joins
        return r"(?<=[\w)°])\s?\+(?=\s*(?:$|[,;]))"
    return rf"(?<=[\w)°])\s?{re.escape(sign)}(?![\w{re.escape(SIGNS)}])"


def spelt_out(text: str, legend: Legend) -> str:
    """Return a record with the meanings of its marks in their place; of a lone letter only where it is likely one."""
    for mark, meaning in legend:
        if mark[0] in SIGNS:
            text = f"{re.sub(_signed(mark), '', text)} {meaning}" if _bears(mark, text) else text
            continue
        if mark.startswith("("):
            form, flags, said = re.escape(mark), re.IGNORECASE, f"({meaning})"
        elif len(mark) > 1:
            form, flags, said = rf"(?<![\w-]){re.escape(mark)}(?![\w-])", re.NOFLAG, meaning
        else:
            form, flags, said = rf"(?<=[A-Za-zµ)] ){mark}(?=\s*(?:$|[,;(])|\s+\d)|\({mark}\)", re.NOFLAG, meaning
        text = said.join(re.split(form, text, flags=flags))  # not sub: a list may hold a backslash
    return text


def says(text: str) -> str:
    """Return what a legend explains, for its note."""
    return f"explains marks: {fold(text)[:80]}"
