"""One cell of a catalogue or drawer to one field of a part, or the reason why not.

A physical quantity that isn't understood is unknown (the rules then fit nothing on trust) and
told as a warning; what touches money or quantities is an error.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from recap.bench.arrow import to_arrow, to_numpy
from recap.bench.dates import read_date
from recap.bench.numerals import plain_numbers, whole_number
from recap.diagnostics import Severity
from recap.model import Kind, Mount
from recap.normalise import quantities, values
from recap.normalise.clean import fold
from recap.normalise.kind_words import KIND_WORDS, MOUNT_WORDS
from recap.normalise.later import compiled
from recap.normalise.particular import KIND_INCLUDES, MOUNT_INCLUDES, particular
from recap.normalise.reading import neat
from recap.normalise.words_abroad import KIND_STEMS, MOUNT_STEMS, STEM_LENGTH
from recap.read.sheet_words import SOLD_OUT, STOCKED, TO_ORDER

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from recap.normalise.reading import Reading

NOTHING = frozenset(
    ["", *"- -- – — ? n/a na n.a. none k.a. unknown unbekannt inconnu sconosciuto desconocido onbekend / . ...".split()]
)
"""Texts that state nothing, in lower case."""
TRUSTED_DOUBTS = frozenset({"unit-missing", "no-preferred-value", "looks-measured", "odd-voltage"})
"""Doubts about a hand-typed list that a catalogue's own column does not deserve."""

_MORE_KINDS = {
    **dict.fromkeys("funkentstör entstör suppression interference antiparasite".split(), Kind.SAFETY),
    **dict.fromkeys("sonstiges sonstige misc miscellaneous divers autre altro otro overig overige".split(), Kind.OTHER),
    **dict.fromkeys("connector switch transformer transistor coil resistor ic diode fuse".split(), Kind.OTHER),
    **dict.fromkeys("stecker schalter trafo spule widerstand sicherung".split(), Kind.OTHER),
}
"""Words of catalogues beyond those of cap lists."""

_MORE_MOUNTS = {
    **dict.fromkeys(("vert.", "steh.", "stoj."), Mount.RADIAL),
    **dict.fromkeys(("orizz.", "ass.", "lieg.", "hor."), Mount.AXIAL),
}
"""Shortened in price lists; without the full stop some are words of their own."""

_NO_FRACTION = compiled(r"(?<=\d)[.,]0+(?!\d)")
_BARE = compiled(r"[\d.,]+")
_FIGURES = compiled(r"[0-9]{1,9}")
_DECIMAL = compiled(r"[0-9]{1,9}\.[0-9]{1,9}")
_SAFETY = compiled(r"(?:class\s*|klasse\s*|classe\s*|clase\s*)?([XY][1-4])(?:[/,+& -]*([XY][1-4]))?", re.IGNORECASE)
_WITH_WORDS = compiled(r"\d[\d.,]*\s?[µμunp]F\s[A-Za-z .-]{2,20}", re.IGNORECASE)
_CLASS_BESIDE = compiled(r"^[XY][1-4](?:/?[XY][1-4])?\s+(?=\d)|(?<=\w|~)\s+\(?[XY][1-4](?:/?[XY][1-4])?\)?$")
"""A safety class beside its voltage: ``X2 275 VAC``."""
_CURRENT_SIGN = compiled(r"(?<=[\dVv])\s?[~=⎓]$")
"""``275~``, ``63=``: of alternating or direct current."""
_BOTH_UNITS = compiled(
    r"[\d./ ]+\s?(?:\"|″|''|in(?:ch)?\.?)\s*(?:dia\.?|diam\.?|[dlwh])?\s*\((?P<mm>\d+(?:\.\d+)?\s?mm)\)", re.IGNORECASE
)
_ROUND = compiled(r"^[ØøΦφ⌀∅]\s*(?=\d)")
_OFF_BY = compiled(r"(?<=\d)\s?(?:±|\+/-)\s?\d+(?:[.,]\d+)?(?=\s?(?:mm)?$)")
_PACKAGING = compiled(
    r"(?:reel|roll|rolle|tape|cut tape|bag|beutel|box|tube|tray|ammo|bulk|loose|lose|single|each|pack|packung|strip)s?"
    r"(?:\s*(?:of|à|von|de|zu)?\s*(?P<pieces>\d{1,6}))?",
    re.IGNORECASE,
)
_STRAY = compiled(r"^(?:~|≈|ca\.?|approx\.?|about|circa|etwa|env\.?)\s*|\s*[~*†]+$", re.IGNORECASE)
_GROUPED_COUNT = compiled(r"[1-9]\d{0,2}(?:,\d{3})+")
"""Nobody has a part of a piece: ``3,204`` pieces are thousands, whatever marks decimals elsewhere."""
_PIECES = (
    r"(?:\+|(?:pcs?|pieces?|stk|stück|stuks?|st|pz|pezzi|pi[eè]ces?|uds?|unidades|szt|ks|db|kpl|units?|off|ea)\b\.?|[個个件只])?"
)
_EXACTLY = compiled(rf"([\d.,' ]*\d)\s*{_PIECES}", re.IGNORECASE)
_AT_LEAST = compiled(rf"(?:>=?\s*|≥\s*|über\s*|over\s*|more than\s*)?([\d.,' ]*\d)\s*{_PIECES}", re.IGNORECASE)

_LEFT = compiled(
    r"(?:(?:only|just|last|nur noch|noch|letzte[nr]?|plus que|derni[eè]r\w*|solo|ultim\w*|quedan|nog maar|laatste)\s+)?"
    r"(?P<number>\d{1,6})\s*(?:pcs?|pieces?|stk|stück|st|pz|uds?|stuks)?\.?"
    r"(?:\s+(?:left|remaining|only|available|in stock|übrig|auf lager|verfügbar|restants?|rimast[ei]|disponibili"
    r"|beschikbaar))?",
    re.IGNORECASE,
)
"""``only 3 left``, ``noch 12 Stück``."""
_FOR_NOW = compiled(
    r"^(?:temporarily|currently|(?:zur ?zeit|z\. ?zt\.|derzeit|momentan|vorübergehend)"
    r"|(?:momentané|actuelle|temporaire)ment|temporaneamente|momentaneamente|temporalmente|tijdelijk)\s+"
)
_COUNT_BESIDE = compiled(r"(?P<number>\d{1,6})\s*\(.{1,40}\)")
"""``0 (due 15/03)``: a number, and something else in brackets."""
_IN_THOUSANDS = compiled(r"(\d{1,4}|\d{1,3}[.,]\d{1,2})\s?k(?:\s?(?:pcs?|stk|stück))?\.?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Taken:
    """A cell read: the value, None where nothing is stated or understood, and what is wrong with it."""

    value: Any
    code: str | None = None
    message: str | None = None
    hint: str | None = None
    severity: Severity = Severity.WARNING


NONE = Taken(None)


def _unclear(text: str, what: str, hint: str) -> Taken:
    message = f"{text[:60]!r} is not understood as {what}; it counts as not stated"
    return Taken(None, "field-unclear", message, hint)


def _with_unit(text: str, unit: str | None) -> str:
    return f"{text} {unit}" if unit and _BARE.fullmatch(text) else text


def _sure(reading: Reading | None, text: str, what: str, hint: str, mark: str | None = None) -> Taken:
    if reading is None:
        return _unclear(text, what, hint)
    value, doubts = reading.value, set(reading.doubts)
    if value is None and doubts == {"thousands-or-decimal"} and mark is not None:
        value, doubts = reading.readings[0 if mark == "." else 1], set()
    if value is None or doubts - TRUSTED_DOUBTS:
        message = f"{text[:60]!r} has more than one reading as {what} ({', '.join(sorted(doubts))}); not taken"
        return Taken(None, "field-unclear", message, hint)
    return Taken(value)


def _value(text: str, unit: str | None, mark: str | None) -> Taken:
    plain = plain_numbers(text, mark)
    hint = "write it with its unit: 4.7 µF"
    sections = values.sections(plain)
    if sections is not None:
        return _unclear(text, "one capacitance", "a can of several sections is bought by its part number, as an extra")
    taken = _sure(values.capacitance(plain, unit), text, "a capacitance", hint, mark)
    if taken.code is None or not _WITH_WORDS.fullmatch(text):
        return taken
    from recap.normalise.one_part import read_part  # only here: it brings half the reader along

    part = read_part(text, "a cell")  # ``47µF NP``: with a word beside it
    sure = len(part.positions) == 1 and not set(part.doubts) - TRUSTED_DOUBTS
    return Taken(part.positions[0].value_uF) if sure and part.positions[0].value_uF is not None else taken


def _volts(text: str, unit: str | None, mark: str | None) -> Taken:
    bare = _CURRENT_SIGN.sub("", _CLASS_BESIDE.sub("", text)) or text
    plain = _with_unit(plain_numbers(bare, mark), unit)
    return _sure(values.voltage(plain, bare=True), text, "a voltage", "write one rated voltage: 16 V", mark)


def _temp(text: str, _unit: str | None, _mark: str | None) -> Taken:
    whole = _NO_FRACTION.sub("", text)
    taken = _sure(quantities.temperature_C(whole, bare=True), text, "a temperature", "write it in °C: 105")
    if taken.value is None:
        return taken
    return Taken(int(taken.value)) if taken.value == int(taken.value) else _unclear(text, "a temperature", "write 105")


def _quantity(
    read: Callable[..., Reading | None], units: Mapping[str, Decimal], what: str, example: str, *, decimals: bool = True
) -> Callable[..., Taken]:
    """Return the parser of a quantity; ``decimals`` where its reader never takes a point for grouping.

    Plain numbers need no reader: large catalogues have thousands of different ones.
    """

    def parse(text: str, unit: str | None, mark: str | None) -> Taken:
        if unit is None or units.get(unit.lower()) == 1:
            plainly = _FIGURES.fullmatch(text) or (decimals and mark != "," and _DECIMAL.fullmatch(text))
            if plainly and (value := neat(Decimal(text))):
                return Taken(value)
        plain = _with_unit(plain_numbers(text, mark), unit)
        taken = _sure(read(plain, bare=True), text, what, f"write {example}", mark)
        return _unclear(text, what, "leave it blank where it isn't known") if taken.value == 0 else taken

    return parse


POLARITY = "polarity"
"""Stands in the place of a header's unit where a column of kinds says only whether parts are polarised."""
_UNPOLARISED = frozenset("no n nein non none keine ohne without nee nej".split())
_POLARISED = frozenset("yes y ja oui si sì + polar polarised polarized pol gepolt polarisé polarizzato".split())


def unpolarised(text: str) -> Taken:
    """Return bipolar of a part without polarity, and that it may only be no electrolytic."""
    message = f"{text[:60]!r} was taken for bipolar; it may only say that the part is no electrolytic"
    return Taken(Kind.BIPOLAR, "polarity-no", message, "write bipolar, film or ceramic")


def _word(words: Mapping[str, Any], what: str, choices: str, stems: Mapping[str, Any]) -> Callable[..., Taken]:
    @lru_cache(maxsize=4096)
    def bent(word: str) -> frozenset[Any]:
        plain = fold(word)
        return frozenset(meant for stem, meant in stems.items() if plain.startswith(stem))

    def parse(text: str, unit: str | None, _mark: str | None) -> Taken:
        if unit == POLARITY and text.casefold().strip(" .") in _POLARISED | _UNPOLARISED:
            return NONE if text.casefold().strip(" .") in _POLARISED else unpolarised(text)
        is_class = words is _KINDS and _SAFETY.fullmatch(text) is not None
        found = {Kind.SAFETY} if is_class else _meanings(text.casefold().strip(" ."), words, bent)
        if (meant := particular(found, KIND_INCLUDES if words is _KINDS else MOUNT_INCLUDES)) is not None:
            return Taken(meant)
        if words is _MOUNTS and FIELDS["kind"](text, None, None).value is not None:
            message = f"{text[:60]!r} says what the part is, not how it is mounted"
            return Taken(None, "field-unclear", message, f"write one of: {choices}", Severity.NOTE)
        return _unclear(text, what, f"write one of: {choices}")

    return parse


def _meanings(text: str, words: Mapping[str, Any], bent: Callable[[str], frozenset[Any]]) -> set[Any]:
    """Return what the whole text means, or else what runs of its words mean, longest first, ``bent`` ones by a stem."""
    if text in words:
        return {words[text]}
    pieces = [piece for piece in re.split(r"[\s,;/()]+", text) if piece]
    found: set[Any] = set()
    at = 0
    while at < len(pieces):
        for end in range(min(len(pieces), at + 3), at, -1):
            run = " ".join(pieces[at:end])
            if run in words:
                found.add(words[run])
                at = end
                break
        else:
            if len(pieces[at]) >= STEM_LENGTH and pieces[at].isalpha():
                found |= bent(pieces[at])
            at += 1
    return found


def _safety(text: str, _unit: str | None, _mark: str | None) -> Taken:
    match = _SAFETY.fullmatch(text)
    if match is not None:
        return Taken("/".join(part.upper() for part in match.groups() if part))
    if text.casefold() in {"no", "nein", "non", "0"}:
        return NONE
    return _unclear(text, "a safety class", "write X1, X2, Y1, Y2 … or leave it blank")


def _text(text: str, _unit: str | None, _mark: str | None) -> Taken:
    return Taken(text)


def _date(text: str, _unit: str | None, _mark: str | None) -> Taken:
    found = read_date(text)
    return Taken(found) if found is not None else _unclear(text, "a date", "write it as 2025-03-31")


def in_both_units(text: str) -> str | None:
    """Return the millimetres of a length that is written in inches and, in brackets, in mm; None where it isn't."""
    match = _BOTH_UNITS.fullmatch(text)
    return match["mm"] if match else None


def _length(text: str, unit: str | None, mark: str | None) -> Taken:
    """Read a length; what it may be off by, and the sign of a diameter, say nothing more."""
    return _PLAIN_LENGTH(_OFF_BY.sub("", _ROUND.sub("", in_both_units(text) or text)), unit, mark)


def _multiple(text: str, unit: str | None, mark: str | None) -> Taken:
    packaging = _PACKAGING.fullmatch(text)
    if packaging is None:
        return _PLAIN_MULTIPLE(text, unit, mark)
    if not packaging["pieces"]:
        return NONE
    message = f"{text!r} was read as: sold only by {packaging['pieces']}"
    return Taken(int(packaging["pieces"]), "pack-size", message, "if single pieces are sold, leave the cell blank")


def _stock(text: str, unit: str | None, mark: str | None) -> Taken:
    """Read how many can be bought: a number, about so many, or a word for enough, none or some day."""
    word = text.casefold().strip(" .!")
    if word in STOCKED:
        return NONE
    if word in SOLD_OUT or _FOR_NOW.sub("", word) in SOLD_OUT:
        return Taken(0)
    if TO_ORDER.fullmatch(word):
        message = f"{text[:40]!r} doesn't say how many can be had; no limit was taken"
        return Taken(None, "stock-unclear", message, "write 0 where it can't be had in time")
    beside = _COUNT_BESIDE.fullmatch(word)
    if beside is not None:
        message = f"{text[:40]!r} was read as {beside['number']} in stock"
        return Taken(int(beside["number"]), "stock-unclear", message, "write the number alone, if it is another one")
    thousands = _IN_THOUSANDS.fullmatch(word)
    if thousands is not None:
        return Taken(int(Decimal(thousands[1].replace(",", ".")) * 1000))
    number, _, behind = text.partition(" ")
    number = _STRAY.sub("", number if behind.casefold().strip(" .!") in STOCKED else text)
    said = _LEFT.fullmatch(number)
    number = said["number"] if said else number
    grouped = _GROUPED_COUNT.fullmatch(number)
    return _PLAIN_STOCK(re.sub(r"\D", "", number) if grouped else number, unit, mark)


def _count(name: str, least: int, *, open_ended: bool = False) -> Callable[..., Taken]:
    def parse(text: str, _unit: str | None, mark: str | None) -> Taken:
        match = (_AT_LEAST if open_ended else _EXACTLY).fullmatch(text)
        count = whole_number(match[1], mark) if match else None
        if count is None or count < least:
            blank = " or blank" if open_ended else ""
            message = f"{name} must be a whole number of {least} or more{blank}, found {text[:40]!r}"
            hint = "leave it blank where there is no limit" if open_ended else f"write a number: {max(least, 1)}"
            return Taken(None, "count-wrong", message, hint, Severity.ERROR)
        return Taken(count)

    return parse


_MOUNTS = {**{m.value: m for m in Mount}, **MOUNT_WORDS, **_MORE_MOUNTS}
_KINDS = {**{k.value: k for k in Kind}, **KIND_WORDS, **_MORE_KINDS}
_PLAIN_LENGTH = _quantity(quantities.length_mm, quantities.LENGTHS, "a length", "5 mm")
_PLAIN_MULTIPLE = _count("multiple", 1)
_PLAIN_STOCK = _count("stock", 0, open_ended=True)

FIELDS: Mapping[str, Callable[[str, str | None, str | None], Taken]] = {
    "maker": _text,
    "series": _text,
    "value": _value,
    "tolerance": _text,
    "volts": _volts,
    "temp": _temp,
    "life": _quantity(quantities.hours, quantities.HOURS, "a life in hours", "2000 h", decimals=False),
    "mount": _word(_MOUNTS, "a mount", ", ".join(Mount), MOUNT_STEMS),
    "kind": _word(_KINDS, "a kind", ", ".join(kind for kind in Kind if kind is not Kind.UNKNOWN), KIND_STEMS),
    "pitch": _length,
    "diameter": _length,
    "height": _length,
    "ripple": _quantity(quantities.current_mA, quantities.CURRENTS, "a current", "780 mA", decimals=False),
    "impedance": _quantity(quantities.resistance_ohm, quantities.RESISTANCES, "an impedance", "0.12 Ω"),
    "safety": _safety,
    "minimum": _count("minimum", 1),
    "multiple": _multiple,
    "stock": _stock,
    "updated": _date,
}
"""Reader of each catalogue column but ``part`` and ``prices``; arguments: text, unit in the header, decimal mark."""


_LEAST = {"minimum": 1, "multiple": 1, "stock": 0}
_LONGEST_COUNT = 9


def plain_counts(name: str, texts: pa.Array) -> list[int | None] | None:
    """Return all counts of a column at once where each is blank or plain digits and large enough, else None."""
    if name not in _LEAST or not len(texts) or pc.max(pc.binary_length(texts)).as_py() > _LONGEST_COUNT:
        return None
    stated = np.flatnonzero(to_numpy(pc.binary_length(texts)))
    digits = texts.take(to_arrow(stated))
    if not len(stated) or not pc.all(pc.ascii_is_decimal(digits)).as_py():
        return None
    counts = to_numpy(digits.cast(pa.int64()))
    if counts.min() < _LEAST[name]:
        return None
    whole: list[int | None] = [None] * len(texts)
    for row, count in zip(stated.tolist(), counts.tolist(), strict=True):
        whole[row] = count
    return whole
