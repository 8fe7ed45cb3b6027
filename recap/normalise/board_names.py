"""The name of a board in a heading, without what the heading states of the parts and without empty words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import leaving, words
from recap.normalise.clean import fold, squeeze
from recap.normalise.tokens import Sort, Token

if TYPE_CHECKING:
    from collections.abc import Sequence

STATED: Final = frozenset((Sort.KIND, Sort.MOUNT, Sort.TEMP, Sort.VOLTS))


def board_name(text: str, tokens: Sequence[Token]) -> str:
    """Return the heading without what it states of the parts: ``PSU board (all radial)`` -> ``PSU board``."""
    if phrase := _PHRASE.search(text):
        return phrase["name"]
    if _REST.match(text):
        return ""
    name = text
    for token in reversed(tokens):
        if token.sort in {*STATED, Sort.SIZE, Sort.SAFETY, Sort.COUNT}:
            name = name[: token.start] + name[token.end :]
    alone = not _means(_BRACKETS.sub(" ", name))  # ``Capacitors (power supply and chassis)``
    name = _BRACKETS.sub(lambda m: m[0] if (alone and _names(m["inside"])) or _belongs(m["inside"]) else " ", name)
    name = _NUMBERED.sub("", re.sub(r"\[[^\[\]]*\s[^\[\]]*\]", " ", name))
    name = LABEL.sub("", squeeze(name.replace("°C", " ")))
    joint = ", " if re.search(r"\w,\s", name) and not re.search(r"\s[-:;|/]\s|[:;|]\s", name) else " - "
    joint = " / " if re.search(r"\s/\s", name) and not re.search(r"\s[-:,;|]\s|[:,;|]\s", name) else joint
    pieces = [piece for piece in re.split(r"\s+[-:,;|/]\s*|[:,;|]\s+", name) if _means(piece)]
    name = joint.join(piece.strip(" -:,;|") for piece in pieces) if len(pieces) != 1 else pieces[0].strip(" -:,;|")
    return _trim(name)


_REST: Final = re.compile(
    r"\W*(?:the\s+|and\s+)*(?:rest|remainder)\s+of\s+(?:the\s+|that\s+|this\s+)?(?:board|pcb|set|amp|unit)\b",
    re.IGNORECASE,
)
"""``The rest of the board, from mine:`` names no board."""
LABEL: Final = re.compile(
    r"^(?:board|pcb|platine|carte|scheda|placa|print|modul|module|section|unit|assembly|baugruppe|location"
    r"|area)[\s.]*[:=]\s*(?=\S)",
    re.IGNORECASE,
)


_NONE: Final = re.compile(
    r"(?:board|pcb|platine|carte|scheda|placa|print|modul|module|section|unit|assembly|baugruppe)[\s.]*[:=]"
    r"\s*(?:-+|–|—|\?|n/?a|none|keine?|aucune?|nessun[ao]?|ningun[ao]?|geen)\s*",
    re.IGNORECASE,
)


def names_none(text: str) -> bool:
    """Tell whether a line says that what is below it is on no board: ``Board: -``."""
    return _NONE.fullmatch(text.strip()) is not None


_PHRASE: Final = re.compile(
    r"\b(?:with|on|from|mit|auf|an|avec|sur|con|su|met|op)\s+(?:the|der|dem|la|le|il|el|het|de)\s+"
    r"(?P<name>(?:[\w-]+\s){0,3}(?:board|pcb|psu|supply|module|platine|netzteil|carte|alimentation|scheda|print))$",
    re.IGNORECASE,
)
"""``started with the power supply board``: told in words, the board's name is what stands behind the article."""


_NUMBERED: Final = re.compile(r"^\s*\d{1,2}(?:\.\d{1,2})*[.)]\s+(?=[^\W\d])")
"""The number of a chapter in front of a heading (``7. Power supply``)."""


def _means(text: str) -> bool:
    return any(fold(word) not in words.NEUTRAL for word in re.findall(r"[\w'-]+", text))


def _names(inside: str) -> bool:
    """Tell whether words in brackets are more than empty ones, and not what is to be done."""
    return _means(inside) and not leaving.tells(inside)


def _belongs(inside: str) -> bool:
    """Tell whether what stands in brackets belongs to the name, and is no remark on it."""
    told = len(re.findall(r"[^\W\d_]+", inside))
    counted = re.fullmatch(r"\s*\d{1,3}\s+(?P<what>[^\W\d_]+)\s*", inside)
    if counted is not None and fold(counted["what"]) in words.NEUTRAL:
        return False  # ``Tuner (1 cap)``
    return _names(inside) and "," not in inside and told < REMARK


_BRACKETS: Final = re.compile(r"\((?P<inside>[^()]*)\)")
REMARK: Final = 4
"""So many words in brackets are a remark (``there are four of them``)."""
_VERSIONS: Final = frozenset(("rev", "revision", "ver", "version"))
_TRIMMED: Final = words.TITLE_WORDS | words.WORN | {
    "caps",
    "cap",
    "capacitors",
    "capacitor",
    "kondensatoren",
    "condensateurs",
    "condensatori",
    "condensadores",
    "condensatoren",
    "all",
    "now",
    "next",
    "then",
    "jetzt",
    "maintenant",
    "ora",
    "ahora",
    "nu",
    "the",
    "on",
    "for",
    "of",
    "in",
    "-",
    "components",
    "parts",
    "auf",
    "der",
    "die",
    "das",
    "sur",
    "la",
    "le",
    "les",
    "de",
    "du",
    "su",
    "del",
    "della",
    "op",
    "van",
}


def _trim(name: str) -> str:
    """Take words that name no board from both ends, as long as something is left."""
    pieces = name.split()
    while len(pieces) > 1 and fold(pieces[-1]).strip("(),:") in _TRIMMED:
        pieces.pop()
    while len(pieces) > 1 and fold(pieces[0]).strip("(),:") in _TRIMMED - {"main"}:
        if fold(pieces[0]).strip(".") in _VERSIONS and any(letter.isdigit() for letter in pieces[1]):
            break  # ``Rev 5 motherboard`` is another board than ``Rev 6 motherboard``
        pieces.pop(0)
    found = " ".join(pieces).strip(" -:,;|/") if pieces and pieces != ["-"] else ""
    wrapped = re.fullmatch(r"\([^()]*\)", found) is not None
    return found.strip("() ") if wrapped or found.count("(") != found.count(")") else found
