"""What stands in front of the records of a line and holds for all of them: ``PSU: C1 10uF, C2 22uF``, ``PC-3 C5``."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import board_nouns, form_headings, headings, line_shapes, patterns
from recap.normalise.clean import fold
from recap.normalise.heading_marks import Marked
from recap.normalise.kind_words import KIND_WORDS, MOUNT_WORDS
from recap.normalise.token_refs import board_in_front
from recap.normalise.words import CAPACITOR_PREFIXES, NEUTRAL, OTHER_PREFIXES

if TYPE_CHECKING:
    from recap.normalise.record_line import Line


_JOINED: Final = re.compile(
    r"(?P<board>[A-Za-z]{2,14}\d?)[-_/.:](?=C[A-Z]?\d{1,4}[A-Za-z]?(?:[\s,;:=/&+]|$))", re.IGNORECASE
)
_LED: Final = re.compile(
    r"(?P<lead>(?!C\d)[A-Za-z][\w .-]{1,30}(?:\s[/|>]\s[A-Za-z][\w .-]{0,30}){0,2})"
    r"(?:\s[/|>]|:)\s+(?=C[A-Z]?\d{1,4}[\s,])"
)
"""``SLOT 1 / LINE AMP / C1 100u 25v``."""
_BARE: Final = re.compile(r"(?P<lead>[A-Z][A-Za-z]{1,13})\s+(?=C\d{1,4}\s+[\d.,]+\S*\s.*?\bC\d{1,4}\s)")
"""``PSU C1 22/450 C2 22/450``: in front of several records."""
_DIGIT: Final = re.compile(r"\d")
_SINGLE: Final = re.compile(r"(?P<prefix>[A-Z]{1,3})\d")


def apart(text: str, *, goes_on: bool = False) -> tuple[str, str]:
    """Part a board's name from the designators that it is joined to: ``PSU-C1, PSU-C2`` gives ``PSU: C1, C2``.

    ``goes_on``: the lines above have boards in front, too, so that any name there is one.
    """
    item = patterns.BULLET.match(text)
    mark = item[0] if item is not None else ""
    led = _LED.match(text, len(mark))
    if led is not None and patterns.CAPACITANCE.search(led["lead"]) is None and board_nouns.names_board(led["lead"]):
        if _DIGIT.search(led["lead"]):
            return mark + text[led.end() :], led["lead"].strip()  # ``Board 2: C1 10uF``
        return f"{mark}{led['lead']}: {text[led.end() :]}", ""
    bare = _BARE.match(text, len(mark))
    if bare is not None and not _says_otherwise(bare["lead"]) and (goes_on or board_nouns.names_board(bare["lead"])):
        return f"{mark}{bare['lead']}: {text[bare.end() :]}", ""
    match = _JOINED.match(text, len(mark))
    if match is None or _says_otherwise(match["board"]):
        return text, ""
    board, behind = match["board"], text[match.end() :]
    return f"{mark}{board}: " + re.sub(rf"(?<!\w){re.escape(board)}[-_/.:](?=C[A-Z]?\d)", "", behind), board


def _says_otherwise(name: str) -> bool:
    """Tell whether a word in front of a designator is another's, or says of what sort the part is (``Elko-C5``)."""
    single = _SINGLE.fullmatch(name.upper())
    other = single is not None and single["prefix"] in CAPACITOR_PREFIXES | OTHER_PREFIXES
    return other or name.upper() in CAPACITOR_PREFIXES or fold(name) in NEUTRAL | KIND_WORDS.keys() | MOUNT_WORDS.keys()


def _name(name: str, line: Line) -> str:
    """Lay the name of a board or of a stage of the set on the records that it stands in front of."""
    for draft in line.drafts:
        draft.board = name
        draft.notes = [said for said in draft.notes if said != name]
    return name


_SPARE: Final = frozenset(
    map(
        fold,
        "spare|spares|spare caps|extra|extras|reserve|reserven|ersatz|zum ersatz|de réserve|réserve|riserva|di scorta"
        "|scorta|reserva|de reserva|sobrantes|reserveonderdelen|reserv|varalla|zapas|zapasowe|náhradní"
        "|tartalék".split("|"),
    )
)


def is_unknown(text: str) -> bool:
    """Tell whether what stands in front of the records of a line is neither a board's name nor what parts are."""
    match = line_shapes.LEAD.match(text)
    return match is not None and headings.judge(Marked(match["lead"], 1)).heading is None


def lay(text: str, line: Line, joined: str = "", *, goes_on: bool = False) -> str | None:
    """Lay a heading in front of the records of a line on all of them; return the board that it names, or None.

    ``joined`` is a board whose name is joined to the designators: it holds for these alone. ``goes_on``: the lines
    above have boards in front, too, so that any name there is one.
    """
    if joined:
        _name(joined, line)
        return None
    in_front = board_in_front(text)
    if in_front is not None:
        for draft in line.drafts:
            draft.board = in_front["board"]
            draft.codes = [code for code in draft.codes if code != draft.board]
    match = line_shapes.LEAD.match(text)
    return None if match is None else _lay_lead(match["lead"].strip(), line, goes_on=goes_on)


def _lay_lead(lead: str, line: Line, *, goes_on: bool) -> str | None:
    """Lay what stands in front of the records with a colon on all of them."""
    if fold(lead) in _SPARE:
        for draft in line.drafts:
            draft.doubt("remark-unclear", f"{lead}: parts to keep, perhaps of none of the places")
        return None
    if fold(lead) in form_headings.NAMES_OF_PARTS:
        return _name(lead, line) if goes_on else None  # ``vertical: C401``: no mount
    judged = headings.judge(Marked(lead, 1))
    if judged.heading is None:
        return None
    sets = judged.heading.sets
    if sets.board and not board_nouns.names_board(sets.board) and not goes_on:
        return None
    for draft in line.drafts:
        draft.board = sets.board
        if sets.board and draft.notes and draft.notes[0] == lead:
            draft.notes.pop(0)
        for name, stated in (("mounts", sets.mount), ("kinds", sets.kind), ("temps", sets.temp_C)):
            if stated is not None and not getattr(draft, name):
                setattr(draft, name, [stated])
    return sets.board
