"""Money and rules of a printed order, checked again from the catalogue files in fractions."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tests.whole.own_files import Terms, Workshop
    from tests.whole.own_matching import Need


@dataclass(frozen=True)
class Bill:
    """What one supplier's parcel costs, in its currency but for landed."""

    goods: Fraction
    shipping: Fraction
    fees: Fraction
    duty: Fraction
    tax: Fraction
    landed: Fraction


def bill(terms: Terms, goods: Fraction, lines: int) -> Bill:
    """Goods and the number of lines to the landed cost."""
    shipping = next((fee for least, fee in reversed(terms.shipping) if goods >= least), terms.shipping[0][1])
    fees = terms.handling + terms.line_fee * lines
    duty = terms.duty * goods
    tax = terms.tax * (goods + shipping + fees + duty)
    return Bill(goods, shipping, fees, duty, tax, (goods + shipping + fees + duty + tax) * terms.rate)


def total(shop: Workshop, bought: Mapping[int, int]) -> Fraction:
    """The landed cost of so many pieces of each offer; raises AssertionError where that can't be bought."""
    cost = Fraction(0)
    for name, terms in shop.terms.items():
        lines = {i: qty for i, qty in bought.items() if qty and shop.offers[i].supplier == name}
        if not lines:
            continue
        for i, qty in lines.items():
            assert shop.offers[i].legal(qty), f"{qty} × {shop.offers[i].number} of {name} can't be bought"
        goods = sum((qty * shop.offers[i].price(qty) for i, qty in lines.items()), Fraction(0))
        assert goods >= terms.minimum, f"{name}: goods {goods} below the minimum {terms.minimum}"
        cost += bill(terms, goods, len(lines)).landed
    return cost


@dataclass(frozen=True)
class Printed:
    """The printed order beside the bench it is for."""

    shop: Workshop
    wants: list[Need]
    doc: dict[str, Any]

    def offer(self, supplier: str, number: str) -> int | None:
        return next(
            (i for i, o in enumerate(self.shop.offers) if o.supplier == supplier and o.number == number),
            None,
        )

    def need_of(self, group: dict[str, Any]) -> Need | None:
        """Our own need for a printed group: by its positions, or an extra by its name."""
        where = frozenset((p["set"], p["ref"]) for p in group["positions"] if p.get("ref"))
        if where:
            return next((n for n in self.wants if n.positions == where), None)
        return next((n for n in self.wants if n.name == group["group"]), None)


def complaints(shop: Workshop, wants: list[Need], doc: dict[str, Any]) -> list[str]:
    """Every way in which the printed order breaks a rule; none for a good one."""
    printed = Printed(shop, wants, doc)
    return [
        *money_complaints(printed),
        *group_complaints(printed),
        *source_complaints(printed),
        *use_complaints(printed),
        *drawer_complaints(printed),
    ]


def money_complaints(printed: Printed) -> Iterator[str]:
    """Lines, parcels and the total to the last decimal."""
    shop, doc = printed.shop, printed.doc
    landed = Fraction(0)
    for parcel in doc["suppliers"]:
        name = parcel["supplier"]
        yield from line_complaints(printed, parcel)
        goods = sum((Fraction(line["goods"]) for line in parcel["lines"]), Fraction(0))
        own = bill(shop.terms[name], goods, len(parcel["lines"]))
        for part in ("goods", "shipping", "fees", "duty", "tax", "landed"):
            if Fraction(parcel[part]) != getattr(own, part):
                yield f"{name}: {part} {parcel[part]}, should be {float(getattr(own, part))}"
        if goods < shop.terms[name].minimum:
            yield f"{name}: goods {goods} below its minimum"
        landed += own.landed
    if doc["total"] is None or Fraction(doc["total"]) != landed:
        yield f"total {doc['total']}, should be {float(landed)}"
    most = shop.settings.get("max_suppliers", 0)
    if most and len(doc["suppliers"]) > most:
        yield f"{len(doc['suppliers'])} suppliers, {most} allowed"


def line_complaints(printed: Printed, parcel: dict[str, Any]) -> Iterator[str]:
    """Each line is an offer of that supplier, in a quantity it sells, at its price, and fits something."""
    name = parcel["supplier"]
    for line in parcel["lines"]:
        at, qty = printed.offer(name, line["part"]), line["qty"]
        if at is None or not printed.shop.offers[at].legal(qty):
            yield f"{name}: {qty} × {line['part']} can't be bought"
            continue
        price = printed.shop.offers[at].price(qty)
        if Fraction(line["unit_price"]) != price or Fraction(line["goods"]) != qty * price:
            yield f"{name}: {line['part']} costs {price}, not {line['unit_price']}; {line['goods']} for {qty}"
        if not any(at in need.offers for need in printed.wants):
            yield f"{name}: {line['part']} fits nothing on the job"
    numbers = [line["part"] for line in parcel["lines"]]
    if len(numbers) != len(set(numbers)):
        yield f"{name}: a part on two lines"


def group_complaints(printed: Printed) -> Iterator[str]:
    """Every position of the job is in exactly one group, and need and spares are ours."""
    seen: list[int] = []
    for group in printed.doc["groups"]:
        need = printed.need_of(group)
        if need is None:
            yield f"group {group['group']} is none of ours: {group['positions']}"
            continue
        seen.append(id(need))
        if (group["need"], group["spares"]) != (need.qty, need.spares):
            yield f"group {group['group']}: need {group['need']} with {group['spares']}, ours {need.qty}, {need.spares}"
    unmet = {entry["group"] for entry in printed.doc["unmet"]}
    for need in printed.wants:
        if id(need) not in seen and need.name not in unmet:
            yield f"{need.name} {sorted(need.positions)} is in no group"
    if len(seen) != len(set(seen)):
        yield "a group twice"


def source_complaints(printed: Printed) -> Iterator[str]:
    """Each group is met in full by parts that fit, from one part and supplier where that is asked."""
    unmet = {entry["group"] for entry in printed.doc["unmet"]}
    for group in printed.doc["groups"]:
        need = printed.need_of(group)
        if need is None or group["group"] in unmet:
            continue
        if sum(source["qty"] for source in group["from"]) != need.qty:
            yield f"{group['group']}: {group['from']} is not {need.qty}"
        for source in group["from"]:
            if source["supplier"] == "drawer":
                good = any(printed.shop.drawer[i].number == source["part"] for i in need.lots)
            else:
                good = printed.offer(source["supplier"], source["part"]) in need.offers
            if not good or source["qty"] < 1:
                yield f"{group['group']}: {source} does not fit"
        numbers = {source["part"] for source in group["from"]}
        shops = {source["supplier"] for source in group["from"]} - {"drawer"}
        if printed.shop.settings.get("one_part_per_group", True) and (len(numbers) > 1 or len(shops) > 1):
            yield f"{group['group']}: more than one part: {group['from']}"


def use_complaints(printed: Printed) -> Iterator[str]:
    """Lines' uses are the groups' sources, and never more than was bought."""
    told: dict[tuple[str, str, str], int] = {}
    for group in printed.doc["groups"]:
        for source in group["from"]:
            key = (source["supplier"], source["part"], group["group"])
            told[key] = told.get(key, 0) + source["qty"]
    used: dict[tuple[str, str, str], int] = {}
    lines = [(p["supplier"], line) for p in printed.doc["suppliers"] for line in p["lines"]]
    for name, line in [*lines, *(("drawer", lot) for lot in printed.doc.get("drawer", []))]:
        if sum(use["qty"] for use in line["uses"]) > line["qty"]:
            yield f"{name}: {line['part']} is used more often than bought"
        for use in line["uses"]:
            key = (name, line["part"], use["group"])
            used[key] = used.get(key, 0) + use["qty"]
    if told != used:
        yield f"uses and sources differ: {set(told.items()) ^ set(used.items())}"


def drawer_complaints(printed: Printed) -> Iterator[str]:
    taken: dict[str, int] = {}
    for group in printed.doc["groups"]:
        for source in group["from"]:
            if source["supplier"] == "drawer":
                taken[source["part"]] = taken.get(source["part"], 0) + source["qty"]
    for part, qty in taken.items():
        lying = sum(lot.qty for lot in printed.shop.drawer if lot.number == part)
        if qty > lying or not printed.shop.settings.get("use_drawer", True):
            yield f"{qty} × {part} from the drawer, {lying} lie there"
