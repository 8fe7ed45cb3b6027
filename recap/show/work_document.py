"""The checklist and the bags as JSON documents: units in the names, unknown is null."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from recap.show.documents import number

if TYPE_CHECKING:
    from recap.fit.bags import Sorting
    from recap.fit.checklist import Checklist
    from recap.fit.plan import ExtraPiece
    from recap.fit.worklist import Task
    from recap.model import Part, Position


def checklist_document(checklist: Checklist) -> dict[str, Any]:
    """Return the checklist: sections with their places, in the order of the work."""
    return {
        "made_on": checklist.made_on.isoformat(),
        "origin": checklist.origin,
        "cautions": list(checklist.cautions),
        "sections": [
            {"set": section.set, "title": section.title, "places": [_place(task) for task in section.tasks]}
            for section in checklist.sections
        ],
    }


def bags_document(sorting: Sorting) -> dict[str, Any]:
    """Return the bags by set and board, and what goes into none."""
    return {
        "bags": [
            {
                "set": bag.set,
                "pieces": bag.pieces,
                "boards": [
                    {
                        "board": compartment.board or None,
                        "contents": [
                            {**_part(c.part), "qty": c.qty, "refs": list(c.refs), "from": c.source or None}
                            for c in compartment.contents
                        ],
                    }
                    for compartment in bag.compartments
                ],
                "extras": [_extra(piece) for piece in bag.extras],
            }
            for bag in sorting.bags
        ],
        "extras": [_extra(piece) for piece in sorting.extras],
        "drawer": [{**_part(left.part), "qty": left.qty, "from": left.supplier} for left in sorting.leftovers],
    }


def _place(task: Task) -> dict[str, Any]:
    return {
        "ref": task.position.ref,
        "board": task.position.board,
        "qty": task.qty,
        "old": _asked(task.position),
        "new": None if task.part is None else _part(task.part),
        "from": task.source or None,
        "polarity": task.polarity,
        "forming": task.forming,
        "care": [{"rule": f.rule, "verdict": f.verdict.value, "reason": f.reason} for f in task.care],
        "dangers": list(task.dangers),
        "doubts": list(task.position.doubts),
    }


def _asked(position: Position) -> dict[str, Any]:
    return {
        "value_uF": number(position.value_uF),
        "volts": number(position.volts),
        "temp_C": position.temp_C,
        "mount": position.mount.value if position.mount else None,
        "kind": position.kind.value,
    }


def _part(part: Part | None) -> dict[str, Any]:
    if part is None:
        return {"part": None}
    return {"part": part.number, "value_uF": number(part.value_uF), "volts": number(part.volts)}


def _extra(piece: ExtraPiece) -> dict[str, Any]:
    return {
        "item": piece.extra.item,
        "qty": piece.qty,
        "part": piece.part.number if piece.part else None,
        "from": piece.supplier,
    }
