"""Free text, line by line: records, headings that hold below them, footnotes, prose.

The reader remembers what it must between lines and nothing more; each line ends in the ledger.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.normalise import (
    deeper,
    first_lines,
    form_headings,
    heading_stack,
    headings,
    leads,
    leaving,
    legends,
    line_shapes,
    other_parts,
    patterns,
    prose,
    repeated,
    second_thoughts,
    sections,
    several,
    speakers,
    value_rules,
)
from recap.normalise.board_names import names_none
from recap.normalise.clean import Clean, clean, fold, squeeze, without_quotes
from recap.normalise.counts_apart import count_apart
from recap.normalise.finishing import Finisher
from recap.normalise.heading_marks import Marked, marked_as
from recap.normalise.joining import Joiner
from recap.normalise.ledger import Fate
from recap.normalise.line_shapes import holds_record, without_bullet, without_ordinal
from recap.normalise.positions import NOWHERE
from recap.normalise.records import take_apart
from recap.normalise.second_values import mark_replacement
from recap.normalise.style import PLAIN, Style, joined, told_of_all
from recap.normalise.surroundings import NOTHING_AROUND, Around, holds_values
from recap.normalise.unread_parts import looks_like_part

if TYPE_CHECKING:
    from recap.normalise.fields import Draft
    from recap.normalise.ledger import Ledger
    from recap.normalise.record_line import Line

LONGEST_LINE: Final = 2000


class TextReader:
    """Reads the lines of one text in order; a table's lone rows come here, too."""

    def __init__(self, ledger: Ledger, style: Style = PLAIN) -> None:
        """Begin a text whose lines are written in ``style``."""
        self.ledger = ledger
        self.style = style
        self.finisher = Finisher(ledger)
        self.joiner = Joiner(self.finisher)
        self.indented = False
        self.indent = 0
        self.quoted: frozenset[int] = frozenset()  # the rows that mail and forum programs mark as quoted
        self.speakers: frozenset[int] = frozenset()  # the rows that only name who speaks below
        self.joined = ""  # the board in front of this line's designators
        self.other: tuple[int, int] | None = None  # the row of the last part that is no capacitor, and its indent
        self.in_cell = False  # of a page's table that came along as tags
        self.item: Draft | None = None  # the record of the list item above
        self.alone = False  # a blank line stands above this one, and something above that
        self.above_lead: list[heading_stack.Heading] | None = None  # what held before a line named its own board

    @property
    def stack(self) -> heading_stack.Stack:
        """The headings that hold here."""
        return self.finisher.stack

    def finish(self, row: int, text: str, draft: Draft) -> None:
        """Enter the positions of a draft that stands by itself."""
        self.finisher.finish(row, text, draft)

    def flush(self) -> None:
        """Finish what waits for a further line."""
        self.joiner.flush()

    def close(self) -> None:
        """Finish the text."""
        self.joiner.flush()
        self.finisher.close_all()

    def line(self, row: int, raw: str, around: Around = NOTHING_AROUND) -> None:
        """Read one line; ``around`` tells what stands about it: the next line may underline this one."""
        if not raw.strip():
            self.joiner.pause()
            self.ledger.blank(row)
            self.alone = self.ledger.begun
            self._end_lead()
            return
        if len(raw) > LONGEST_LINE:
            self._prose_or_long(row, raw)
            return
        cleaned = clean(raw)
        text = without_quotes(cleaned.text)
        text = mark_replacement(text) if self.style.replacements_beside else text
        text = joined(squeeze(count_apart(text, self.style)), self.style)
        text = text if legends.read(text) is not None else legends.spelt_out(text, self.style.legend)
        text, self.joined = leads.apart(text, goes_on=self.above_lead is not None)
        self.indent = len(raw) - len(raw.lstrip())
        self.indented = self.indent > 0
        self.in_cell = raw.lstrip()[:3].lower() in {"<td", "<th"}
        if not text and cleaned.struck:
            self.flush()
            self.ledger.passed(row, "not-fitted", "struck through: no position", cleaned.struck)
            return
        if not text or line_shapes.RULE.fullmatch(text):
            self.ledger.layout(row)
        else:
            self._text(row, text, cleaned, around)

    def _prose_or_long(self, row: int, raw: str) -> None:
        self.flush()
        message = f"a line of {len(raw):,} characters is too long for a record and was not read"
        self.ledger.warn(row, "line-long", message, raw[:120], "put each position on a line of its own")

    def _text(self, row: int, text: str, cleaned: Clean, around: Around) -> None:
        if self._footnote(row, text):
            return
        if len(parts := line_shapes.LEADS.split(text)) > 1 and line_shapes.LEAD.match(text):
            for part in parts:  # ``PSU: C1 10uF. Audio: C2 22uF``
                self._text(row, part, cleaned, NOTHING_AROUND)
            return
        body = without_bullet(text)
        if legends.read(text) is not None or legends.read(body) is not None:
            self.flush()
            self.ledger.heading(row, "legend-read", legends.says(body), text)
            return
        if (rule := value_rules.read_rule(body)) is not None:
            self.flush()
            self.finisher.rules.append(rule)
            self.ledger.heading(row, "rule-read", rule.says(), text)
            return
        if second_thoughts.revokes(body):
            self.ledger.revoke(row)
        line = take_apart(body, style=self.style)
        if self._passes_over(row, text, body, line):
            return
        if not holds_record(line):
            if not self.joiner.extends_upright(row, body):
                self._no_record(row, text, cleaned, line, around)
            return
        if not self._only_speaks(row, text, body, line):
            self._record(row, text, body, line, cleaned, around=around)

    def _record(self, row: int, text: str, body: str, line: Line, cleaned: Clean, *, around: Around) -> None:
        """Hand on the records of a line."""
        if not line.has_refs and other_parts.leads(body) and line.drafts:
            line.drafts[0].doubt("remark-unclear", "the line begins with another part")
        if line.adds:
            line.drafts = [draft for draft in line.drafts if draft.refs]
            for draft in line.drafts if line.hedged else ():
                draft.doubt("fitted-sometimes", text)
        if cleaned.struck:
            line_shapes.mark_struck(line, cleaned.struck)
        self._lead(body, line)
        self.item = line.drafts[0] if body != text and line.drafts else None
        marked = Marked(body, 0) if line.has_refs else marked_as(body, bold=cleaned.bold, underlined=around.underline)
        item = " " * self.indent + text
        if line_shapes.heads_designators(line, body, marked) or line_shapes.bears_designators(line, item, around.below):
            if marked.level is not None:
                self.stack.push(heading_stack.Heading(NOWHERE, marked.level))
            self.joiner.head(row, text, line.drafts[0])
        elif deeper.are_attributes(line, around.below, self.indent, self.style):
            self.joiner.begin(row, text, line.drafts[0])
        elif deeper.is_value(line, around.below, self.indent):
            self.joiner.wait(row, text, line.drafts[0])
        else:
            self.joiner.record(row, text, line, indented=self.indented)

    def _passes_over(self, row: int, text: str, body: str, line: Line) -> bool:
        """Enter a line that holds a figure, yet is a title, a remark on the item above or about another part."""
        above = self.item or self.finisher.last
        if first_lines.is_title(line, body, opens=self.opens):
            self.ledger.heading(row, "title-read", "names the list", text)
        elif line_shapes.repeats(line, text, above, in_item=self.indented and bool(self.item)):
            self.ledger.passed(row, "line-passed-over", "a remark on the part above: passed over", text)
        elif line_shapes.offers_another(line, body, above):
            self.flush()
            message = "names another part for the place above, which was left as it is listed"
            self.ledger.doubt_last("remark-unclear", f"row {row} says {text[:60]!r}")
            self.ledger.warn(row, "prose-names-part", message, text, "settle which of the two is right")
        elif not line.has_refs and not line.has_values and repeated.says(body):
            self.flush()
            message, hint = "says that further parts are the same as those listed; none were added", "list them, too"
            self.ledger.warn(row, "parts-repeated", message, text, hint)
        elif not line.has_refs and (speakers.speaks(text) or row in self.speakers or names_none(text)):
            self.flush()
            self.stack.end_board()
            self.ledger.passed(row, "line-passed-over", "says who wrote what is below, or that it is on no board", text)
        elif row in self.quoted and speakers.quotes_again(line, self.finisher, self.quoted):
            self.ledger.passed(row, "line-passed-over", "quotes what stands above: passed over", text)
        elif self._is_of_others(line, body) or deeper.is_rest_of_other(body, self.indent, self.other, row):
            self.flush()
            self.other = (row, self.indent)
            self.ledger.other_part(row, text, plain=other_parts.is_plain(body, foreign=line.foreign_first))
        else:
            return False
        return True

    def _only_speaks(self, row: int, text: str, body: str, line: Line) -> bool:
        """Enter a line that names a part but is a remark or a sentence."""
        listed = self.finisher.by_ref.keys()
        apart = self.finisher.recurring or (second_thoughts.begins(body) and not self.finisher.is_on_board(line))
        speaks = second_thoughts.speaks_of_listed(line, body, listed, recurring=apart)
        remark = self.joiner.refs_waiting is None and second_thoughts.only_remarks(line, listed)
        sentence = prose.is_prose(line)
        if not speaks and not remark and not sentence:
            if line.has_refs and second_thoughts.could_speak(line, body):
                self.ledger.hear(row, text, made=True)
            return False
        self.flush()
        self.ledger.hear(row, text)
        same = speaks and not sentence and not second_thoughts.differ(line, self.finisher.by_ref)
        states = any(draft.kinds or draft.mounts or draft.safety for draft in line.drafts)
        if same or (remark and not states):
            self.ledger.passed(row, "line-passed-over", "a remark on a part listed above: passed over", text)
            return True
        message = "reads like prose but names a part or a value; it was not taken for a position"
        if remark:
            message = "says of a part listed above what it is or should be; the part was left as it is listed"
        elif (heading := form_headings.in_front_of_remark(text)) is not None:
            self.finisher.in_headings.append((row, text, tuple(ref for draft in line.drafts for ref in draft.refs)))
            self._no_record(row, heading, Clean(heading), take_apart(heading), NOTHING_AROUND)
            return True
        hint = "if a position is meant, put it on a line of its own"
        self.ledger.warn(row, "prose-names-part", message, text, hint)
        return True

    def _is_of_others(self, line: Line, text: str) -> bool:
        """Tell whether a line without a capacitor's designator is about another part."""
        if line.has_refs:
            return self.style.numbers_are_refs and not line.has_values and other_parts.speaks_only_of_others(text)
        told = line.has_values and not self.style.unit and other_parts.speaks_only_of_others(text)
        return (told or (bool(line.foreign) and line.foreign_first)) and not form_headings.names_variant(text)

    def _lead(self, text: str, line: Line) -> None:
        """Lay what stands in front of the records of a line on all of them; the lines right below go on with it."""
        board = leads.lay(text, line, self.joined, goes_on=self.above_lead is not None)
        if board is not None:
            self.above_lead = self.above_lead or list(self.stack.open)
            self.stack.push(heading_stack.Heading(replace(NOWHERE, board=board)))
        elif leads.is_unknown(text):
            self._end_lead()

    def _end_lead(self) -> None:
        """End a board that stood in front of a record, at a blank line."""
        if self.above_lead is not None:
            self.stack.open[:], self.above_lead = self.above_lead, None

    @property
    def opens(self) -> bool:
        """Whether nothing was read so far but blank lines."""
        return not self.ledger.begun

    def _no_record(self, row: int, text: str, cleaned: Clean, line: Line, around: Around) -> None:
        self.flush()
        self.style = told_of_all(self.style, text)
        items = line_shapes.heads_items(text, clean(around.below).text)
        bare, text = several.counted_once(self.ledger, row, (without_ordinal, without_bullet)[items](text), text)
        marked = marked_as(bare, bold=cleaned.bold, underlined=around.underline)
        rest = (marked.strength or holds_values(around.below)) and headings.is_rest(marked)
        if rest and self.stack.in_board:
            self.stack.end_board()  # ``Others`` beside boards, not beside classes of parts on one
        if rest:
            self.stack.end_attributes(marked.level)
        if self._section(row, text, marked) or self._of_staying(row, text, marked):
            return
        judged = leaving.on_board(self._judged(row, text, marked, around.below), text)
        apart = re.search(r"\S\s{3,}\S", cleaned.text.strip()) is not None
        if not judged.sets_something and not apart and self._by_form(row, text, marked, around):
            return
        if judged.heading is not None and judged.heading.sets.board and apart:
            self.ledger.passed(row, "line-passed-over", "two things beside each other, no heading: passed over", text)
        elif judged.heading is not None:
            self.above_lead = None
            self._open(judged.heading)
            self.finisher.closing = (judged.heading, text)
            self.ledger.heading(row, "heading-read", headings.says(judged.heading), text)
        elif judged.is_title and not looks_like_part(text):
            self.ledger.heading(row, "title-read", "names the list", text)
        elif line.foreign:
            self.ledger.passed(row, "other-part", "no capacitor: passed over", text)
        elif cleaned.struck:
            self.ledger.passed(row, "not-fitted", f"{cleaned.struck!r} is struck through: no position", text)
        elif marked.level is not None or rest:
            self.stack.push(heading_stack.Heading(NOWHERE, marked.level))
            self.ledger.heading(row, "heading-read", "a heading that sets nothing", text)
        else:
            if marked.strength and not self.opens:
                self.stack.end_section()
            self._says_little(row, text)

    def _says_little(self, row: int, text: str) -> None:
        """Enter a line without parts that is no heading; a sentence in it may still say what all parts are."""
        said = headings.in_sentences(text)
        for heading in said:
            self._open(heading)
        if said:
            self.ledger.heading(row, "heading-read", "; ".join(map(headings.says, said)), text)
        else:
            self.ledger.no_part(row, text)

    def _open(self, heading: heading_stack.Heading) -> None:
        """Let a heading hold from here on; what is said of one kind is laid on its parts at the end."""
        if heading.of_kind:
            self.finisher.of_kinds.append(heading.sets)
        else:
            self.stack.push(heading)

    def _judged(self, row: int, text: str, marked: Marked, below: str) -> heading_stack.Judged:
        """Return what the words of a line make of it where it stands."""
        stands_over = self.alone and holds_values(below)
        judged = headings.judge(marked, stands_over=stands_over, opens=self.opens)
        if marked.strength and self.stack.context().board and fold(marked.text) in form_headings.NAMES_OF_PARTS:
            return heading_stack.Judged(None)  # among boards ``Vertical`` is one
        if judged.heading is None or judged.heading.sets.board is None:
            return judged
        if self.in_cell or text.count("|") > 1:
            return heading_stack.Judged(None)  # a cell, a row of a table
        return judged if marked.strength or self._may_stand_here(row, text, below) else heading_stack.Judged(None)

    def _by_form(self, row: int, text: str, marked: Marked, around: Around) -> bool:
        """Take a line that only its form makes a heading for a board's name; where it is none, end the board above."""
        if self.opens or self.in_cell:
            return False
        stands = form_headings.Stands(around, self.alone, bool(self.ledger.positions), self.stack.context().board)
        found = form_headings.judge(text, marked, stands)
        if found is None:
            return False
        if found.name:
            heading = heading_stack.Heading(replace(NOWHERE, board=found.name), marked.level)
            self.stack.push(heading)
            self.ledger.heading(row, "heading-read", headings.says(heading), text)
            return True
        if found.ends:
            self.stack.end_board()
        else:
            self.stack.end_section()
        self.ledger.warn(row, "heading-unclear", found.message, text, "write the board's name alone, in a few words")
        return True

    def _section(self, row: int, text: str, marked: Marked) -> bool:
        """Enter a heading of a class of parts: other parts below it, or capacitors again."""
        others = sections.of_other_parts(marked.text, strength=marked.strength)
        several = marked.strength and sections.names_classes(marked.text)
        if others is None or not (marked.strength if others else several or self.stack.context().others):
            return False
        if others:
            self.stack.end_attributes(marked.level)
        sets = NOWHERE if others or several else headings.of_capacitors(marked)
        heading = heading_stack.Heading(replace(sets, others=others), marked.level)
        self.stack.push(heading)
        self.ledger.heading(row, "heading-read", headings.says(heading), text)
        return True

    def _of_staying(self, row: int, text: str, marked: Marked) -> bool:
        """Enter a heading of parts that stay (``Already replaced:``), or that don't (``Still to do:``)."""
        stays = leaving.heads(marked.text) if marked.strength else None
        if stays is None or (not stays and not self.stack.context().stays):
            return False
        heading = heading_stack.Heading(replace(NOWHERE, stays=stays), marked.level)
        self.stack.push(heading)
        self.ledger.heading(row, "heading-read", headings.says(heading), text)
        return True

    def _may_stand_here(self, row: int, text: str, below: str) -> bool:
        """Tell whether an unmarked line may be a board's heading: no item of a list, no line of a paragraph."""
        if patterns.BULLET.match(text) is not None:
            deeper = len(below) - len(below.lstrip()) > self.indent
            return deeper or ((self.alone or self.opens) and line_shapes.heads_items(text, clean(below).text))
        goes_on = bool(below.strip()) and not (holds_values(below) or "|" in below or "\t" in below)
        in_paragraph = self.ledger.fates.get(row - 1) is Fate.TOLD and goes_on
        return not in_paragraph or other_parts.names_capacitor(text)

    def _footnote(self, row: int, text: str) -> bool:
        """Read a line that begins with a footnote mark that positions bear."""
        match = line_shapes.FOOTNOTE.match(text)
        if match is None:
            return False
        mark = match["mark"] or match["figure"] or match["bracket"]
        bearers = self.finisher.bearers(mark)
        line = take_apart(match["text"])
        if not bearers or (line.has_refs and line.has_values):
            return False
        self.flush()
        self.finisher.lay_on(mark, match["text"])
        self.ledger.fates[row] = Fate.HEADING
        self.ledger.heading(row, "footnote-read", f"footnote of {len(bearers)} positions", text)
        return True
