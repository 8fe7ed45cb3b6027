"""Drafts to positions in the ledger: dittos filled, checks made, headings laid under, footnotes laid on."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.model import Kind
from recap.normalise import designators, heading_stack, headings, other_parts, record_numbers, value_rules
from recap.normalise.checks import check_draft
from recap.normalise.heading_marks import marked_as
from recap.normalise.heading_states import SPEAKS_OF_ALL
from recap.normalise.positions import NOWHERE, Context, build, filled

if TYPE_CHECKING:
    from recap.model import Position
    from recap.normalise.fields import Draft
    from recap.normalise.ledger import Ledger
    from recap.normalise.record_line import Line
    from recap.normalise.value_rules import ValueRule


_SENTENCES: Final = re.compile(r"(?<=[.;])\s+")
MOST_FOOTNOTES: Final = 50
"""Of one mark: a list that has more uses the sign for something else."""


LARGEST_TURNED_UF: Final = Decimal("0.002")
"""No variable capacitor of a set and no trimmer has more (common practice)."""


@dataclass(slots=True)
class Finisher:
    """Turns finished drafts into positions and remembers what later lines may point back to."""

    ledger: Ledger
    stack: heading_stack.Stack = field(default_factory=heading_stack.Stack)
    last: Draft | None = None
    by_ref: dict[str, Draft] = field(default_factory=dict)
    footnoted: dict[str, list[int]] = field(default_factory=dict)
    places: dict[str, str | None] = field(default_factory=dict)
    """The board of each designator."""
    recurring: bool = False
    """Whether a designator was met on two boards."""
    closing: tuple[heading_stack.Heading, str] | None = None
    of_kinds: list[Context] = field(default_factory=list)
    """What sentences say of all parts of one kind."""
    in_headings: list[tuple[int, str, tuple[str, ...]]] = field(default_factory=list)
    """Row, text and designators of headings that name some: ``Regulator (C1-C9)``."""
    rules: list[ValueRule] = field(default_factory=list)
    laid: Counter[str] = field(default_factory=Counter)
    """How many footnotes each mark has had."""

    def is_on_board(self, line: Line) -> bool:
        """Tell whether the designators of a line were listed on the board whose lines are read here, or nowhere."""
        board = self.stack.context().board
        return all(self.places.get(ref.upper(), board) == board for draft in line.drafts for ref in draft.refs)

    def finish(self, row: int, text: str, draft: Draft) -> None:
        """Enter the positions of one draft, or that its place is not fitted."""
        if draft.not_fitted:
            names = ", ".join(draft.refs) or "this place"
            self.ledger.passed(row, "not-fitted", f"{names}: not fitted, no position", text)
            return
        if not draft.volts and not draft.has_value and other_parts.is_adjustable(text):
            self.ledger.passed(row, "other-part", "an adjustable capacitor: passed over", text)
            return
        if self.stack.context().others and not _is_capacitors(draft) and not other_parts.names_capacitor(text):
            self._under_others(row, text)
            return
        if draft.dittos or draft.like:
            self._fill(draft)
        board = draft.board or self.stack.context().board
        self.recurring = self.recurring or any(self.places.get(ref.upper(), board) != board for ref in draft.refs)
        self.by_ref.update((ref.upper(), draft) for ref in draft.refs)
        self.places.update((ref.upper(), board) for ref in draft.refs)
        record_numbers.settle_thousands(draft)
        check_draft(draft)
        if any(r.value is not None and r.value < LARGEST_TURNED_UF for r in draft.caps) and other_parts.turns(text):
            draft.doubt("remark-unclear", "an adjustable capacitor: no fixed one takes its place")
        source = self.ledger.source(row)
        first = len(self.ledger.positions)
        self.stack.bear()
        self.ledger.built(row, build(draft, self.stack.context(), source, text))
        for mark in draft.marks:
            self.footnoted.setdefault(mark, []).extend(range(first, len(self.ledger.positions)))
        self.closing = None
        self.last = draft

    def _under_others(self, row: int, text: str) -> None:
        """Pass over what stands under a heading of other parts; a capacitance there is for somebody to look at."""
        if other_parts.FARADS.search(text) is None:
            self.ledger.passed(row, "other-part", "stands under a heading of other parts: passed over", text)
            return
        message = "stands under a heading of other parts but names a capacitance; it was not taken for a position"
        self.ledger.warn(
            row, "prose-names-part", message, text, "if a capacitor is meant, put it under its own heading"
        )

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

    def bearers(self, mark: str) -> list[int]:
        """Return the positions (by their index in the ledger) that bear a mark, as long as it has few footnotes."""
        return self.footnoted.get(mark, []) if self.laid[mark] < MOST_FOOTNOTES else []

    def lay_on(self, mark: str, text: str) -> None:
        """Lay a footnote on the positions that bear its mark."""
        self.laid[mark] += 1
        self._lay_on(self.footnoted[mark], text)

    def _lay_on(self, bearers: list[int], text: str) -> None:
        told = (headings.judge(marked_as(said.strip(" =:-."))) for said in (text, *_SENTENCES.split(text)))
        stated = (judged.heading.sets for judged in told if judged.heading is not None)
        sets = next((said for said in stated if said != NOWHERE and not said.board), None)
        for index in bearers:
            position: Position = self.ledger.positions[index]
            self.ledger.positions[index] = replace(
                position,
                note="; ".join(part for part in (position.note, text) if part),
                kind=sets.kind if sets and sets.kind else position.kind,
                mount=sets.mount if sets and sets.mount else position.mount,
                temp_C=sets.temp_C if sets and sets.temp_C else position.temp_C,
            )

    def close_all(self) -> None:
        """Lay on the positions what sentences say of one value, and a last line that speaks of all (``all 105 °C``)."""
        for row, text, refs in self.in_headings:
            if not any(ref.upper() in self.by_ref for ref in refs):
                message = "the heading names designators that no record of the list has"
                self.ledger.warn(row, "prose-names-part", message, text, "write each with its value")
        for said in self.of_kinds:
            self.ledger.positions = [filled(position, said) for position in self.ledger.positions]
        if self.rules:
            self.ledger.positions = value_rules.applied(self.rules, self.ledger.positions)
        if self.closing is None or not SPEAKS_OF_ALL.search(self.closing[1]):
            return
        sets = self.closing[0].sets
        for index, position in enumerate(self.ledger.positions):
            if sets.kind is not None and position.kind not in {sets.kind, Kind.UNKNOWN}:
                continue
            self.ledger.positions[index] = replace(
                position,
                temp_C=position.temp_C if position.temp_C is not None else sets.temp_C,
                mount=position.mount or sets.mount,
                volts=position.volts if position.volts is not None else sets.volts,
            )


def _is_capacitors(draft: Draft) -> bool:
    """Tell whether a record has a capacitor's designator."""
    return any(designators.find_group(ref) is not None for ref in draft.refs)
