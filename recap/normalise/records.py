"""The tokens of a line to drafts: where one record ends and the next begins, what is original and what a suggestion.

A line that begins with a designator is ref-first: each further designator behind a value opens a new
record. A line that begins with a value is value-first: the designators behind it belong to it.
"""

from __future__ import annotations

import re
from itertools import dropwhile, pairwise
from typing import TYPE_CHECKING, Final

from recap.model import Role
from recap.normalise import (
    asides,
    bare_records,
    chip_sizes,
    number_words,
    other_editions,
    rails,
    record_doubts,
    record_measured,
    record_numbers,
    record_places,
    record_shared,
    record_tails,
    record_text,
    torn_numbers,
    words,
)
from recap.normalise.fields import Draft, take
from recap.normalise.record_line import Line
from recap.normalise.remarks import (
    hear_number,
    read_remark,
    tunes,
    without_denials,
    without_limit,
    without_neighbours,
    without_or_more,
)
from recap.normalise.style import PLAIN, Style
from recap.normalise.tokens import Sort, Token, sorts, tokenise

if TYPE_CHECKING:
    from collections.abc import Sequence

VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))
RATINGS: Final = VALUES | {Sort.VOLTS}
FIELDS: Final = RATINGS | {Sort.TEMP, Sort.SIZE, Sort.KIND, Sort.MOUNT, Sort.SAFETY, Sort.COUNT}
_BEGINNING: Final = VALUES | {Sort.REFS, Sort.COUNT}
"""What a record may begin with."""
_FIRST: Final = _BEGINNING | {Sort.OTHER_REF}
_JOINING: Final = frozenset(",;/&+()[]")


def take_apart(text: str, *, style: Style = PLAIN) -> Line:
    """Return the drafts of one line of text (clean, single-spaced, without bullet).

    Read once with bare numbers behind designators as designators (``C3, 7``) and, where no value is
    left then, again with them as numbers.
    """
    text = record_text.prepared(text)
    if (bare := bare_records.read(text, style)) is not None:
        return _apart(text, bare, style)
    line = _apart(text, tokenise(text, style=style), style)
    may_be_values = any(draft.bare_refs and not _counts_up(draft) for draft in line.drafts)
    if line.has_refs and not line.has_values and may_be_values:
        again = _apart(text, tokenise(text, strict=True, style=style), style)
        if again.has_values or any(draft.has_value for draft in again.drafts):
            return again
    return line


def _counts_up(draft: Draft) -> bool:
    """Tell whether several bare numbers behind a designator can only go on with it (``C203, 204, 205``)."""
    numbers = [int(re.sub(r"\D", "", ref) or 0) for ref in draft.refs]
    alike = len({len(str(number)) for number in numbers}) == 1 and numbers[0] >= SMALLEST
    whole = draft.bare_refs > 1 and alike and "range-shortened" not in draft.doubts
    return whole and all(a < b for a, b in pairwise(numbers))


SMALLEST: Final = 100
"""Smaller numbers may be values and voltages."""


def _apart(text: str, tokens: list[Token], style: Style) -> Line:
    tokens = chip_sizes.without_packages(tokens)
    line = Line()
    there = sorts(tokens)
    line.has_refs = Sort.REFS in there
    line.has_values = not VALUES.isdisjoint(there)
    line.unread = record_text.says_unread(text)
    _survey(line, tokens)
    groups = _groups(tokens, line)
    for group in groups:
        line.drafts.append(_draft(group, text, style))
    if groups:
        record_shared.lead(line.drafts, groups[0])
        record_shared.share(line.drafts, groups[-1])
        record_shared.excepted(line.drafts, text)
    return line


_IN_FRONT: Final = words.NEUTRAL | words.ADDING
"""``oh and C17 0.1``."""


def _survey(line: Line, tokens: Sequence[Token]) -> None:
    """Count what is not of a record: words before it, words in all, hedges."""
    begun = valued = False
    told = [token for token in tokens[:8] if token.text not in "-:=,|"]
    told = list(dropwhile(lambda token: token.sort is Sort.WORD and token.what in _IN_FRONT, told))
    line.valued = len(told) > 1 and told[0].sort is Sort.REFS and told[1].sort is Sort.NUMBER
    for at, token in enumerate(tokens):
        if token.sort is Sort.REFS and not begun:
            line.adds = at > 0 and tokens[at - 1].what in words.ADDING
        if valued and token.text == "(":
            break  # what stands in brackets behind a record is a remark
        begun = begun or token.sort in _BEGINNING or token.sort is Sort.DITTO
        valued = valued or token.sort in VALUES
        if token.sort is not Sort.WORD or token.what in words.NEUTRAL:
            continue
        line.chatter += 1
        behind = tokens[at + 1 : at + 2]
        hedges = token.what in words.HEDGES and not record_places.is_stage(token, behind)
        hedges = hedges and not (token.what in words.ADDING and Sort.REFS in sorts(behind))
        line.hedged = line.hedged or hedges
        if not begun:
            line.lead.append(token.text)


def _groups(tokens: Sequence[Token], line: Line) -> list[list[Token]]:
    """Cut the tokens into records; the parts of other components go to ``line.foreign``."""
    first = next((t for t in tokens if t.sort in _FIRST), None)
    opening = next((t for t in tokens if t.sort is not Sort.MARK), None)
    line.foreign_first = opening is not None and opening.sort is Sort.OTHER_REF
    line.refs_first = first is not None and first.sort in {Sort.REFS, Sort.OTHER_REF}
    groups: list[list[Token]] = [[]]
    foreign: list[Token] = []
    in_foreign = False
    for i, token in enumerate(tokens):
        if token.sort is Sort.OTHER_REF and VALUES.isdisjoint(sorts(groups[-1])):
            in_foreign = not _is_beside(groups[-1])
        elif token.sort is Sort.REFS and in_foreign:
            in_foreign = False
        if in_foreign:
            foreign.append(token)
            continue
        if token.sort is Sort.REFS and (
            _is_mention(groups[-1], refs_first=line.refs_first) or _is_spoken_of(groups[-1], tokens[i + 1 :])
        ):
            doubts = ("ref-unread",) if record_places.perhaps_joined(groups[-1]) else token.doubts
            token = token._replace(sort=Sort.WORD, what=token.text, doubts=doubts)  # noqa: PLW2901
        elif (
            token.sort in _BEGINNING
            and not record_places.only_frees(groups[-1])  # ``DNP: C9 10uF``
            and _opens(token, groups[-1], tokens[i + 1 :], refs_first=line.refs_first)
        ):
            groups.append([])
        elif record_tails.rates_further(token, groups[-1], tokens[i + 1 :]):  # ``1uF: 50V C1; 100V C9``
            groups.append([t for t in groups[-1] if t.sort is Sort.CAP])
        groups[-1].append(token)
    line.foreign = " ".join(token.text.strip() for token in foreign)
    return [group for group in groups if sorts(group) - {Sort.MARK}]


def _is_beside(group: Sequence[Token]) -> bool:
    """Tell whether another part's designator behind ``group`` only says where the part is (``C6 near D5 100uF``)."""
    return Sort.REFS in sorts(group) and group[-1].sort is Sort.WORD and group[-1].what in words.BESIDE | {"of"}


def _is_mention(group: Sequence[Token], *, refs_first: bool) -> bool:
    """Tell whether a designator behind ``group`` is only spoken of (``was C14 in rev A``, ``see C41``)."""
    cue = next((t for t in reversed(group) if t.sort is not Sort.MARK and t.what not in {"of", "the"}), None)
    there = sorts(group)
    if cue is None or Sort.REFS not in there:
        return False
    if cue.sort is Sort.LIKE:
        return not VALUES.isdisjoint(there)
    if cue.sort is Sort.ORIGINAL:
        return True
    if group[-1].text in {",", ";"}:
        return False
    named = cue.sort is Sort.WORD and cue.what not in words.NEUTRAL
    return refs_first and named and VALUES.isdisjoint(there)


def _is_spoken_of(group: Sequence[Token], rest: Sequence[Token]) -> bool:
    """Tell whether designators behind a whole record are only spoken of: ``(this is C531 on early sets)``.

    No value stands behind them, and a word in front of them says so, or a bracket that goes on in words.
    """
    there = sorts(group)
    if VALUES.isdisjoint(there) or Sort.REFS not in there or not _TOLD.isdisjoint(sorts(rest)):
        return False
    cue = next((t for t in reversed(group) if t.sort is not Sort.MARK or t.text in "()"), None)
    if cue is None or cue.text != "(":
        said = set() if cue is None or cue.sort is not Sort.WORD else {cue.what}
        beside = said <= _TOGETHER and any(t.sort is Sort.WORD and t.what in words.PARALLEL for t in group)
        return bool(said) and (beside or not said.isdisjoint(words.MENTIONING))
    return bool(rest) and rest[0].sort is Sort.WORD and rest[0].what in _PLACING


_TOLD: Final = VALUES | {Sort.DITTO, Sort.NOT_FITTED, Sort.REFS}
_TOGETHER: Final = frozenset("with to mit zu avec con met".split())
_PLACING: Final = frozenset("on in at for auf bei im in sur dans su in en op sur nei nel i på na".split())


def _opens(token: Token, group: Sequence[Token], rest: Sequence[Token], *, refs_first: bool) -> bool:
    """Tell whether ``token`` begins a new record behind ``group``."""
    there = sorts(group)
    if refs_first:
        # further designators open a record if a value follows that is theirs
        ended = Sort.REFS in there and group[-1].text == ";"
        unknown = Sort.VOLTS in there and (ended or any(t.text == "?" for t in group))
        if token.sort is not Sort.REFS or (_STATING.isdisjoint(there) and not unknown):
            return False
        return not VALUES.isdisjoint(there) or not _STATING.isdisjoint(sorts(rest))
    if token.sort is Sort.REFS or VALUES.isdisjoint(there):
        return False
    if token.sort is Sort.COUNT:
        return bool(rest) and rest[0].sort in VALUES
    if Sort.REFS in there or record_tails.says_again(group, token, rest):
        return Sort.REFS in sorts(rest)  # without designators of its own it is a remark
    # ``10uF 16V, 22uF 25V``: each has its voltage or its count, and a separator stands between
    return not _RATED.isdisjoint(there) and group[-1].text in {",", ";", "/", "+", "&"}


_STATING: Final = VALUES | {Sort.DITTO, Sort.NUMBER, Sort.NOT_FITTED}
_RATED: Final = frozenset((Sort.COUNT, Sort.VOLTS, Sort.PAIR))


def _draft(tokens: list[Token], text: str, style: Style) -> Draft:
    draft = Draft(unit=style.unit)
    tokens = number_words.dozens(tokens)
    tokens = torn_numbers.joined(record_places.named_behind(tokens), text)
    record_places.stray_designators(tokens, draft)
    if (loose := number_words.loosely(tokens)) is not None:
        draft.doubt("marked-uncertain", f"{loose!r} is no count")
    if (last := number_words.at_the_end(tokens)) is not None:
        tokens = [t._replace(sort=Sort.COUNT, what=int(t.text)) if t is last else t for t in tokens]
        draft.doubt("number-unread", f"{last.text!r} is read as the count")
    if last is None and (spelt := number_words.beside(tokens)) is not None:
        tokens = [t._replace(sort=Sort.COUNT, what=number_words.NUMBERS[t.what]) if t is spelt else t for t in tokens]
        draft.doubt("number-unread", f"{spelt.text!r} is read as the count")
    if (manifold := number_words.sections(tokens)) is not None:
        draft.doubt("remark-unclear", f"{manifold!r}: perhaps a can of several sections; write them as 20+20 µF")
    tokens = without_or_more(without_denials(without_neighbours(record_numbers.counted(number_words.counted(tokens)))))
    tokens = rails.without(_alike(without_limit(tokens), draft), draft)
    tokens = record_tails.without_parallel(record_tails.cut(tokens, text, draft), draft)
    body, remark, suggestion = _parts(tokens, text)
    if suggestion and Sort.REFS not in sorts(body):  # ``replaced the 10uF with a film capacitor (C203, C204)``
        body += [token for token in tokens if token.sort is Sort.REFS]
    body = record_measured.unmeasured(_original(body, draft, remark), draft)
    take(draft, body)
    draft.notes += asides.said(body, text)
    if remark:
        _hear(draft, remark)
        if not draft.refs and Sort.REFS in sorts(tokens):
            draft.doubt("ref-unread", "designators stand behind a remark")
    draft.suggestion = "; ".join(said for said in (draft.suggestion, suggestion) if said)
    if draft.suggestion and draft.doubts.get("original-unclear") == _ONLY_WAS:
        del draft.doubts["original-unclear"]  # ``was 100uF, now 220uF``
    record_doubts.weigh(draft, tokens, text)
    torn_numbers.doubt_numbers(draft, tokens)
    torn_numbers.doubt_spoilt(draft, text[tokens[0].start : tokens[-1].end] if tokens else "")
    _hear_whole(draft, text[tokens[0].start : tokens[-1].end] if tokens else "")
    if draft.not_fitted and record_places.free_on_a_condition(tokens):
        draft.not_fitted = False
        draft.doubt("fitted-sometimes", text)
    record_numbers.settle(draft, tokens, text)
    if style.bare_pitch:
        record_numbers.take_pitch(draft)
    uncounted = not draft.refs and not draft.counts  # then a number may well be the count
    if draft.numbers and (uncounted or not draft.notes) and not draft.dittos:
        draft.doubt("number-unread", ", ".join(repr(token.text) for token in draft.numbers))
    return draft


def _alike(tokens: list[Token], draft: Draft) -> list[Token]:
    """Take out ``wie C303`` and keep which record is meant."""
    for at in range(1, len(tokens) - 1) if Sort.LIKE in sorts(tokens) else ():
        if (
            tokens[at].sort is Sort.LIKE
            and tokens[at + 1].sort is Sort.REFS
            and any(t.sort is Sort.REFS for t in tokens[:at])
        ):
            if tokens[at].text.strip() == "=" and any(t.sort in VALUES for t in tokens):
                return _alike(tokens[:at] + tokens[at + 1 :], draft)  # ``C7 = C8 = 10uF``: an enumeration
            draft.like = tokens[at + 1].what.refs[0]
            return tokens[:at] + tokens[at + 2 :]
    return tokens


def _hear_whole(draft: Draft, said: str) -> None:
    """Take from the whole record what its words say, wherever they stand."""
    hear_number(draft, said)
    if tunes(said):
        draft.roles.insert(0, Role.DEFLECTION)
    if (other := other_editions.counts_otherwise(said)) is not None:
        draft.doubt("count-mismatch", f"{other!r} is said of other sets")


def _hear(draft: Draft, remark: str) -> None:
    """Take a remark behind the record; where it names another value the position is doubted."""
    tokens = tokenise(remark, refs_seen=True)
    read_remark(draft, remark)
    tokens = tokens[: next((i for i, token in enumerate(tokens) if token.sort is Sort.REPLACED), None)]
    tokens = rails.without(tokens, draft, rated=bool(draft.volts))
    if not RATINGS.isdisjoint(sorts(tokens)) and not other_editions.only_weighs(tokens):
        draft.doubt("remark-unclear", remark)


def _parts(tokens: list[Token], text: str) -> tuple[list[Token], str, str]:
    """Part a record into its body, the remark behind it, and what is suggested as a replacement."""
    met = False
    cue = False
    run = 0
    for i, token in enumerate(tokens):
        met = met or token.sort in VALUES
        if met and ((token.text == "(" and record_tails.is_aside(tokens[i:])) or other_editions.begins(tokens, i)):
            return tokens[:i], asides.text_of(tokens[i:], text), ""
        if token.sort is Sort.REPLACED:
            was = any(earlier.sort is Sort.ORIGINAL for earlier in tokens[:i])
            if (met or was) and _names_something(tokens[i + 1 :]):
                end = record_tails.bracket_end(tokens, i)
                return tokens[:i] + tokens[end:], "", asides.text_of(tokens[i + 1 : end], text)
            cue = True
        elif token.sort is Sort.WORD:
            if cue and met and token.what in {"with", "by", "mit", "durch", "par", "con", "door", "to"}:
                return tokens[:i], "", asides.text_of(tokens[i + 1 :], text)
            if token.what in words.HEDGES or token.what not in words.NEUTRAL:
                run += 1
            if met and (token.what in words.HEDGES or run >= 4):  # noqa: PLR2004 - so many words make a sentence
                start = _run_start(tokens, i)
                end = record_tails.bracket_end(tokens, start)
                return tokens[:start] + tokens[end:], asides.text_of(tokens[start:end], text), ""
        elif token.sort is not Sort.MARK:
            run = 0
    return tokens, "", ""


def _run_start(tokens: Sequence[Token], at: int) -> int:
    """Return where the words that lead up to ``at`` begin."""
    while at > 0 and tokens[at - 1].sort in {Sort.WORD, Sort.MARK, Sort.ROLE}:
        at -= 1
    return at


def _names_something(tokens: Sequence[Token]) -> bool:
    return any(token.sort in FIELDS | {Sort.CODE, Sort.NUMBER} for token in tokens)


_STATED_TWICE: Final = frozenset((Sort.VOLTS, Sort.KIND, Sort.TEMP, Sort.SIZE))
"""What the line says of the new part and of the old one is the old one's: ``1uF film (was 1uF 50V electrolytic)``."""
_ONLY_WAS: Final = "the line says what the part was, not what it is"


def _original(tokens: list[Token], draft: Draft, said: str) -> list[Token]:
    """Where the line says what it was originally, that is the position; what stands before is the suggestion."""
    if Sort.ORIGINAL not in sorts(tokens):
        return tokens
    at = next(i for i, token in enumerate(tokens) if token.sort is Sort.ORIGINAL)
    before, behind = tokens[:at], tokens[at + 1 :]
    if RATINGS.isdisjoint(sorts(behind)):
        return [token for token in tokens if token.sort is not Sort.ORIGINAL]
    if RATINGS.isdisjoint(sorts(before)):
        if tokens[at].text.casefold().strip(" :=") in {"was", "were"} and Sort.REFS in sorts(before):
            draft.doubt("original-unclear", _ONLY_WAS)
        return before + behind
    if other_editions.names_another(behind, said) and not any(token.sort is Sort.ORIGINAL for token in behind):
        remark = " ".join(t.text for t in tokens[at:]).strip()
        draft.notes.append(remark)
        draft.doubt("original-unclear", f"{remark!r} is taken for another edition's")
        return before
    if record_measured.was_measured(before, behind):
        draft.notes.append("was: " + " ".join(t.text for t in behind))
        draft.doubt("original-unclear", "what it was reads like a meter's display")
        return before
    given = {t.sort for t in behind}
    replaced = VALUES if given & VALUES else frozenset((Sort.VOLTS,))
    replaced |= given & _STATED_TWICE
    kept = [t for t in before if t.sort not in replaced]
    now = [t.text for t in before if t not in kept]
    draft.notes.append("now: " + " ".join(now))
    if tokens[at].text.casefold().strip(" :=") in {"was", "were"}:
        draft.doubt("original-unclear", f"read as originally {' '.join(t.text for t in behind if t.sort in FIELDS)}")
    return kept + behind
