"""Random benches as files: a seed and a size give the same folder every time. All names in them are invented."""

from __future__ import annotations

import csv
import io
import random
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

Row = dict[str, str]

CAPLIST = ["ref", "value", "volts", "temp", "mount", "kind", "pitch", "diameter", "height", "board", "role",
           "operating", "ripple", "safety"]  # fmt: skip
CATALOGUE = ["part", "maker", "value", "volts", "temp", "life", "mount", "kind", "pitch", "diameter", "height",
             "ripple", "safety", "minimum", "multiple", "stock", "prices"]  # fmt: skip
DRAWER = [*CATALOGUE[:13], "qty", "bought", "place"]
TERMS = ["supplier", "currency", "rate", "shipping", "minimum", "handling", "line_fee", "duty", "tax"]

VALUES = ["1", "2.2", "4.7", "10", "22", "47", "100", "220", "470", "1000"]
VOLTS = ["10", "16", "25", "35", "50", "63", "100"]
CANS = [("2", "5", "11"), ("2.5", "6.3", "11"), ("3.5", "8", "12"), ("5", "10", "16"), ("5", "12.5", "20")]
BOARDS = ["MAIN", "POWER", "AUDIO"]
SHOPS = ["alderpost", "birchbox", "cedarcrate", "dogwoodbin", "elmtray", "firshelf", "gorsetub", "hollycart"]
MAKERS = ["Quennet", "Ostrel", "Vambry"]
CURRENCIES = {"USD": "0.9237", "GBP": "1.17654321", "JPY": "0.0061", "CHF": "1.0591"}


@dataclass(frozen=True)
class Size:
    """From how many to how many of each."""

    wants: tuple[int, int]
    shops: tuple[int, int]
    parts: tuple[int, int]
    uses: tuple[int, int]
    sets: tuple[int, int]
    offered: float
    breaks: tuple[int, ...]
    most_shops: tuple[int, ...]


SIZES = {
    "tiny": Size((1, 3), (1, 3), (1, 2), (1, 2), (1, 2), 0.75, (2, 3, 5, 8), (0, 0, 0, 1, 2)),
    "ties": Size((1, 3), (1, 3), (2, 3), (1, 2), (1, 2), 0.75, (2, 3, 5, 8), (0, 0, 0, 1, 2)),
    "sharp": Size((1, 3), (1, 2), (1, 2), (1, 2), (1, 2), 0.75, (2, 3, 5, 8), (0, 0, 0, 1, 2)),
    "medium": Size((9, 16), (3, 4), (1, 3), (1, 4), (2, 5), 0.65, (5, 10, 25, 50, 100), (0, 0, 0, 2, 3)),
    "larger": Size((36, 54), (6, 6), (1, 3), (1, 3), (3, 6), 0.55, (5, 10, 25, 50, 100), (0, 0, 0, 4, 5)),
}
SMALL = {"tiny", "ties", "sharp"}
"""Small enough to try everything. In ``ties`` few different prices and fees make many orders cost the same; in
``sharp`` prices have eight decimals, thresholds lie on a sum or 1e-8 beside it, and rates are very large or small."""


@dataclass
class Draft:
    """A bench while it is being made."""

    dice: random.Random
    size: Size
    tiny: bool
    coarse: bool
    sharp: bool
    settings: list[str] = field(default_factory=list)
    lists: dict[str, list[Row]] = field(default_factory=dict)
    sets: list[Row] = field(default_factory=list)
    parts: dict[str, Row] = field(default_factory=dict)
    shelves: dict[str, list[Row]] = field(default_factory=dict)
    terms: list[Row] = field(default_factory=list)
    drawer: list[Row] = field(default_factory=list)
    extras: list[Row] = field(default_factory=list)
    sure: list[str] = field(default_factory=list)

    def maybe(self, chance: float) -> bool:
        return self.dice.random() < chance

    def between(self, ends: tuple[int, int]) -> int:
        return self.dice.randint(*ends)


def make(seed: int, size: str) -> dict[str, str]:
    """File name -> text of one random bench."""
    draft = Draft(random.Random(f"{size} {seed}"), SIZES[size], size in SMALL, size == "ties", size == "sharp")
    wants = make_wants(draft)
    make_lists(draft, wants)
    for want in wants:
        make_parts(draft, want)
    make_shelves(draft)
    make_extras(draft)
    make_terms(draft)
    make_drawer(draft)
    make_settings(draft)
    return texts(draft)


def write(files: dict[str, str], folder: Path) -> Path:
    """The files laid into a folder."""
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def make_wants(draft: Draft) -> list[Row]:
    """Different things that positions ask for."""
    dice, found = draft.dice, []
    for _ in range(draft.between(draft.size.wants)):
        kind = dice.choices(["electrolytic", "bipolar", "film"], [8, 2, 1])[0]
        want = {"value": dice.choice(VALUES), "volts": dice.choice(VOLTS[:-1]), "kind": kind, "mount": "radial"}
        want["temp"] = dice.choice(["85", "105", "85", ""])
        if draft.maybe(0.7):
            want["pitch"], want["diameter"], want["height"] = dice.choice(CANS)
        if draft.maybe(0.3):
            want["role"] = dice.choice(["smoothing", "decoupling", "coupling", "timing", "switching"])
        if draft.maybe(0.2):
            want["operating"] = str(Decimal(want["volts"]) * Decimal(dice.choice(["0.5", "0.8", "0.9"])))
        if draft.maybe(0.15):
            want["ripple"] = str(dice.choice([50, 100, 200]))
        if want not in found:
            found.append(want)
    return found


def make_lists(draft: Draft, wants: list[Row]) -> None:
    """One or two chassis whose positions ask for the wants, and sets of them."""
    dice = draft.dice
    names = ["thrushnest", "wrenloft"][: 1 if draft.tiny else 2]
    following = dict.fromkeys(names, 1)
    for name in names:
        draft.lists[name] = []
    for want in wants:
        for name in dice.sample(names, dice.randint(1, len(names))):
            count = draft.between(draft.size.uses)
            first = following[name]
            following[name] += count
            refs = f"C{first}" if count == 1 else f"C{first}-C{first + count - 1}"
            if count == 2 and draft.maybe(0.5):
                refs = f"C{first}, C{first + 1}"
            draft.lists[name].append(want | {"ref": refs, "board": dice.choice(BOARDS)})
    for at in range(draft.between(draft.size.sets)):
        name = dice.choice([name for name in names if draft.lists[name]])
        draft.sets.append({"set": f"S{at + 1}", "chassis": name} | make_job(draft, name))


def make_job(draft: Draft, name: str) -> Row:
    """What is to be done to one set, and which boards it has."""
    boards = sorted({row["board"] for row in draft.lists[name]})
    single = [row["ref"] for row in draft.lists[name] if row["ref"].isalnum()]
    choice = draft.dice.random()
    if choice < 0.6 or draft.tiny:
        return {"job": "full", "boards": ""}
    if choice < 0.7 and single:
        return {"job": f"full -{draft.dice.choice(single)}", "boards": ""}
    if choice < 0.8:
        return {"job": f"full -{draft.dice.choice(boards)}", "boards": ""}
    if choice < 0.9:
        return {"job": draft.dice.choice(boards), "boards": ""}
    return {"job": "full", "boards": " ".join(draft.dice.sample(boards, draft.dice.randint(1, len(boards))))}


def make_parts(draft: Draft, want: Row) -> None:
    """Parts near a want: most suit it, some at the very limit, some not."""
    dice = draft.dice
    for at in range(draft.between(draft.size.parts)):
        part = {key: want[key] for key in ("value", "volts", "kind", "mount")}
        part |= {"maker": dice.choice(MAKERS), "temp": "105", "life": dice.choice(["2000", "3000", "5000"])}
        part["pitch"], part["diameter"], part["height"] = (want.get(k) or d for k, d in zip(
            ("pitch", "diameter", "height"), CANS[1], strict=True))  # fmt: skip
        part["ripple"] = want.get("ripple") or dice.choice(["", "150"])
        part["volts"] = dice.choice([part["volts"], *[v for v in VOLTS if float(v) >= float(part["volts"])][:3]])
        if at:
            spoil(draft, part, want)
        else:
            make_sure(part, want)
        number = next((known for known, other in draft.parts.items() if other == part), "")
        number = number or f"{part['kind'][:2].upper()}{part['value']}-{part['volts']}-{len(draft.parts) + 1}"
        draft.parts[number] = part
        if not at:
            draft.sure.append(number)


def make_sure(part: Row, want: Row) -> None:
    """A part that fits its want by every rule and every setting made here."""
    part["life"] = "5000"
    working = Decimal(want.get("operating") or 0)
    part["volts"] = next(v for v in VOLTS if Decimal(v) >= Decimal(part["volts"]) and Decimal(v) * 4 >= working * 5)


def spoil(draft: Draft, part: Row, want: Row) -> None:
    """Move one field of a part to a limit or past it, now and then."""
    dice = draft.dice
    if not draft.maybe(0.25):
        return
    which = dice.choice(["value", "volts", "temp", "life", "kind", "pitch", "diameter", "height", "ripple"])
    if which == "value":
        part["value"] = str(Decimal(want["value"]) * Decimal(dice.choice(["1.2", "1.21", "1.5", "1.51", "0.99"])))
    elif which == "volts":
        part["volts"] = str(Decimal(want["volts"]) * Decimal(dice.choice(["2", "2.1", "0.9"])))
    elif which == "kind":
        part["kind"] = dice.choice(["film", "tantalum", "bipolar", "electrolytic"])
    elif which in {"pitch", "diameter", "height"}:
        moves = ("-3.5 -3 -0.5 0.5 0.6 1 1.1" if which == "pitch" else "-1 0.5 0.6 2 2.1").split()
        part[which] = str(max(Decimal(part[which]) + Decimal(dice.choice(moves)), Decimal("0.5")))
    elif which == "ripple":
        part["ripple"] = dice.choice(["", "45", "90", "179", "500"])
    else:
        part[which] = dice.choice({"temp": ["85", "125", "105"], "life": ["1999", "2001", ""]}[which])


def make_shelves(draft: Draft) -> None:
    """Which shop offers which part, how; on most benches every want has some part without a limit."""
    certain = draft.maybe(0.85)
    for name in SHOPS[: draft.between(draft.size.shops)]:
        draft.shelves[name] = [
            {"part": number} | part | selling(draft)
            for number, part in draft.parts.items()
            if draft.maybe(draft.size.offered)
        ]
        if not draft.shelves[name]:
            number, part = draft.dice.choice(list(draft.parts.items()))
            draft.shelves[name].append({"part": number} | part | selling(draft))
        if draft.tiny:
            draft.shelves[name] = draft.dice.sample(draft.shelves[name], min(3, len(draft.shelves[name])))
    for number in draft.sure if certain else ():
        rows = [row for shelf in draft.shelves.values() for row in shelf if row["part"] == number]
        if rows:
            draft.dice.choice(rows)["stock"] = ""
        else:
            shelf = draft.dice.choice(list(draft.shelves.values()))
            shelf.append({"part": number} | draft.parts[number] | selling(draft) | {"stock": ""})


def selling(draft: Draft) -> Row:
    """Prices by quantity, least quantity, multiple, stock."""
    dice = draft.dice
    places = 8 if draft.sharp else dice.choices([2, 3, 4, 6], [6, 4, 2, 1])[0]
    price = Decimal(repr(dice.uniform(0.3, 2.5) if draft.tiny else 10 ** dice.uniform(-1.2, 0.5)))
    if draft.coarse:
        price = Decimal(dice.choice(["0.10", "0.20", "0.50", "1"]))
    first = dice.choice(draft.size.breaks[:2]) if draft.maybe(0.15) else 1
    above = [least for least in draft.size.breaks if least > first]
    steps = []
    for least in [first, *sorted(dice.sample(above, dice.randint(0, min(3, len(above)))))]:
        steps.append(f"{least}:{round(price, places)}")
        price *= (
            Decimal("0.5") if draft.coarse else Decimal(repr(dice.uniform(0.55, 0.98) if draft.maybe(0.95) else 1.1))
        )
    told = {"prices": " ".join(steps), "minimum": "", "multiple": "", "stock": ""}
    if draft.maybe(0.1):
        told["minimum"] = str(first + dice.randint(0, 3))
    if draft.maybe(0.15):
        told["multiple"] = str(dice.choice([2, 3] if draft.tiny else [2, 5, 10]))
    if draft.maybe(0.25):
        told["stock"] = str(dice.choice([2, 3, 4, 6, 9] if draft.tiny else [3, 8, 20, 40]))
    return told


def make_extras(draft: Draft) -> None:
    """Other things to buy, each under one or more numbers; a few are capacitors that the groups use too."""
    dice = draft.dice
    for at in range(dice.choice([0, 0, 1] if draft.tiny else [0, 1, 2, 4])):
        numbers = [f"X{at + 1}{letter}" for letter in "AB"[: dice.randint(1, 2)]]
        if draft.maybe(0.2) and draft.parts:
            numbers.append(dice.choice(sorted(draft.parts)))
        sold = False
        for name in sorted(draft.shelves):
            for number in numbers:
                room = len(draft.shelves[name]) < (4 if draft.tiny else 999)
                if number not in draft.parts and room and draft.maybe(0.6):
                    stock = {} if draft.maybe(0.2) else {"stock": ""}
                    draft.shelves[name].append({"part": number, "kind": "other"} | selling(draft) | stock)
                    sold = True
        if sold or draft.maybe(0.04):
            draft.extras.append({
                "item": f"thing {at + 1}", "qty": str(dice.randint(1, 2)), "part": " ".join(numbers),
                "set": dice.choice(["", draft.sets[0]["set"]]),
            })  # fmt: skip


def make_terms(draft: Draft) -> None:
    """Terms whose thresholds lie near the spend, some of them exactly on what a line costs."""
    dice = draft.dice
    for name in sorted(draft.shelves):
        currency, rate = dice.choice(list(CURRENCIES.items())) if draft.maybe(0.4) else ("EUR", "1")
        spend = (4 if draft.tiny else 25) * dice.uniform(0.3, 1.6)
        rows = draft.shelves[name]
        steps = [f"0:{round(Decimal(repr(dice.uniform(0.5, 8))), 2)}"]
        if draft.maybe(0.8):
            steps.append(f"{near(draft, rows, spend)}:{dice.choice(['0', '0.25', '1.90'])}")
        told = {"supplier": name, "currency": currency, "rate": rate, "shipping": " ".join(steps)}
        told["minimum"] = str(near(draft, rows, spend * 0.5)) if draft.maybe(0.4) else "0"
        told["handling"], told["line_fee"] = (
            dice.choice(["0", "0", "1.5", "0.333"]),
            dice.choice(["0", "0", "0.15", "0.8"]),
        )
        told |= {"duty": dice.choice(["0", "0", "2.7"]), "tax": dice.choice(["0", "19", "20", "8.1"])}
        if draft.sharp:
            told["rate"] = dice.choice(["1", "0.00012345", "12345.678901"])
            told["currency"] = "EUR" if told["rate"] == "1" else "USD"
        if draft.coarse:
            told |= {"currency": "EUR", "rate": "1", "handling": "0", "duty": "0", "tax": "0"}
            told |= {"shipping": dice.choice(["0:0", "0:0.20", "0:0.50 2:0"]), "minimum": dice.choice(["0", "0", "1"])}
            told["line_fee"] = dice.choice(["0", "0", "0", "0.10"])
        draft.terms.append(told)


def near(draft: Draft, rows: list[Row], spend: float) -> Decimal:
    """A threshold: some round amount, or exactly what some pieces of a line cost."""
    if rows and draft.maybe(0.9 if draft.sharp else 0.4):
        row = draft.dice.choice(rows)
        steps = [step.split(":") for step in row["prices"].split()]
        qty = int(steps[0][0]) + draft.dice.randint(0, 5)
        price = next(Decimal(price) for least, price in reversed(steps) if qty >= int(least))
        exact = qty * price
        if exact <= Decimal(repr(spend * 2)):
            beside = Decimal(draft.dice.choice(["-0.00000001", "0", "0.00000001"])) if draft.sharp else Decimal(0)
            return max(exact, Decimal("0.01")) + beside
    return max(round(Decimal(repr(spend)), 2), Decimal("0.01"))


def make_drawer(draft: Draft) -> None:
    """Some of the same parts lie in the drawer already; old ones among them."""
    for number, part in draft.parts.items():
        if draft.maybe(0.15):
            bought = draft.dice.choice(["2024-05-02", "2023-11-20", "2005-03-01"])
            qty = str(draft.dice.randint(1, 4))
            draft.drawer.append({"part": number} | part | {"qty": qty, "bought": bought, "place": "tin"})


def make_settings(draft: Draft) -> None:
    """bench.toml, every setting this size may have."""
    dice = draft.dice

    def word(chance: float) -> str:
        return "true" if draft.maybe(chance) else "false"

    draft.settings = [
        'currency = "EUR"', 'catalogs = "catalogs"', f"one_part_per_group = {word(0.6)}",
        f"use_drawer = {word(0.8)}", f"allow_care = {word(0.3)}",
        f"max_suppliers = {dice.choice(draft.size.most_shops)}",
        "[spares]", f"pieces = {dice.choice([0, 1]) if draft.tiny else dice.choice([0, 1, 2])}",
        f"percent = {dice.choice([0, 0, 5, 12.5])}",
    ]  # fmt: skip
    if draft.maybe(0.2) and not draft.tiny:
        draft.settings += ["confidence = 0.95", f"loss = {dice.choice(['0.02', '0.05'])}"]
    if draft.maybe(0.3):
        draft.settings += ["[rules]", f"life_min = {dice.choice([1000, 3000])}"]
    if draft.maybe(0.2):
        draft.settings += ["[rules.decoupling]", "capacitance_high = 1.5"]


def texts(draft: Draft) -> dict[str, str]:
    """The draft as files."""
    units = {f"caplists/{name}.csv": table(CAPLIST, lines) for name, lines in draft.lists.items()}
    shelves = {f"catalogs/{name}.csv": table(CATALOGUE, lines) for name, lines in draft.shelves.items()}
    files = units | shelves | {
        "bench.toml": "\n".join(draft.settings) + "\n",
        "sets.csv": table(["set", "chassis", "boards", "job", "note"], draft.sets),
        "catalogs/suppliers.csv": table(TERMS, draft.terms),
    }  # fmt: skip
    if draft.drawer:
        files["drawer.csv"] = table(DRAWER, draft.drawer)
    if draft.extras:
        files["extras.csv"] = table(["item", "qty", "set", "part", "note"], draft.extras)
    return files


def table(columns: list[str], lines: list[Row]) -> str:
    """Comma-separated text; the value column carries its unit, as a clean list does."""
    out = io.StringIO()
    writer = csv.DictWriter(out, columns, restval="", extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    for line in lines:
        writer.writerow(line | ({"value": f"{line['value']} µF"} if line.get("value") else {}))
    return out.getvalue()
