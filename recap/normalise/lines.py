"""Free text, line by line: records, headings that hold below them, dittos, continued lines, footnotes, prose.

The reader remembers what it must between lines and nothing more; each line ends in the ledger.
"""

from __future__ import annotations

import copy
import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

from recap.model import Kind
from recap.normalise import headings, patterns
from recap.normalise.checks import check_draft
from recap.normalise.clean import Clean, clean, squeeze
from recap.normalise.fields import PLAIN_MARKS, Draft, take
from recap.normalise.ledger import Fate
from recap.normalise.positions import build
from recap.normalise.records import Line, take_apart
from recap.normalise.style import PLAIN, Style
from recap.normalise.tokens import Sort, tokenise

if TYPE_CHECKING:
    from recap.normalise.ledger import Ledger
    from recap.model import Position

_RULE: Final = re.compile(r"[\s\-=_*~+#.|:]{3,}$|[-=_]{2,}$")
_CONTINUES: Final = re.compile(r"[,;/&+-]\s*$")
MOST_LEAD_WORDS: Final = 4
MOST_WORDS: Final = 14
LONGEST_LINE: Final = 2000


@dataclass(slots=True)
class Pending:
    """Designators still without a value, or a value still without designators, and their rows."""

    draft: Draft
    rows: list[int]
    text: str
    continues: bool = False


@dataclass(slots=True)
class TextReader:
    """Reads the lines of one text in order."""

    ledger: Ledger
    style: Style = PLAIN
    stack: headings.Stack = field(default_factory=headings.Stack)
    last: Draft | None = None
    last_continues: bool = False
    value_first: bool = False
    indented: bool = False
    alone: bool = False
    """Whether a blank line stands above this one and something above that."""
    refs_waiting: Pending | None = None
    value_waiting: Pending | None = None
    upright: Pending | None = None
    footnoted: dict[str, list[int]] = field(default_factory=dict)
    by_ref: dict[str, Draft] = field(default_factory=dict)
    closing: tuple[headings.Heading, str] | None = None

    def line(self, row: int, raw: str, below: str = "") -> None:
        """Read one line; ``below`` is the next line, which may underline this one."""
        if not raw.strip():
            self.flush()
            self.ledger.blank(row)
            self.alone = bool(self.ledger.fates.keys() - {row}) and any(
                fate is not Fate.BLANK for fate in self.ledger.fates.values()
            )
            return
        if len(raw) > LONGEST_LINE:
            self._prose_or_long(row, raw)
            return
        cleaned = clean(raw)
        text = squeeze(cleaned.text)
        self.indented = raw[:1] in {" ", "\t"}
        if not text and cleaned.struck:
            self.flush()
            self.ledger.passed(row, "not-fitted", "struck through: no position", cleaned.struck)
            return
        if not text or _RULE.fullmatch(text):
            self.ledger.layout(row)
            return
        self._text(row, text, cleaned, below=below)

    def _prose_or_long(self, row: int, raw: str) -> None:
        self.flush()
        message = f"a line of {len(raw):,} characters is too long for a record and was not read"
        self.ledger.warn(row, "line-long", message, raw[:120], "put each position on a line of its own")

    def _text(self, row: int, text: str, cleaned: Clean, *, below: str) -> None:
        if self._footnote(row, text):
            return
        body = _without_bullet(text)
        line = take_apart(body, style=self.style)
        if line.foreign and not line.has_refs and line.foreign_first:
            self.flush()
            self.ledger.passed(row, "other-part", "no capacitor: passed over", text)
            return
        if not _holds_record(line):
            if self._extends_upright(row, body):
                return
            self._no_record(row, text, cleaned, line, below=below)
            return
        if self._is_remark_on_listed(line):
            self.flush()
            self.ledger.passed(row, "line-passed-over", "a remark on a part listed above: passed over", text)
            return
        if _is_prose(line):
            self.flush()
            message = "reads like prose but names a part or a value; it was not taken for a position"
            self.ledger.warn(row, "prose-names-part", message, text, "if a position is meant, put it on a line of its own")
            return
        if cleaned.struck:
            self._struck(line, cleaned)
        self._lead(body, line)
        self._record(row, text, line)

    def _is_remark_on_listed(self, line: Line) -> bool:
        """Tell whether a line only says something of designators that have their positions already (``C101 gets hot``)."""
        if line.has_values or not line.has_refs or not line.chatter or self.refs_waiting is not None:
            return False
        said = [draft for draft in line.drafts if draft.like or draft.volts or draft.dittos or draft.not_fitted or draft.counts]
        refs = {ref.upper() for draft in line.drafts for ref in draft.refs}
        return not said and refs <= self.by_ref.keys()

    def _lead(self, text: str, line: Line) -> None:
        """Lay a heading in front of the records of a line (``PSU: C1 10uF, C2 22uF``) on all of them."""
        match = _LEAD.match(text)
        if match is None:
            return
        judged = headings.judge(headings.Marked(match["lead"], 1))
        if judged.heading is None:
            return
        sets = judged.heading.sets
        if sets.board and not headings.names_board(sets.board):
            return
        for draft in line.drafts:
            draft.board = sets.board
            if sets.board and draft.notes and draft.notes[0] == match["lead"].strip():
                draft.notes.pop(0)
            for name, stated in (("mounts", sets.mount), ("kinds", sets.kind), ("temps", sets.temp_C)):
                if stated is not None and not getattr(draft, name):
                    setattr(draft, name, [stated])

    def _struck(self, line: Line, cleaned: Clean) -> None:
        for draft in line.drafts:
            if draft.refs and not draft.has_value:
                draft.not_fitted = True
            else:
                draft.doubt("struck-part", f"{cleaned.struck!r} is struck through")

    # --- records -------------------------------------------------------------------------------

    def _record(self, row: int, text: str, line: Line) -> None:
        if len(line.drafts) == 1 and self._waits(row, text, line):
            return
        drafts = self._joined(row, line)
        self.flush()
        for draft in drafts:
            self.finish(row, text, draft)
        self.last_continues = bool(_CONTINUES.search(text))
        self.value_first = line.has_refs and line.has_values and not line.refs_first

    def _waits(self, row: int, text: str, line: Line) -> bool:
        """Keep designators without a value, or a value without designators, for the line they belong to."""
        draft = line.drafts[0]
        lone_refs = draft.refs and not draft.has_value and not (draft.like or draft.dittos or draft.not_fitted or draft.volts or draft.words)
        if lone_refs:
            return self._lone_refs(row, text, draft)
        if draft.has_value and not draft.refs and not draft.counts:
            if self.refs_waiting is not None and not self.refs_waiting.continues:
                waiting, self.refs_waiting = self.refs_waiting, None
                draft.refs = waiting.draft.refs
                draft.marks = [*waiting.draft.marks, *draft.marks]
                draft.counts = [*waiting.draft.counts, *draft.counts]
                self.ledger.with_row([row])
                self.upright = Pending(draft, waiting.rows, f"{waiting.text} / {text}")
                return True
            self.flush()
            self.value_waiting = Pending(draft, [row], text)
            return True
        return False

    def _lone_refs(self, row: int, text: str, draft: Draft) -> bool:
        continues = bool(_CONTINUES.search(text))
        above = self.value_waiting
        self._end_upright()
        if above is not None:
            self.ledger.with_row(above.rows)
            self.finish(row, f"{above.text} / {text}", _with_refs(above.draft, draft))
            above.rows = []
            return True
        if self.last is not None and self.last.refs and (self.last_continues or self.value_first):
            joined = _with_refs(self.last, draft)
            if not (self.last_continues or self.indented):
                joined.doubt("line-continued", "designators alone, read as belonging to the value above")
            value_first = self.value_first
            self.finish(row, text, joined)
            self.last_continues, self.value_first = continues, value_first
            return True
        if self.refs_waiting is not None and self.refs_waiting.continues:
            self.refs_waiting.draft.refs.extend(draft.refs)
            self.refs_waiting.rows.append(row)
            self.refs_waiting.text += f" {text}"
            self.refs_waiting.continues = continues
            return True
        self.flush()
        self.refs_waiting = Pending(draft, [row], text, continues)
        return True

    def _joined(self, row: int, line: Line) -> list[Draft]:
        """Put designators that wait with a comma in front of this line's."""
        waiting = self.refs_waiting
        if waiting is not None and waiting.continues and line.drafts and line.drafts[0].refs:
            line.drafts[0].refs[:0] = waiting.draft.refs
            self.ledger.with_row(waiting.rows)
            self.refs_waiting = None
        del row
        return line.drafts

    def _end_upright(self) -> None:
        if self.upright is not None:
            waiting, self.upright = self.upright, None
            self.finish(waiting.rows[0], waiting.text, waiting.draft)

    def _extends_upright(self, row: int, text: str) -> bool:
        """Take a line of plain attributes into the record whose fields stand on lines of their own."""
        if self.upright is None:
            return False
        tokens = tokenise(text, refs_seen=True)
        if not all(token.sort in ATTRIBUTES or token.text in PLAIN_MARKS for token in tokens) or text.endswith(":"):
            return False
        take(self.upright.draft, tokens)
        self.upright.text += f" / {text}"
        self.ledger.with_row([row])
        return True

    def flush(self) -> None:
        """Finish what waits: designators without a value are doubted, a value without designators is one piece."""
        self._end_upright()
        if self.refs_waiting is not None:
            waiting, self.refs_waiting = self.refs_waiting, None
            self.finish(waiting.rows[0], waiting.text, waiting.draft)
            self.ledger.with_row(waiting.rows)
        if self.value_waiting is not None:
            waiting, self.value_waiting = self.value_waiting, None
            if waiting.rows:
                self.finish(waiting.rows[0], waiting.text, waiting.draft)

    def finish(self, row: int, text: str, draft: Draft) -> None:
        if draft.not_fitted:
            names = ", ".join(draft.refs) or "this place"
            self.ledger.passed(row, "not-fitted", f"{names}: not fitted, no position", text)
            return
        if draft.dittos or draft.like:
            self._fill(draft)
        self.by_ref.update((ref.upper(), draft) for ref in draft.refs)
        check_draft(draft)
        source = self.ledger.source(row)
        first = len(self.ledger.positions)
        self.ledger.built(row, build(draft, self.stack.context(), source, text))
        for mark in draft.marks:
            self.footnoted.setdefault(mark, []).extend(range(first, len(self.ledger.positions)))
        self.closing = None
        self.last = draft
        self.last_continues = self.value_first = False

    def _fill(self, draft: Draft) -> None:
        """Fill in for ditto marks what the record above says and this one doesn't."""
        above = self.by_ref.get(draft.like.upper()) if draft.like else self.last
        if above is None:
            draft.doubt("ditto-unclear", f"{draft.like or 'the line above'} is not known")
            return
        if not draft.has_value:
            draft.caps, draft.sections = list(above.caps), above.sections
        for name in ("volts", "temps", "kinds", "mounts", "sizes", "safety"):
            if not getattr(draft, name):
                setattr(draft, name, list(getattr(above, name)))

    # --- lines without a record ------------------------------------------------------------------

    @property
    def opens(self) -> bool:
        """Whether nothing was read so far but blank lines."""
        return not any(fate is not Fate.BLANK for fate in self.ledger.fates.values())

    def _no_record(self, row: int, text: str, cleaned: Clean, line: Line, *, below: str) -> None:
        self.flush()
        underlined = bool(_UNDERLINE.fullmatch(below.strip()))
        above_records = self.alone and _holds_values(below)
        judged = headings.judge(headings.marked(_without_ordinal(text), bold=cleaned.bold, underlined=underlined), stands_over=above_records, opens=self.opens)
        apart = re.search(r"\S\s{3,}\S", cleaned.text.strip()) is not None
        if judged.heading is not None and judged.heading.sets.board and apart:
            self.ledger.passed(row, "line-passed-over", "two things beside each other, no heading: passed over", text)
        elif judged.heading is not None:
            self.stack.push(judged.heading)
            self.closing = (judged.heading, text)
            self.ledger.heading(row, "heading-read", headings.says(judged.heading), text)
        elif judged.is_title:
            self.ledger.heading(row, "title-read", "names the list", text)
        elif line.foreign:
            self.ledger.passed(row, "other-part", "no capacitor: passed over", text)
        elif cleaned.struck:
            self.ledger.passed(row, "not-fitted", f"{cleaned.struck!r} is struck through: no position", text)
        else:
            self.ledger.passed(row, "line-passed-over", "no part stands here: passed over", text)

    def close(self) -> None:
        """Finish the text. A last line that speaks of all (``all caps 105 °C``) holds for the positions above it."""
        self.flush()
        if self.closing is None or not _ALL.search(self.closing[1]):
            return
        sets = self.closing[0].sets
        for index, position in enumerate(self.ledger.positions):
            if sets.kind is not None and position.kind not in {sets.kind, Kind.UNKNOWN}:
                continue
            self.ledger.positions[index] = replace(
                position,
                temp_C=position.temp_C if position.temp_C is not None else sets.temp_C,
                mount=position.mount or sets.mount,
            )

    def _footnote(self, row: int, text: str) -> bool:
        """Read a line that begins with a footnote mark that positions bear."""
        match = _FOOTNOTE.match(text)
        if match is None:
            return False
        mark = match["mark"] or match["figure"] or match["bracket"]
        bearers = self.footnoted.get(mark, [])
        line = take_apart(match["text"])
        if not bearers or (line.has_refs and line.has_values):
            return False
        self.flush()
        self._apply(bearers, match["text"])
        self.ledger.fates[row] = Fate.HEADING
        self.ledger.heading(row, "footnote-read", f"footnote of {len(bearers)} positions", text)
        return True

    def _apply(self, bearers: list[int], text: str) -> None:
        judged = headings.judge(headings.marked(text.strip(" =:-")))
        for index in bearers:
            position: Position = self.ledger.positions[index]
            sets = judged.heading.sets if judged.heading is not None and not judged.heading.sets.board else None
            self.ledger.positions[index] = replace(
                position,
                note="; ".join(part for part in (position.note, text) if part),
                kind=sets.kind if sets and sets.kind else position.kind,
                mount=sets.mount if sets and sets.mount else position.mount,
                temp_C=sets.temp_C if sets and sets.temp_C else position.temp_C,
            )


_LEAD: Final = re.compile(r"(?P<lead>[^\d:;=]{2,40}):\s+(?=\S)")
_ALL: Final = re.compile(r"\b(?:all|alle[ns]?|tous|toutes|tutti|todos|everything)\b", re.IGNORECASE)
_UNDERLINE: Final = re.compile(r"[-=~]{3,}")
_FOOTNOTE: Final = re.compile(r"(?:(?P<mark>\*{1,3}|[†‡§])|\[(?P<bracket>[0-9a-z])\]|\(?(?P<figure>\d)\))\s*[=:-]?\s*(?P<text>\S.*)$")


def _with_refs(above: Draft, draft: Draft) -> Draft:
    joined = copy.deepcopy(above)
    for name in ("kinds", "mounts", "temps", "sizes", "safety"):
        if getattr(draft, name):
            setattr(joined, name, list(getattr(draft, name)))
    joined.notes = [*joined.notes, *draft.notes]
    joined.refs, joined.marks, joined.counts = draft.refs, draft.marks, draft.counts
    joined.doubts = {code: said for code, said in joined.doubts.items() if not code.startswith(("ref", "range", "count"))}
    joined.doubts.update(draft.doubts)
    return joined


def _without_ordinal(text: str) -> str:
    match = patterns.ORDINAL.match(text)
    return text[match.end() :] if match is not None and match.end() < len(text) else text


def _holds_values(text: str) -> bool:
    """Tell whether a line looks like a record: a designator or a value stands in it."""
    return bool(re.search(r"\bC[A-Z]?[-_ ]?\d", text)) or bool(re.search(r"\d\s?[uµμn]F", text, re.IGNORECASE))


def _without_bullet(text: str) -> str:
    """Take a bullet or an ordinal from the line's start."""
    match = patterns.BULLET.match(text)
    if match is not None and match.end() < len(text):
        text = text[match.end() :]
    match = patterns.ORDINAL.match(text)
    return text[match.end() :] if match is not None and match.end() < len(text) else text


def _holds_record(line: Line) -> bool:
    if line.has_refs or line.has_values:
        return bool(line.drafts)
    return any(draft.dittos or draft.like or draft.not_fitted and draft.refs for draft in line.drafts)


def _is_prose(line: Line) -> bool:
    """Tell whether a line that names a part or a value is a sentence rather than a record."""
    if line.has_refs and line.has_values and line.refs_first and not line.lead:
        return False
    if line.has_refs and not line.has_values and line.lead and not any(d.not_fitted or d.like for d in line.drafts):
        return True
    if len(line.lead) > MOST_LEAD_WORDS or line.chatter > MOST_WORDS:
        return True
    if line.lead and line.hedged:
        return True
    if line.has_refs != line.has_values and line.chatter >= 3 and not any(d.counts for d in line.drafts):  # noqa: PLR2004
        return line.hedged or bool(line.lead) or line.chatter > 4 or not line.has_values  # noqa: PLR2004
    return False


ATTRIBUTES: Final = frozenset((Sort.VOLTS, Sort.TEMP, Sort.SIZE, Sort.KIND, Sort.MOUNT, Sort.SAFETY))
