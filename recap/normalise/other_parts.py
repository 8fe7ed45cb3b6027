"""Lines of parts that are no capacitors, told by their own words, and what speaks for a capacitor after all.

A list of parts holds resistors, plugs and circuits beside capacitors; a figure of theirs (``1/8 Watt``, ``2P``,
``4052N``) must never become a capacitance.
"""

from __future__ import annotations

import re
from typing import Final

from recap.normalise import words
from recap.normalise.clean import fold
from recap.normalise.later import compiled


def _folded(text: str) -> frozenset[str]:
    return frozenset(fold(word) for word in text.split())


OTHER_WORDS: Final = _folded(
    "res resistor resistors resistance "
    "potentiometer potentiometers trimpot trimmer pot pots thermistor varistor inductor "
    "inductors coil coils choke ferrite bead beads transformer diode diodes rectifier bridge zener schottky led leds "
    "transistor transistors mosfet mosfets jfet triac thyristor ic ics opamp op-amp optocoupler optocouplers eprom "
    "microcontroller crystal oscillator resonator relay relays fuse fuses fuseholder switch switches button pushbutton "
    "jack jacks plug plugs socket sockets connector connectors header headers terminal terminals pinheader jumper "
    "battery batteries adapter adaptor speaker loudspeaker buzzer lamp bulb heatsink screw screws spacer standoff "
    "breadboard cable cables wire display lcd pcb resisitor resisitors resister resisters "
    "widerstand widerstände vorwiderstand poti potis spule spulen drossel übertrager trafo diode dioden gleichrichter "
    "transistoren spannungsregler festspannungsregler drehregler schieberegler längsregler "
    "quarz relais sicherung sicherungen schalter taster stecker "
    "buchse buchsen sockel stiftleiste buchsenleiste klemme klemmen schraubklemme schraubklemmen batterie "
    "batteriehalter steckernetzteil kühlkörper schraube schrauben lautsprecher anschlussblock optokoppler "
    "résistance résistances potentiomètre bobine diode diodes relais fusible interrupteur connecteur pile haut-parleur "
    "resistenza resistenze potenziometro bobina diodo diodi relè fusibile interruttore connettore morsettiera zoccolo "
    "lampadina altoparlante batteria "
    "resistencia resistencias potenciómetro diodo diodos relé fusible interruptor conector zócalo clip batería pila "
    "parlante altavoz "
    "connectoren steckverbinder connettori conectores connecteurs ic's regulador regulator regulators "
    "weerstand weerstanden spoel diode diodes zekering schakelaar stekker luidspreker batterij "
    "polyfuse polyfuses transformador transformadores fusível fusíveis bornera borneras potenciômetro potenciômetros "
    "rezystor rezystory dioda diody tranzystor tranzystory bezpiecznik przekaźnik potencjometr cewka rezistor "
    "rezistory tranzistor tranzistory pojistka ellenállás dióda tranzisztor biztosíték motstånd säkring резистор "
    "резисторы диод диоды транзистор транзисторы микросхема предохранитель разъем реле дроссель светодиод "
    "клеммник кварц xtal quartz quarzo cuarzo"
)
"""One of these names a part that is no capacitor."""
_OTHER_ENDINGS: Final = tuple(
    "widerstand widerstande diode dioden stecker buchse leiste leisten klemme klemmen sockel schalter taster "
    "sicherung relais transistor transistoren halter".split()
)
CAPACITOR_WORDS: Final = _folded(
    "cap caps capacitor capacitors electrolytic electrolytics elko elkos elco elcos kondensator kondensatoren "
    "condensateur condensateurs condensatore condensatori condensador condensadores condensator condensatoren kerko "
    "capacitores kondensatory kondensatorer kondensaattori kondensaattorit kondenzátor kondenzátory конденсатор "
    "конденсаторы "
    "electroliticos elektrolyt elektrolyter "
    "kerkos tantalum tantal tantale tantalio mlcc bipolar supercap goldcap"
) | words.MISSPELT
_CAPACITOR_ENDINGS: Final = tuple(
    "elko elkos kondensator kondensatoren kerko kerkos tantal コンデンサ コンデンサー 电容 電容 电容器".split()
)
FARADS: Final = compiled(
    r"\d\s?(?:[uµμnp]\s?F|m?mfd?|mkF|microfarads?)(?![A-Za-z])|(?<![\w.,-])(?!(?-i:1N)\s\d{3,4}(?!\s?V))"
    r"(?:\d{1,3}(?:[.,]\d{1,2})?[nuµμ]|\d{4,5}[uµμ])\d{0,2}(?![A-Za-z0-9])",
    re.IGNORECASE,
)
"""A capacitance with its unit, or with a letter that only capacitances have so (IEC 60062)."""
FARAD_UNIT: Final = compiled(r"\d\s?(?:[uµμnp]\s?F|m?mfd)(?![A-Za-z])", re.IGNORECASE)
_OHMS: Final = compiled(
    r"(?<![\w.,-])\d+(?:[.,]\d+)?(?:[kM]\d?|R)(?![\w])|\d\s?[kKM]?\s?(?:Ω|ω|[oO]hms?(?![A-Za-z]))|\d\s?[nµu]H(?![A-Za-z0-9])"
)
_PHRASES: Final = compiled(
    r"\bop[\s-]?amps?\b|\bvoltage regulators?\b"
    r"|水晶|晶振|振動子|开关|スイッチ|芯片|电阻|電阻|抵抗|二极管|三极管|ダイオード|トランジスタ|コネクタ|ソケット|插座|排针|排母|继电器|リレー"
    r"|ヒューズ|保险丝|电感|インダクタ|コイル|运放",
    re.IGNORECASE,
)
"""Names of other parts that are no single word; where no blanks part the words, anywhere in the text."""
_CRYSTAL: Final = compiled(
    r"(?:[^pnuµμ]|[pnuµμ](?!F))*?(?:crystal|xtal|resonator|quar[tz]|cuarzo|水晶|晶振|振動子|кварц)(?:[^pnuµμ]|[pnuµμ](?!F))*?"
    r"\d\s?[kM]Hz\W+(?:\w+\W+)??(?P<load>\d[\d.,]*\s?pF?)(?![A-Za-z])",
    re.IGNORECASE,
)
_PLACES: Final = compiled(r"(?<![A-Za-z0-9-])(?:IC|Q|U|TR|LED|CN|CON|JP|SW|RV|VR|XTAL)\d{1,3}(?![\w-])")
_WORD: Final = compiled(r"[^\W\d_][^\W\d_-]+(?:-[^\W\d_]+)?")


def names_capacitor(text: str) -> bool:
    """Tell whether a word in ``text`` says capacitor."""
    told = _words(text)
    return bool(told & CAPACITOR_WORDS) or any(word.endswith(_CAPACITOR_ENDINGS) for word in told)


def is_other_word(word: str) -> bool:
    """Tell whether a folded word names a part that is no capacitor, in the singular or the plural."""
    return word in OTHER_WORDS or word.removesuffix("s") in OTHER_WORDS or word.endswith(_OTHER_ENDINGS)


def names_other(text: str) -> bool:
    """Tell whether a word in ``text``, its unit or its designator is another part's."""
    told = _words(text)
    ended = any(word.endswith(_OTHER_ENDINGS) for word in told)
    named = bool(told & OTHER_WORDS) or ended or _PHRASES.search(text) is not None
    return named or _OHMS.search(text) is not None or _PLACES.search(text) is not None


def speaks_only_of_others(text: str) -> bool:
    """Tell whether a line without a capacitor's designator is about another part.

    A capacitance with its unit, or a word for capacitors, outweighs whatever else stands there; but behind a crystal
    some pF are the load that it is cut for (``crystal 16 MHz 18 pF``).
    """
    if names_capacitor(text) or not names_other(text):
        return False
    crystal = _CRYSTAL.match(text)
    bare = text if crystal is None else text[: crystal.start("load")] + text[crystal.end() :]
    return FARADS.search(bare) is None


def is_adjustable(text: str) -> bool:
    """Tell whether a line is of a capacitor that is turned: no part that is ever replaced by one of a list."""
    return _ADJUSTABLE.search(text) is not None


_ADJUSTABLE: Final = compiled(
    r"\b(?:variable|trimmers?|padders?|padding|(?:\d-?)?gang(?:ed)?|tuning (?:capacitor|condenser|gang)|preset|drehko"
    r"|drehkondensator|trimmkondensator|lufttrimmer|ajustable|variabile|compensatore|trimer|afstemcondensator|trymer)\b",
    re.IGNORECASE,
)


def turns(text: str) -> bool:
    """Tell whether a line says of its part itself, and not of a neighbour, that it is a variable one or a trimmer."""
    return any(_NEIGHBOUR.search(text, max(m.start() - 24, 0), m.start()) is None for m in _TURNED.finditer(text))


_TURNED: Final = compiled(
    r"\b(?:variable|trimmers?|padders?|(?:\d-?)?gang(?:ed)?|drehko|drehkondensator|trimmkondensator|lufttrimmer|variabile|compensatore"
    r"|trimer|afstemcondensator|trymer|ajustable|var(?=[.,]))",
    re.IGNORECASE,
)
_NEIGHBOUR: Final = compiled(
    rf"(?<!\w)(?:{'|'.join(sorted(words.BESIDE | {'across', 'with', 'of', 'feeds'}))})\s(?:[\w.-]+\s){{0,2}}$",
    re.IGNORECASE,
)


def states_resistance(text: str) -> bool:
    """Tell whether a resistance stands in a text: ``100 kOhm``."""
    return _OHMS.search(text) is not None


def leads(text: str) -> bool:
    """Tell whether a line begins with another part and says nothing of capacitors (``Resistors (7x 1k, 47 uF)``)."""
    return _LEADING.match(fold(text)) is not None and not names_capacitor(text)


def is_plain(text: str, *, foreign: bool = False) -> bool:
    """Tell whether nothing on the line reads like value and voltage: then a note is enough, otherwise a warning.

    ``foreign``: another part's designator opens the line.
    """
    if foreign and is_adjustable(text):
        return True  # ``VC1  2-gang, 500 pF``
    if foreign:
        return FARAD_UNIT.search(text) is None
    return _PAIR.search(text) is None or _OHMS.search(text) is not None or _LEADING.match(fold(text)) is not None


_PAIR: Final = compiled(r"(?<![\w.,/-])\d{1,5}(?:[.,]\d)?\s?/\s?\d{1,3}(?![\w/])(?!\s?W)", re.IGNORECASE)
_LEADING: Final = compiled(
    rf"\W*(?:\d{{1,3}}\s?[x×]?\s)?\W*(?:{'|'.join(sorted(OTHER_WORDS, key=len, reverse=True))})(?!\w)"
)


def _words(text: str) -> set[str]:
    found = {fold(match[0]) for match in _WORD.finditer(text)}
    return found | {piece for word in found for piece in word.split("-")}
