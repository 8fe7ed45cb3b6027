"""What stands in front of the records of a line and holds for all of them: ``PSU: C1 10uF, C2 22uF``, ``PC-3 C5``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.normalise import form_headings, headings, line_shapes
from recap.normalise.clean import fold
from recap.normalise.heading_marks import Marked
from recap.normalise.token_refs import board_in_front

if TYPE_CHECKING:
    from recap.normalise.records import Line


def lay(text: str, line: Line) -> str | None:
    """Lay a heading in front of the records of a line on all of them; return the board that it names, or None."""
    in_front = board_in_front(text)
    if in_front is not None:
        for draft in line.drafts:
            draft.board = in_front["board"]
            draft.codes = [code for code in draft.codes if code != draft.board]
    match = line_shapes.LEAD.match(text)
    if match is None or fold(match["lead"]).strip() in form_headings.NAMES_OF_PARTS:
        return None  # ``vertical: C401``: a stage of the set, no mount
    judged = headings.judge(Marked(match["lead"], 1))
    if judged.heading is None:
        return None
    sets = judged.heading.sets
    if sets.board and not headings.names_board(sets.board):
        return None
    for draft in line.drafts:
        draft.board = sets.board
        if sets.board and draft.notes and draft.notes[0] == match["lead"].strip():
            draft.notes.pop(0)
        for name, stated in (("mounts", sets.mount), ("kinds", sets.kind), ("temps", sets.temp_C)):
            if stated is not None and not getattr(draft, name):
                setattr(draft, name, [stated])
    return sets.board
