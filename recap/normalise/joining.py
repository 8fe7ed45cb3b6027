"""Records that run over several lines: designators that wait for their value, a value for its designators.

Also lists that stand upright, a line for each field.
"""

from __future__ import annotations

import copy
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from recap.normalise.fields import PLAIN_MARKS, Draft, take
from recap.normalise.labelled import without_name
from recap.normalise.remarks import read_remark
from recap.normalise.tokens import Sort, sorts, tokenise

if TYPE_CHECKING:
    from recap.normalise.finishing import Finisher
    from recap.normalise.record_line import Line

_CONTINUES: Final = re.compile(r"(?:[,;/&+]|(?<=\w)-)\s*$")
"""A dash apart from the designators says that nothing stands behind it: ``C9 -``."""
_SPOILT_VALUE: Final = re.compile(r"(?:[uµnp]F|mfd)$", re.IGNORECASE)
"""``A7uF``: a value that can't be read, and no part number."""
ATTRIBUTES: Final = frozenset((Sort.VOLTS, Sort.TEMP, Sort.SIZE, Sort.KIND, Sort.MOUNT, Sort.SAFETY))


def holds_attributes(text: str) -> bool:
    """Tell whether a line is nothing but voltages, sizes and words for kind and mount, and no heading."""
    tokens = [token for token in tokenise(text, refs_seen=True) if token.text not in PLAIN_MARKS]
    if len(tokens) > 1 and tokens[-1].sort is Sort.CODE:
        tokens.pop()  # the part number at the end of the column
    return not text.endswith(":") and all(token.sort in ATTRIBUTES for token in tokens)


MOST_TOKENS: Final = 6
"""A remark in a field of its own has no more."""


def _is_remark(text: str) -> bool:
    """Tell whether a line says of what sort a part is, in a few words and beside others: ``film, leave``."""
    tokens = [token for token in tokenise(text, refs_seen=True) if token.text not in PLAIN_MARKS]
    there = sorts(tokens)
    return len(tokens) <= MOST_TOKENS and bool(there & ATTRIBUTES) and there <= ATTRIBUTES | {Sort.WORD}


@dataclass(slots=True)
class Pending:
    """Designators still without a value, or a value still without designators, and their rows."""

    draft: Draft
    rows: list[int]
    text: str
    continues: bool = False
    stands: bool = False
    """Its fields stand below each other, its designators first."""
    shares: list[tuple[int, str, int]] = field(default_factory=list)
    """Row, text and number of designators of each line that the next one goes on with."""


@dataclass(slots=True)
class Headed:
    """A heading that is nothing but a value (``## 10 µF 25 V``): that of the designators alone below it."""

    draft: Draft
    row: int
    text: str
    used: bool = False


def _is_lone(draft: Draft) -> bool:
    """Tell whether a draft has nothing but designators."""
    said = draft.like or draft.dittos or draft.not_fitted or draft.volts or draft.words
    return bool(draft.refs) and not draft.has_value and not said and not any(map(_SPOILT_VALUE.search, draft.codes))


def _is_severed(line: Line) -> bool:
    """Tell whether a line of whole records ends in a designator whose value stands on the next: ``C1 1uF 50V C2``."""
    whole = line.refs_first and len(line.drafts) > 1 and all(draft.has_value for draft in line.drafts[:-1])
    return whole and _is_lone(line.drafts[-1])


@dataclass(slots=True)
class Joiner:
    """Holds back what may go on in the next line, and hands records on when they are whole."""

    finisher: Finisher
    last_continues: bool = False
    value_first: bool = False
    refs_waiting: Pending | None = None
    value_waiting: Pending | None = None
    upright: Pending | None = None
    heading: Headed | None = None
    enumerated: int = 0
    """Designators since the value they belong to."""
    held: list[tuple[int, str, Draft]] = field(default_factory=list)
    """An enumeration over several lines whose count stands on the first of them."""

    def record(self, row: int, text: str, line: Line, *, indented: bool) -> None:
        """Take the records of one line: finish them, or hold back what a later line completes."""
        if self._under_heading(row, text, line):
            return
        if len(line.drafts) == 1 and self._waits(row, text, line, indented=indented):
            return
        self._joined(text, line)
        self.flush()
        short = len(line.drafts) == 1 and _is_short(line.drafts[0])
        continues = bool(_CONTINUES.search(text)) or (short and _COMMA_LEFT.search(text) is not None)
        severed = line.drafts.pop() if _is_severed(line) else None
        for draft in line.drafts:
            self.enumerated = len(draft.refs)
            if continues and short:
                self._hold(row, text, draft)
            else:
                self._finish(row, text, draft)
        self.last_continues = continues
        self.value_first = line.has_refs and line.has_values and not line.refs_first
        if severed is not None:
            self.refs_waiting = Pending(severed, [row], text)

    def head(self, row: int, text: str, draft: Draft) -> None:
        """Take a heading that is nothing but a value; where no designators stand below it, it is a record itself."""
        self.flush()
        self.heading = Headed(draft, row, text)

    def _under_heading(self, row: int, text: str, line: Line) -> bool:
        """Give designators without a value that of the heading over them; its count is of all of them."""
        if self.heading is None:
            return False
        own = any(not d.refs or d.has_value or d.like or d.dittos or d.not_fitted for d in line.drafts)
        if own:
            return False
        for draft in line.drafts:
            counted = draft.counts
            joined = _with_refs(self.heading.draft, draft)
            joined.words = [*joined.words, *draft.words]
            if not self.heading.used:
                self.finisher.ledger.with_row([self.heading.row])
                self.heading.used = True
            whole = f"{self.heading.text} / {text}"
            if self.heading.draft.counts and not counted:
                joined.counts = self.heading.draft.counts
                self._hold(row, whole, joined)
            else:
                self._finish(row, whole, joined)
        return True

    def pause(self) -> None:
        """Take a blank line: it ends what waits for a line, but not what a heading says, nor what isn't all counted."""
        if self.heading is None and not (self.held and self.last_continues):
            self.flush()

    def _waits(self, row: int, text: str, line: Line, *, indented: bool) -> bool:
        """Keep designators without a value, or a value without designators, for the line they belong to."""
        draft = line.drafts[0]
        if _is_lone(draft):
            return self._lone_refs(row, text, draft, indented=indented)
        if draft.has_value and not draft.refs and not draft.counts:
            if self.refs_waiting is not None and not self.refs_waiting.continues:
                waiting, self.refs_waiting = self.refs_waiting, None
                draft.refs = waiting.draft.refs
                draft.marks = [*waiting.draft.marks, *draft.marks]
                draft.counts = [*waiting.draft.counts, *draft.counts]
                draft.kinds = [*waiting.draft.kinds, *draft.kinds]
                draft.mounts = [*waiting.draft.mounts, *draft.mounts]
                self.finisher.ledger.with_row([row])
                self.upright = Pending(draft, waiting.rows, f"{waiting.text} / {text}", stands=True)
                return True
            self.flush()
            self.value_waiting = Pending(draft, [row], text)
            return True
        return False

    def _lone_refs(self, row: int, text: str, draft: Draft, *, indented: bool) -> bool:
        continues = bool(_CONTINUES.search(text))
        last = self.finisher.last
        above = self.value_waiting
        self._end_upright()
        if above is not None:
            self.finisher.ledger.with_row(above.rows)
            self._finish(row, f"{above.text} / {text}", _with_refs(above.draft, draft))
            above.rows = []
            return True
        if last is not None and last.refs and (self.last_continues or self.value_first):
            joined = _with_refs(last, draft)
            self.enumerated += len(draft.refs)
            if joined.counts == [self.enumerated]:
                joined.counts = []  # of all lines of the enumeration
            if not (self.last_continues or indented):
                joined.doubt("line-continued", "designators alone, read as belonging to the value above")
            value_first = self.value_first
            if self.held:
                self._hold(row, text, joined)
            else:
                self._finish(row, text, joined)
            self.last_continues, self.value_first = continues, value_first
            return True
        if self.refs_waiting is not None and self.refs_waiting.continues:
            self.refs_waiting.draft.refs.extend(draft.refs)
            self.refs_waiting.shares.append((row, text, len(draft.refs)))
            self.refs_waiting.rows.append(row)
            self.refs_waiting.text += f" {text}"
            self.refs_waiting.continues = continues
            return True
        self.flush()
        self.refs_waiting = Pending(draft, [row], text, continues, shares=[(row, text, len(draft.refs))])
        return True

    def _hold(self, row: int, text: str, draft: Draft) -> None:
        """Keep a line of an enumeration until all its designators can be counted."""
        self.held.append((row, text, draft))
        self.finisher.last = draft
        self.finisher.ledger.with_row([row])

    def _release(self) -> None:
        """Finish an enumeration that was held back; its count is of all its lines."""
        held, self.held = self.held, []
        total = sum(len(draft.refs) for _, _, draft in held)
        count = held[0][2].counts[0] if held else 0
        for row, text, draft in held:
            draft.counts = [] if count == total else [len(draft.refs)] if draft is not held[0][2] else draft.counts
            if count != total:
                draft.doubt("count-mismatch", f"{count} pieces, but {total} designators on {len(held)} lines")
            self._finish(row, text, draft)

    def _joined(self, text: str, line: Line) -> None:
        """Finish designators that wait with a comma, each on its line, with what stands behind this line's."""
        waiting = self.refs_waiting
        if waiting is None or not waiting.continues or not line.drafts or not line.drafts[0].refs:
            return
        self.refs_waiting = None
        own = line.drafts[0]
        total = len(waiting.draft.refs) + len(own.refs)
        if own.counts and own.counts != [total]:
            own.doubt("count-mismatch", f"{own.counts[0]} pieces, but {total} designators on several lines")
        own.counts = []
        at = 0
        for row, said, number in waiting.shares:
            share = copy.deepcopy(own)
            share.refs = waiting.draft.refs[at : at + number]
            share.marks = list(waiting.draft.marks)
            share.doubts |= waiting.draft.doubts
            self._finish(row, f"{said} {text}", share)
            at += number

    def _end_upright(self) -> None:
        if self.upright is not None:
            waiting, self.upright = self.upright, None
            self._finish(waiting.rows[0], waiting.text, waiting.draft)

    def begin(self, row: int, text: str, draft: Draft) -> None:
        """Hold a record back whose attributes stand on the lines below it."""
        self.flush()
        self.upright = Pending(draft, [row], text)

    def wait(self, row: int, text: str, draft: Draft) -> None:
        """Hold designators back whose value begins the next line."""
        self.flush()
        self.refs_waiting = Pending(draft, [row], text)

    def extends_upright(self, row: int, text: str) -> bool:
        """Take a line of plain attributes into the record whose fields stand on lines of their own.

        A value without designators has such lines only where they name their field (``Voltage: 25 V``).
        """
        told, name = without_name(text)
        waiting = self.upright or (self.value_waiting if name else None)
        if waiting is None:
            return False
        if waiting.stands and not text.endswith(":") and not holds_attributes(told) and _is_remark(told):
            read_remark(waiting.draft, told)
            self.finisher.ledger.with_row([row])
            return True
        if not holds_attributes(told) or text.endswith(":"):
            return False
        take(waiting.draft, tokenise(told, refs_seen=True))
        waiting.text += f" / {text}"
        self.finisher.ledger.with_row([row])
        return True

    def flush(self) -> None:
        """Finish what waits: designators without a value are doubted, a value without designators is one piece."""
        heading, self.heading = self.heading, None
        if heading is not None and not heading.used:
            self._finish(heading.row, heading.text, heading.draft)
        self._release()
        self._end_upright()
        if self.refs_waiting is not None:
            waiting, self.refs_waiting = self.refs_waiting, None
            self._finish(waiting.rows[0], waiting.text, waiting.draft)
            self.finisher.ledger.with_row(waiting.rows)
        if self.value_waiting is not None:
            waiting, self.value_waiting = self.value_waiting, None
            if waiting.rows:
                self._finish(waiting.rows[0], waiting.text, waiting.draft)

    def _finish(self, row: int, text: str, draft: Draft) -> None:
        self.finisher.finish(row, text, draft)
        self.last_continues = self.value_first = False


def _is_short(draft: Draft) -> bool:
    """Tell whether fewer designators stand on a line than it counts."""
    return bool(draft.counts) and draft.counts[0] > len(draft.refs) > 0


_COMMA_LEFT: Final = re.compile(r"(?<![A-Za-z])C[A-Z]?-?\d{1,4}[A-Za-z]?,\s+(?!C[A-Z]?-?\d)(?=\S)")
"""``26 100n C25, C26, Order no.``: the designators' cell goes on in the next line."""


def _with_refs(above: Draft, draft: Draft) -> Draft:
    joined = copy.deepcopy(above)
    for name in ("volts", "volt_texts", "kinds", "mounts", "temps", "sizes", "safety"):
        if getattr(draft, name):
            setattr(joined, name, list(getattr(draft, name)))
    joined.notes = [*joined.notes, *draft.notes]
    joined.refs, joined.marks, joined.counts = draft.refs, draft.marks, draft.counts
    joined.doubts = {
        code: said for code, said in joined.doubts.items() if not code.startswith(("ref", "range", "count"))
    }
    joined.doubts.update(draft.doubts)
    return joined
