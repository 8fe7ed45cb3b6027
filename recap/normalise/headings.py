"""Headings: what a line without parts says of the lines below it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise import form_headings, other_parts, sections, words
from recap.normalise.board_names import LABEL, board_name
from recap.normalise.board_nouns import is_noun, names_board, without_aside
from recap.normalise.clean import fold
from recap.normalise.heading_marks import Marked
from recap.normalise.heading_stack import Heading, Judged
from recap.normalise.heading_states import SPEAKS_OF_ALL, stated, without_names
from recap.normalise.later import compiled
from recap.normalise.positions import NOWHERE, Context
from recap.normalise.record_places import is_stage
from recap.normalise.remarks import without_or_more
from recap.normalise.tokens import Sort, Token, tokenise

if TYPE_CHECKING:
    from collections.abc import Sequence


LONGEST_HEADING: Final = 90
CAPTION_LEVEL: Final = 7
"""Below all levels that a text can show."""
MOST_WORDS: Final = 8


def names_list(text: str) -> bool:
    """Tell whether a text speaks of capacitors and of a list of them."""
    told = {fold(word) for word in re.findall(r"[\w'-]+", text)}
    return bool(told & words.TITLE_WORDS) and other_parts.names_capacitor(text)


def judge(line: Marked, *, stands_over: bool = False, opens: bool = False) -> Judged:
    """Return what a line without parts is: a heading with what it sets, a title, or neither.

    ``stands_over``: it stands alone over a record, so a name of one or two words is a heading, too.
    ``opens``: it is the first line of the list, which names the set unless it plainly names a board.
    """
    line = replace(line, text=without_aside(_UNLESS.sub("", line.text)))
    tokens = without_or_more(_listed(tokenise(line.text), line.strength))
    said = _said_of_all(line)
    if said is not None or _is_of_others(line, tokens):
        return Judged(said)
    if (bare := _of_kind_alone(line)) is not None:
        return Judged(bare)
    return _judged(line, tokens, Standing(stands_over=stands_over, opens=opens))


def _of_kind_alone(line: Marked) -> Heading | None:
    """Return the heading that names a kind and adds a remark in brackets: ``Film (leave unless cracked)``."""
    bare = form_headings.without_brackets(line.text)
    if bare == line.text or not line.strength or names_board(line.text):
        return None
    tokens, whole = tokenise(bare), tokenise(line.text)
    sets = stated(tokens)
    if _left_words(tokens) or sets == NOWHERE or not _left_words(whole) or sets != stated(whole):
        return None
    return Heading(sets, line.level)


def of_capacitors(line: Marked) -> Context:
    """Return what a heading of capacitors among those of other parts sets (``SMD caps (0805) (25 V or better)``)."""
    judged = judge(line).heading
    if judged is not None:
        return judged.sets
    tokens = without_or_more(tokenise(line.text))
    return NOWHERE if _is_of_others(line, tokens) or _is_sentence(line.text, tokens) else stated(tokens)


def _are_what(tokens: Sequence[Token]) -> bool:
    """Tell whether a verb stands behind the kind: ``all electrolytics are radial``, ``alle Elkos sind 85 °C``."""
    told = [token for token in tokens if token.sort is not Sort.MARK]
    at = next((i for i, token in enumerate(told) if token.sort is Sort.KIND), len(told))
    return at + 2 < len(told) and told[at + 1].what in _BEING


_BEING: Final = frozenset("are were is sind waren ist sont étaient est sono erano son eran zijn waren".split())


def in_sentences(text: str) -> list[Heading]:
    """Return what sentences among others say of all parts (``I measured them. All radial, 105 °C unless noted.``)."""
    found = []
    for sentence in (*_SENTENCES.split(text), *_IN_BRACKETS.findall(text)):
        if SPEAKS_OF_ALL.match(sentence) is None:
            continue
        heading = judge(Marked(sentence.rstrip(" .!"), 0)).heading
        if heading is not None and heading.general and heading.ranks() <= _OF_ALL:
            found.append(heading)
    return found


_SENTENCES: Final = compiled(r"(?<=[.!?)])\s+(?=[^\W\d_])")
_IN_BRACKETS: Final = compiled(r"\(([^()]{3,60})\)")
_OF_ALL: Final = frozenset(("kind", "mount", "temp_C", "pitch_mm"))


def _said_of_all(line: Marked) -> Heading | None:
    """Return the heading that a sentence is which says what all parts are."""
    what = sections.said_of_all(line.text)
    tokens = tokenise(what) if what is not None else []
    what_all_are = stated(tokens)
    return None if what_all_are.kind is None or _left_words(tokens) else Heading(what_all_are, line.level, general=True)


def _is_of_others(line: Marked, tokens: Sequence[Token]) -> bool:
    """Tell whether a line is too long for a heading, or speaks of changes or of other parts."""
    if len(line.text) > 2 * LONGEST_HEADING or any(token.sort in _NO_HEADING for token in tokens):
        return True
    if any(a.what in _DENYING and b.sort in {Sort.KIND, Sort.MOUNT} for a, b in pairwise(tokens)):
        return True  # ``Keyboard: no electrolytics``
    own = _BOARD_NUMBER.search(line.text)  # ``Power supply board (P100)``
    named = any(token.sort in _OF_OTHERS and not (own and token.start >= own.start()) for token in tokens)
    return named and not line.strength and not LABEL.match(line.text)


def _judged(line: Marked, tokens: list[Token], stands: Standing) -> Judged:
    left = _left_words(tokens)
    if left or any(token.sort is Sort.WORD and is_noun(token.what, _STAGES) for token in tokens):
        tokens = [t for t in tokens if not (t.sort is Sort.MOUNT and fold(t.text) in _ALONE)]
    sets = NOWHERE if {fold(word) for word in left} & _QUALIFIERS else stated(without_names(tokens) if left else tokens)
    folded = {fold(token.text) for token in tokens if token.sort is Sort.WORD}
    if left and not other_parts.names_capacitor(line.text):
        sets = sets if _ALL_RATED.search(line.text) else replace(sets, volts=None)  # a rail or a supply, no rating
        if other_parts.names_other(line.text):
            sets = NOWHERE
    if all(token.sort is Sort.DATE or token.what in _DAYS or token.sort is Sort.MARK for token in tokens):
        return Judged(None)  # a day of a diary
    if not left and sets != NOWHERE:
        general = _is_general(line, tokens)
        of_kind = general and sets.kind is not None and _are_what(tokens)
        return Judged(Heading(sets, line.level, general=general, of_kind=of_kind))
    if not left and not (folded & words.BOARD_NOUNS and len(line.text.split()) > 1):
        return Judged(None)
    if _is_sentence(line.text, tokens):
        named = _named_in_prose(line.text) if line.strength else None
        return Judged(Heading(replace(sets, board=named), line.level) if named else None)
    if len(line.text) > LONGEST_HEADING or len(left) > MOST_WORDS:
        return Judged(None)
    return _named(line, tokens, sets, stands, bare=not left)


_DAYS: Final = frozenset(
    fold(word)
    for word in (
        "mon monday tue tuesday wed wednesday thu thursday fri friday sat saturday sun sunday montag dienstag mittwoch "
        "donnerstag freitag samstag sonntag lundi mardi mercredi jeudi vendredi samedi dimanche lunedì martedì "
        "mercoledì giovedì venerdì sabato domenica lunes martes miércoles jueves viernes sábado domingo maandag "
        "dinsdag woensdag donderdag vrijdag zaterdag zondag"
    ).split()
)


def _is_general(line: Marked, tokens: Sequence[Token]) -> bool:
    """Tell whether a heading speaks of all parts of the list, not of all of its class: ``Tantalums, all 35 V:``."""
    of_all = SPEAKS_OF_ALL.search(line.text)
    kind = next((token for token in tokens if token.sort is Sort.KIND), None)
    of_class = kind is not None and of_all is not None and line.strength > 0 and kind.start < of_all.start()
    return of_all is not None and not (of_class and line.level is None)


_ALL_RATED: Final = compiled(
    r"\b(?:all|alle[ns]?|tous|toutes|tutt[ie]|todos)\s+(?:are\s+|sind\s+|in\s+|à\s+|da\s+)?(?=\d+\s?V)", re.IGNORECASE
)
"""``Audio board (all 16V)``: the parts' rating."""
_DENYING: Final = frozenset(
    "no not none without keine kein ohne aucun aucune pas sans nessun nessuno senza sin ningun geen zonder ingen "
    "inga".split()
)
_OF_OTHERS: Final = frozenset((Sort.RIPPLE, Sort.OTHER_REF))
"""Unmarked lines with these are about other parts: ``adaptor 5 V 2.4 A``, ``BS999 Q1``."""
_BOARD_NUMBER: Final = compiled(r"(?<=[^\W\d_])\s\([A-Z]{1,3}-?\d{1,4}[A-Z]?\)$")
_NO_HEADING: Final = frozenset((Sort.REPLACED, Sort.ORIGINAL, Sort.NOT_FITTED))


def _listed(tokens: list[Token], strength: int) -> list[Token]:
    """Leave out ``Replace with`` in front of a heading: where only replacements are listed, they are the list."""
    if strength and tokens and tokens[0].sort is Sort.REPLACED:
        return [token for token in tokens[1:] if token.sort is not Sort.WORD or token.what not in {"with", "by", "mit"}]
    return tokens


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a line stands: over a record, or first of all."""

    stands_over: bool
    opens: bool


def _named(line: Marked, tokens: Sequence[Token], sets: Context, stands: Standing, *, bare: bool) -> Judged:
    """Return whether a short line names a board, or only the list or the set."""
    folded = {fold(token.text) for token in tokens if token.sort is Sort.WORD}
    title = bool(folded & words.TITLE_WORDS) or any(word.endswith(("liste", "listen", "lijst")) for word in folded)
    noun = any(is_noun(word, words.BOARD_NOUNS) for word in folded)
    title = title or (bool(folded & (words.SECTION_WORDS | words.WORN)) and not noun)
    nouns = STRONG_NOUNS - _SEVERAL if title else STRONG_NOUNS
    numbered = {_NUMBERED.sub("", word) for word in re.findall(r"[^\W_]+", fold(line.text)) if _NUMBERED.search(word)}
    strong = bool(numbered & nouns) or any(is_noun(word, nouns) for word in folded)
    if line.strength == 2 and (line.level or 0) > 1 and _VERSION.fullmatch(line.text):  # noqa: PLR2004 - unmistakable
        return Judged(Heading(replace(sets, board=line.text), line.level))
    if (title or (stands.opens and not form_headings.names_side(line.text))) and not strong:
        if sets == NOWHERE and not line.level:
            return Judged(None, is_title=True)
        whole = stands.opens and _OF_WHOLE.search(line.text) is not None
        return Judged(Heading(sets, line.level, general=whole), is_title=True)
    counted = bool(tokens) and tokens[0].sort is Sort.COUNT  # ``1x relay 24V``
    if counted or form_headings.heads_totals(line.text) or (not line.strength and _PURPOSE.match(line.text)):
        return Judged(None)
    named = board_name(line.text, tokens)
    said = (noun and line.strength and _is_name(named)) or _is_name(line.text)  # ``On the front panel:``
    if strong or ((noun or line.strength or stands.stands_over) and said):
        board = named or (line.text if noun and bare else "")
        if re.search(r"[^\W\d_]", board):
            return Judged(Heading(replace(sets, board=board), line.level))
    states = line.strength and sets != NOWHERE and other_parts.names_capacitor(line.text)
    return Judged(Heading(sets, line.level) if states else None)


_OF_WHOLE: Final = compiled(r"\b(?:only|all|nur|alle|seulement|solo|tutti|todos|alleen)\b", re.IGNORECASE)
"""In a title one of these says that what it states holds for the whole list: ``electrolytics only``."""
STRONG_NOUNS: Final = words.folded(
    "board boards pcb psu smps platine leiterplatte netzteil netzplatine hauptplatine carte alimentation scheda "
    "alimentatore placa fuente printplaat "
    "mainboard motherboard voeding supply unit section card stage endstufe alimentatore subboard sub-board "
    "daughterboard module modul baugruppe płytka płyta deska doska плата πλακετα kretskort kortti "
    "alimentação zasilacz tápegység nätdel strømforsyning virtalähde zdroj блок питания"
)


_NUMBERED: Final = compiled(r"(?<=[a-z])\d{1,3}[a-z]?$")
"""``PCB2``: one of several boards."""
_STAGES: Final = STRONG_NOUNS | frozenset("deflection output oscillator circuit sweep".split())
"""Beside one of these ``vertical`` is what a stage of a set does, and no way to stand."""
_SEVERAL: Final = frozenset("boards pcbs platinen cartes schede placas printen".split())
"""In a title these only say how many there are: ``Recap kit for the synth (2 boards)``."""
_VERSION: Final = compiled(r"(?:rev(?:ision)?|ver(?:sion)?|issue|variante?|type)\b\.?\s?[\w./-]{1,12}", re.IGNORECASE)
"""A heading that is nothing but this names one of several boards (``Rev. 5``, ``Rev. 6A``)."""


_PURPOSE: Final = compiled(r"(?:for|für|pour|per|para|voor)\s", re.IGNORECASE)
"""An unmarked line that begins so tells what the list is for: ``for the big receiver (psu and tone board)``."""


def _is_name(text: str) -> bool:
    """Tell whether a text is one or two words beginning with capitals: ``Playback``, ``Left channel``."""
    folded = [fold(word) for word in re.findall(r"[^\W_]+", text)]
    return (
        re.fullmatch(r"[\wÄÖÜÉÈ][\w/.&+-]{0,20}(?:\s[\w/.&+()-]{1,20}){0,2}", text) is not None
        and not (set(folded) & _FUNCTION_WORDS or form_headings.is_resistor(text))
    )


_ALONE: Final = frozenset(fold(word) for word in words.ALONE)
_QUALIFIERS: Final = frozenset(
    "first then last mostly some few several many except zuerst meist einige d'abord primero prima eerst".split()
)
"""With one of these a heading speaks of a part of the list only, and states nothing."""
_FUNCTION_WORDS: Final = frozenset(
    "the a an for on of in at to across these those this here there no not so from with und der die das fur mit "
    "le la les pour sur il lo per el los para de het een voor "
    "replaced already done careful hope only optional missing es fehlen fehlt noch still forgot forgotten vergessen "
    "manquent encore mancano ancora faltan faltam ontbreken "
    "left right note notes comment comments mods modifications corrections errata edit update thanks hi hello ok total "
    "tools links link step steps sources".split()
) - {"left", "right"}


def is_rest(line: Marked) -> bool:
    """Tell whether a heading is of the parts that those above it don't speak of (``Others``, ``Other caps, 16 V``)."""
    tokens = tokenise(line.text)
    told = {token.what for token in tokens if token.sort is Sort.WORD}
    return len(line.text) <= LONGEST_HEADING and bool(told & words.REST) and not _left_words(tokens)


def _left_words(tokens: Sequence[Token]) -> list[str]:
    left = []
    for token in tokens:
        if token.sort in {Sort.WORD, Sort.CODE, Sort.NUMBER, Sort.OTHER_REF, Sort.ROLE}:
            if fold(token.text) not in words.NEUTRAL:
                left.append(token.text)
        elif token.sort in {Sort.ASIDE, Sort.DATE, Sort.COUNT}:
            left.append(token.text)
    return left


_UNLESS: Final = compiled(
    r"\bunless\s+(?:(?:otherwise|else)\s+)?(?:noted|stated|marked|specified|indicated|shown|listed|mentioned)(?:\s+otherwise)?\b"
    r"|[\s,]*\b(?:unless|except|sauf|sofern|soweit|(?:wenn|falls)\s+nicht|salvo|eccetto|excepto|tenzij|behalve)\b[^()]{0,60}(?=\)?[.\s]*$)",
    re.IGNORECASE,
)
"""Says that something holds for all the rest, and weighs nothing."""


def _hedges(token: Token) -> bool:
    return token.sort is Sort.WORD and token.what in words.HEDGES - _VERSIONS


def _names_stage(told: Sequence[Token], at: int) -> bool:
    """Tell whether ``AM`` or ``IF`` is a stage of a receiver: beside another one, or in capitals before a board."""
    token, beside = told[at], [*told[max(0, at - 1) : at], *told[at + 1 : at + 2]]
    if token.what not in _STAGES_AND_WORDS:
        return False
    if any(other.what in _BANDS for other in beside):
        return True
    first = at == 0 or told[at - 1].sort is not Sort.WORD
    return token.text.isupper() and first and at + 1 < len(told) and told[at + 1].what in _OF_STAGES


_STAGES_AND_WORDS: Final = frozenset(("am", "if"))
"""Stages of a receiver that are English words, too."""
_BANDS: Final = frozenset("am fm if rf mw lw sw hf zf ukw vhf uhf mpx osc oscillator tuner".split())
_OF_STAGES: Final = words.BOARD_NOUNS | {"strip", "can", "transformer", "amp", "section", "tuner"}


def _is_sentence(text: str, tokens: Sequence[Token]) -> bool:
    told = [token for token in tokens if token.sort is not Sort.MARK]
    plain = [token for at, token in enumerate(told) if not _names_stage(told, at)]
    hedges = sum(_hedges(token) and not (token is tokens[0] and is_stage(token, tokens[1:2])) for token in plain)
    verbs = sum(1 for token in plain if token.sort is Sort.WORD and token.what in _VERBS)
    if text.count("(") != text.count(")"):
        return True  # a piece of a paragraph
    ended = text.rstrip().endswith((".", "!", "?")) and not re.search(
        r"\b(?:rev|ver|no|nr|bd|pcb)\.$", text.rstrip(), re.IGNORECASE
    )
    return hedges + verbs > 0 or bool(ended) or re.search(r"\w{4,}\. [A-Z]", text) is not None


_VERSIONS: Final = frozenset(
    "rev revision revisions version versions model models variant early later original".split()
)
_PLACE: Final = compiled(
    r"\b(?:on|from|of|for|auf|sur|su|op)\s+(?:the|my|our|this|der|dem|la|le|il|het"
    r"|de)?\s*(?P<name>(?:[\w-]+\s){0,2}"
    r"(?:board|pcb|psu|supply|module|panel|deck|card|platine|carte|scheda|print))\b",
    re.IGNORECASE,
)


def _named_in_prose(text: str) -> str | None:
    """Return the board a sentence names that leads to a list (``the ones on the display board are:``)."""
    match = _PLACE.search(text)
    return match["name"].strip() if match else None


_VERBS: Final = frozenset(
    "is are am have has had do does did will would please thanks thank hi hello i we you they it he my your "
    "found find adds added contains need needs get got buy bought look looks see seen try "
    "tried measured measure test tested works work make sure remember read click sign login reply quote wrote "
    "says said posted ist sind habe hat ich wir sie bitte danke hallo "
    "j'ai nous vous est sont ho abbiamo sono grazie ciao tengo hola gracias ik heb wij zijn dank hoi".split()
) - {"are", "is", "ist", "sind", "est", "sont", "sono", "zijn"}


def says(heading: Heading) -> str:
    """Return what a heading sets, in words."""
    parts = []
    for name in Context.__dataclass_fields__:
        value = getattr(heading.sets, name)
        if name == "others" and value is not None:
            parts.append("other parts below" if value else "capacitors below")
        elif name == "stays" and value is not None:
            parts.append("parts below are to stay" if value else "parts below are to be done")
        elif value is not None:
            unit = {"temp_C": " °C", "volts": " V", "pitch_mm": " mm"}.get(name, "")
            parts.append(f"{name.removesuffix('_C').removesuffix('_mm')} {value}{unit}")
    return "sets " + ", ".join(parts) if parts else "a heading that sets nothing"
