"""An order as the JSON document that other programs read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from recap.model import Status
from recap.order.report import shares
from recap.show.combine_view import joined_document
from recap.show.documents import amount, diagnostics_document, number

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.diagnostics import Diagnostic
    from recap.model import Group, Order, OrderLine, SupplierOrder
    from recap.order.report import Report, Share, UnmetNeed


def order_document(
    report: Report,
    part_order: Report | None,
    diagnostics: Sequence[Diagnostic],
    currencies: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """Return the whole answer; money as exact decimal text, quantities as numbers.

    ``currencies`` names each supplier's currency, in which joined parts are reckoned.
    """
    possible = report.status is not Status.IMPOSSIBLE
    document = {
        "status": report.status.value,
        "currency": report.currency,
        "total": amount(report.order.total) if possible and report.order else None,
        "bound": amount(report.bound) if possible and report.bound is not None else None,
        **_body(report if possible else None, report.groups),
        "unmet": [_unmet(need, report, currencies or {}) for need in report.unmet],
        "alternatives": [
            {
                "name": a.name,
                "total": None if a.total is None else amount(a.total),
                "parcels": a.parcels,
                "lines": a.lines,
                "note": a.note,
            }
            for a in report.alternatives
        ],
        "remarks": list(report.remarks),
        "diagnostics": diagnostics_document(diagnostics),
    }
    if not possible:
        document["part_order"] = None if part_order is None else _part_order(part_order)
    return document


def _part_order(report: Report) -> dict[str, Any] | None:
    """Return the order for what can be had; None where nothing can."""
    if report.order is None:
        return None
    return {"total": amount(report.order.total), **_body(report, report.groups)}


def _body(report: Report | None, groups: Sequence[Group]) -> dict[str, Any]:
    order = report.order if report else None
    served = shares(order)
    return {
        "suppliers": [_parcel(p, report.old) for p in order.suppliers] if order and report else [],
        "drawer": _drawer(order),
        "groups": [_group(group, served) for group in groups],
    }


def _drawer(order: Order | None) -> list[dict[str, Any]]:
    if order is None:
        return []
    return [
        {
            "part": drawn.part.part.number,
            "qty": sum(use.qty for use in drawn.uses),
            "place": drawn.part.place,
            "uses": [{"group": use.group, "qty": use.qty} for use in drawn.uses],
        }
        for drawn in order.drawer
    ]


def _parcel(parcel: SupplierOrder, old: frozenset[tuple[str, str]]) -> dict[str, Any]:
    return {
        "supplier": parcel.terms.supplier,
        "currency": parcel.terms.currency,
        "rate": amount(parcel.terms.rate),
        "goods": amount(parcel.goods),
        "shipping": amount(parcel.shipping),
        "fees": amount(parcel.fees),
        "duty": amount(parcel.duty),
        "tax": amount(parcel.tax),
        "landed": amount(parcel.landed),
        "lines": [_line(line, old) for line in parcel.lines],
    }


def _line(line: OrderLine, old: frozenset[tuple[str, str]]) -> dict[str, Any]:
    return {
        "part": line.part.number,
        "qty": line.qty,
        "unit_price": amount(line.unit_price),
        "goods": amount(line.goods),
        "updated": None if line.part.updated is None else line.part.updated.isoformat(),
        "old": (line.part.supplier, line.part.number) in old,
        "uses": [{"group": use.group, "qty": use.qty} for use in line.uses],
    }


def _group(group: Group, served: Mapping[str, tuple[Share, ...]]) -> dict[str, Any]:
    asks = group.asks
    return {
        "group": group.id,
        "value_uF": number(asks.value_uF) if asks else None,
        "volts": number(asks.volts) if asks else None,
        "need": group.need,
        "spares": group.spares,
        "positions": _positions(group),
        "from": [{"supplier": s.supplier, "part": s.part.number, "qty": s.qty} for s in served.get(group.id, ())],
    }


def _positions(group: Group) -> list[dict[str, Any]]:
    if group.extra is not None:
        return [{"set": group.extra.set, "ref": None, "item": group.extra.item}]
    return [{"set": p.set, "ref": p.position.ref, "board": p.position.board} for p in group.placed]


def _unmet(need: UnmetNeed, report: Report, currencies: Mapping[str, str]) -> dict[str, Any]:
    group = next((g for g in report.groups if g.id == need.group), None)
    return {
        "group": need.group,
        "need": need.pieces,
        "reason": need.reason,
        "positions": _positions(group) if group else [],
        "nearest": [
            {"supplier": n.supplier, "part": n.number, "verdict": n.verdict.value, "reason": n.reason}
            for n in need.nearest
        ],
        "joined": [joined_document(combination, currencies) for combination in need.joined],
    }
