"""Values as text: what is written here, the readers read back exactly."""

from __future__ import annotations

from decimal import Decimal

from recap.normalise import preferred
from recap.normalise.capacitances import MICRO, MILLI, NANO, PICO


def plain(value: Decimal) -> str:
    """Write a number without exponent and without zeros at its end; never so that it reads as thousands."""
    text = f"{value:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    whole, point, part = text.partition(".")
    # 1.234 could be read as one thousand two hundred and thirty-four: a fourth decimal settles it
    return f"{text}0" if point and len(part) == 3 and whole != "0" and len(whole) <= 3 else text  # noqa: PLR2004


def figures(quantity: Decimal, count: int) -> str:
    """Write a measured or reckoned quantity with so many figures, thousands parted, never with an exponent: ``1,330``.

    For the eye only: it isn't read back.
    """
    return f"{Decimal(f'{quantity:.{count}g}').normalize():,f}"


def format_capacitance(value_uF: Decimal) -> str:
    """Write a capacitance as the trade does: pF below 1 nF, nF below 0.1 µF, else µF (``4.7 µF``). Exact."""
    if value_uF < NANO:
        return f"{plain(value_uF / PICO)} pF"
    return f"{plain(value_uF / NANO)} nF" if value_uF < Decimal("0.1") else f"{plain(value_uF)} µF"


def letter_code(value_uF: Decimal) -> str:
    """Write a capacitance with the prefix letter as its decimal point: ``4µ7``, ``470n``, ``33p`` (IEC 60062). Exact.

    From 1000 µF up the letter is m (milli) and always has a digit behind it (``10m0``), because ``10m`` is
    10 µF to many.
    """
    letter, factor = next(
        ((letter, factor) for letter, factor in (("m", MILLI), ("µ", MICRO), ("n", NANO)) if value_uF >= factor),
        ("p", PICO),
    )
    whole, _, part = f"{(value_uF / factor):f}".partition(".")
    part = part.rstrip("0")
    if not part and (letter == "m" or len(whole) == 1):
        part = "0"
    return f"{'' if whole == '0' else whole}{letter}{part}"


def three_digit_code(value_uF: Decimal) -> str | None:
    """Write the three-character code in pF (``475``, ``4R7``), or None where two figures don't hold the value."""
    picofarads = value_uF / PICO
    if not Decimal("0.1") <= picofarads <= Decimal("99e7") or preferred.figures(picofarads) > 2:  # noqa: PLR2004
        return None
    if picofarads < 10:  # noqa: PLR2004 - below two figures R is the decimal point
        return f"{picofarads:.1f}".replace(".", "R") if picofarads == picofarads.quantize(Decimal("0.1")) else None
    power = picofarads.adjusted() - 1
    return f"{int(picofarads.scaleb(-power))}{power}"


def format_voltage(volts: Decimal, *, ac: bool = False) -> str:
    """Write a voltage: ``6.3 V``, ``1000 V``, an alternating one ``250 V~``. Exact."""
    return f"{plain(volts)} V~" if ac else f"{plain(volts)} V"
