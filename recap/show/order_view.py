"""An order in the terminal: what to buy where, what it costs, what is proven, what can't be had."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rich.padding import Padding
from rich.text import Text

from recap.model import Status
from recap.order.report import shares
from recap.order.unmet import IN_DOUBT, near_misses
from recap.order.wording import brief_text
from recap.show.tables import plain_table
from recap.show.terminal import counted, hanging, refs, total, unit_prices

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import Console
    from rich.table import Table

    from recap.model import Group, Order, SupplierOrder
    from recap.order.report import Report, UnmetNeed


NEAREST = 2
"""Near misses named in the terminal beside the nearest; with --why, in the workbook and in the JSON are all."""


NOTHING_ON_THE_JOB = (
    "Nothing to buy: no position is on the job. Each set has a row in sets.csv: its name, its chassis (the name of a "
    "list in caplists), and its job: full, boards or positions."
)


def print_order(
    console: Console, report: Report, *, part_order: Report | None = None, everything: bool = False
) -> None:
    """Print parcels, drawer, total with its proof, what is unmet, and what other orders would cost."""
    if not report.groups and not report.unmet:
        console.print(Text(NOTHING_ON_THE_JOB))
        return
    shown = part_order if report.status is Status.IMPOSSIBLE else report
    if report.status is Status.IMPOSSIBLE:
        console.print(Text("No order can meet every need.", style="bold"))
        _print_unmet(console, report, everything=everything)
        if shown is not None and shown.order is not None:
            console.print(Text("\nThe cheapest order for all that can be had:", style="bold"))
    if shown is not None and shown.order is not None:
        _print_parcels(console, shown.order, shown)
        _print_drawer(console, shown.order)
        _print_care(console, shown)
        _print_total(console, shown, report.status)
    _print_alternatives(console, report)


def _table(title: str) -> Table:
    return plain_table(title)


def _print_parcels(console: Console, order: Order, report: Report) -> None:
    for parcel in order.suppliers:
        terms = parcel.terms
        title = f"{terms.supplier}: {counted(len(parcel.lines), 'line')}, prices in {terms.currency}"
        table = _table(title)
        table.add_column("part")
        table.add_column("what it is")
        table.add_column("buy", justify="right")
        table.add_column("needed", justify="right")
        table.add_column("each", justify="right")
        table.add_column("goods", justify="right")
        each = unit_prices([line.unit_price for line in parcel.lines])
        for line, price in zip(parcel.lines, each, strict=True):
            used = sum(use.qty for use in line.uses)
            table.add_row(
                Text(line.part.number + (" *" if (terms.supplier, line.part.number) in report.old else "")),
                Text(brief_text(line.part) or _extra_name(line.uses[0].group if line.uses else "")),
                str(line.qty),
                str(used),
                price,
                total(line.goods),
            )
        console.print(table)
        console.print(Padding(_costs(parcel, report.currency), (0, 0, 1, 2), expand=False))
    if report.old:
        lines = counted(len(report.old), "line")
        console.print(
            Text(f"* {lines} with an old price: ask the supplier before you order (offer_days in bench.toml).")
        )


def _extra_name(group: str) -> str:
    return group.removeprefix("extra: ")


def _costs(parcel: SupplierOrder, currency: str) -> Text:
    items = [("goods", parcel.goods), ("shipping", parcel.shipping), ("fees", parcel.fees)]
    items += [("duty", parcel.duty), ("tax", parcel.tax)]
    text = " + ".join(f"{name} {total(value)}" for name, value in items if value or name in {"goods", "shipping"})
    if parcel.terms.currency != currency:
        text += f" {parcel.terms.currency}, × {parcel.terms.rate.normalize():f}"
    return Text(f"{text} = {total(parcel.landed, currency)}")


def _print_drawer(console: Console, order: Order) -> None:
    if not order.drawer:
        return
    table = _table("From the drawer")
    for heading in ("part", "what it is", "place"):
        table.add_column(heading)
    table.add_column("take", justify="right")
    for drawn in order.drawer:
        part = drawn.part.part
        taken = sum(use.qty for use in drawn.uses)
        table.add_row(Text(part.number), Text(brief_text(part)), Text(drawn.part.place or ""), str(taken))
    console.print(table)


def _print_total(console: Console, report: Report, status: Status) -> None:
    if report.order is None:
        return
    landed = total(report.order.total, report.currency)
    parcels = counted(len(report.order.suppliers), "parcel")
    if status is Status.FEASIBLE and report.bound is not None:
        claim = f"the best found in time; no order can cost less than {total(report.bound, report.currency)}"
    elif report.status is Status.FEASIBLE:
        claim = "the best found in time; not proven"
    else:
        claim = "proven: no order costs less"
    wanted = sum(group.positions_count for group in report.groups)
    spares = sum(group.spares for group in report.groups)
    console.print(Text(f"Total {landed} in {parcels} ({claim}).", style="bold"))
    for remark in report.remarks:
        console.print(Text(f"  {remark}"))
    groups = counted(len(report.groups), "group")
    console.print(Text(f"It covers {counted(wanted, 'piece')} in {groups}, and {counted(spares, 'spare')}."))


def _print_care(console: Console, report: Report) -> None:
    """Print what "with care" means for the parts chosen: read before ordering, not after."""
    if not report.care:
        return
    console.print(Text("These fit only with care: read why before you order", style="bold"))
    served = shares(report.order)
    for group, reasons in report.care.items():
        parts = ", ".join(dict.fromkeys(share.part.number for share in served.get(group, ())))
        hanging(console, "  ", f"{group} <- {parts}: {'; '.join(reasons)}")
    console.print()


def _print_unmet(console: Console, report: Report, *, everything: bool) -> None:
    """Print what can't be had and why; ``everything``: all near misses with all that speaks against them."""
    for need, groups in _unmet(report):
        spares = sum(group.spares for group in groups)
        over = "" if not spares else f" ({spares} of them to spare)" if need.pieces > 1 else " (a spare)"
        console.print(Text(f"\n{need.group}: {counted(need.pieces, 'piece')}{over} can't be had"))
        if groups:
            placed = tuple(each for group in groups for each in group.placed)
            hanging(console, "  where: ", _where(replace(groups[0], placed=placed)))
        hanging(console, "  why: ", need.short or need.reason)
        for names, reason in near_misses(need, brief=not everything)[: None if everything else NEAREST]:
            hanging(console, "  near: ", f"{names}: {reason}")
        for ease in need.eases:
            hanging(console, "  or: ", ease)
        for joined in need.joined:
            pieces = " and ".join(f"{count} × {part.number} ({part.supplier})" for part, count in joined.pieces)
            hanging(console, "  joined, with care: ", f"{pieces} {joined.joining}: {joined.reason}")
    if careful := sum(need.care for need in report.unmet):
        some = f"{counted(careful, 'of them', 'of them')} could be had"
        console.print(Text(f"\n{some} from parts that fit with care: --care-if-needed takes such parts there."))
    refs_unmet = [placed.position.ref for _, groups in _unmet(report) for group in groups for placed in group.placed]
    if ref := next((ref for ref in refs_unmet if ref), None):
        console.print(Text(f"\nA place that keeps its old part is taken off the job in sets.csv: full -{ref}"))


def _unmet(report: Report) -> Iterator[tuple[UnmetNeed, list[Group]]]:
    """Yield what is unmet with its groups; what is kept back for the same doubt as one, where the first stands."""
    by_id = {group.id: group for group in report.groups}
    alike: dict[tuple[str, str], list[UnmetNeed]] = {}
    for need in report.unmet:
        doubted = need.group.startswith(IN_DOUBT)
        alike.setdefault((IN_DOUBT, need.reason) if doubted else (need.group, ""), []).append(need)
    for needs in alike.values():
        groups = [by_id[need.group] for need in needs if need.group in by_id]
        name = needs[0].group if len(needs) == 1 else f"{IN_DOUBT}{counted(len(needs), 'position')}"
        yield replace(needs[0], group=name, pieces=sum(need.pieces for need in needs)), groups


def _where(group: Group) -> str:
    if group.extra is not None:
        return f"extra {group.extra.item}" + (f" for {group.extra.set}" if group.extra.set else "")
    sets: dict[str, list[str]] = {}
    for placed in group.placed:
        sets.setdefault(placed.set, []).append(placed.position.ref or f"{placed.position.qty}×")
    return "; ".join(f"{name}: {refs(names)}" for name, names in sets.items())


def _print_alternatives(console: Console, report: Report) -> None:
    others = [a for a in report.alternatives if a.total is None or report.alternatives[0] is not a]
    this = next((a for a in report.alternatives if a.total is not None), None)
    if this is None or this.total is None or not others:
        return
    console.print()
    table = _table("What other ways to buy the same would cost")
    table.add_column("way")
    for heading in ("total", "parcels", "lines", "this saves"):
        table.add_column(heading, justify="right")
    for other in report.alternatives:
        saves = "" if other.total is None or other is this else total(other.total - this.total)
        costs = Text(other.note) if other.total is None else Text(total(other.total))
        name = other.name if other.total is None or not other.note else f"{other.name} ({other.note})"
        table.add_row(Text(name), costs, str(other.parcels or ""), str(other.lines or ""), saves)
    console.print(table)
