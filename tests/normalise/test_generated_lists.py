"""Parts written in every combination of the trade's habits, in lines and in tables: read, they are the same parts."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from recap.model import Kind, Mount, Position
from recap.normalise.caplist import read_cap_text

many = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@dataclass(frozen=True)
class Said:
    """A writing and what it states."""

    text: str
    means: object


def said(table: dict[str, object]) -> st.SearchStrategy[Said]:
    """One of several writings, or none."""
    return st.sampled_from([Said("", None)] * 3 + [Said(text, means) for text, means in table.items()])


VALUES = "0.1 0.22 0.47 1 2.2 3.3 4.7 10 22 33 47 100 220 330 470 1000 2200 3300 4700 10000".split()
VOLTS = "4 6.3 10 16 25 35 40 50 63 100 160 200 250 350 400 450".split()
UNITS = ["uF", " uF", "µF", " µF", "μF", "u", "µ", " mfd", "MFD", " mF", " uf", "UF"]
VOLT_UNITS = ["V", " V", "v", "VDC", " VDC", " volts", "WV", " WVDC", " Volt"]
KINDS = said({
    "NP": Kind.BIPOLAR, "bipolar": Kind.BIPOLAR, "BP": Kind.BIPOLAR, "non-polar": Kind.BIPOLAR,
    "ungepolt": Kind.BIPOLAR,
    "tantalum": Kind.TANTALUM, "Tantal": Kind.TANTALUM, "Elko": Kind.ELECTROLYTIC, "electrolytic": Kind.ELECTROLYTIC,
    "film": Kind.FILM, "ceramic": Kind.CERAMIC,
})  # fmt: skip
MOUNTS = said({
    "radial": Mount.RADIAL, "Radial": Mount.RADIAL, "stehend": Mount.RADIAL, "axial": Mount.AXIAL,
    "liegend": Mount.AXIAL,
    "assiale": Mount.AXIAL, "SMD": Mount.SMD, "snap-in": Mount.SNAP_IN,
})  # fmt: skip
TEMPS = said({"105C": 105, "105°C": 105, "85 °C": 85, "105°": 105, "105 deg": 105, "85C": 85})
SIZES = said({
    "5x11": ("5", "11", None), "6.3 x 11 mm": ("6.3", "11", None), "Ø10 H16": ("10", "16", None),
    "P5": (None, None, "5"),
    "10x16 RM5": ("10", "16", "5"), "8x11.5x3.5": ("8", "11.5", "3.5"), "16mm x 25mm": ("16", "25", None),
    "RM 7.5": (None, None, "7.5"), "5mm pitch": (None, None, "5"), "D12.5 L20 P5": ("12.5", "20", "5"),
})  # fmt: skip


@st.composite
def refs(draw: st.DrawFn) -> tuple[str, list[str]]:
    """Designators as lists group them, and each by its name."""
    prefix = draw(st.sampled_from(["C", "C", "C", "CE", "EC"]))
    numbers = sorted(draw(st.lists(st.integers(100, 999), min_size=1, max_size=4, unique=True)))
    style = draw(st.sampled_from(["single", "range", "listed", "bare"]))
    if style == "range":
        dash = draw(st.sampled_from(["-", " - ", "–", "..", " to ", " bis ", "..."]))
        last = numbers[0] + len(numbers)
        return f"{prefix}{numbers[0]}{dash}{prefix}{last}", [f"{prefix}{n}" for n in range(numbers[0], last + 1)]
    if style == "listed":
        comma = draw(st.sampled_from([", ", ",", "/", " & ", "; ", " "]))
        return comma.join(f"{prefix}{n}" for n in numbers), [f"{prefix}{n}" for n in numbers]
    if style == "bare":
        comma = draw(st.sampled_from([", ", ",", "/"]))
        return prefix + comma.join(map(str, numbers)), [f"{prefix}{n}" for n in numbers]
    hyphen = draw(st.sampled_from(["", "", "-"]))
    return f"{prefix}{hyphen}{numbers[0]}", [f"{prefix}{numbers[0]}"]


@dataclass(frozen=True)
class Part:
    """One part as drawn: its writings and its facts."""

    value: str
    volts: str
    kind: Said
    mount: Said
    temp: Said
    size: Said

    def facts(self) -> tuple[object, ...]:
        """What reading it must give."""
        diameter, height, pitch = self.size.means or (None, None, None)  # type: ignore[misc]
        lengths = tuple(None if n is None else Decimal(n) for n in (diameter, height, pitch))
        kind = self.kind.means or Kind.UNKNOWN
        return (Decimal(self.value), Decimal(self.volts), self.temp.means, self.mount.means, kind, *lengths)


parts = st.builds(Part, st.sampled_from(VALUES), st.sampled_from(VOLTS), KINDS, MOUNTS, TEMPS, SIZES)


def found(position: Position) -> tuple[object, ...]:
    """The facts of a position in the order of :meth:`Part.facts`."""
    p = position
    return (p.value_uF, p.volts, p.temp_C, p.mount, p.kind, p.diameter_mm, p.height_mm, p.pitch_mm)


def check(text: str, names: list[str], part: Part) -> None:
    """Read ``text`` and compare every position with the part."""
    positions, _ = read_cap_text(text, "list.txt")
    assert [p.ref for p in positions] == names
    for position in positions:
        assert (found(position), position.doubts) == (part.facts(), ())


@st.composite
def cores(draw: st.DrawFn, part: Part) -> str:
    """A capacitance and a voltage, in one of the usual writings."""
    mark = draw(st.sampled_from([".", ".", ","]))
    value, volts = part.value.replace(".", mark), part.volts.replace(".", mark)
    if draw(st.booleans()):
        joint = draw(st.sampled_from([" ", "  ", ", ", " - ", "/", " @ "]))
        return f"{value}{draw(st.sampled_from(UNITS))}{joint}{volts}{draw(st.sampled_from(VOLT_UNITS))}"
    assume(part.value != part.volts)
    return draw(
        st.sampled_from([f"{value}/{volts}", f"{value}µF/{volts}V", f"{value}u/{volts}", f"{value} µF / {volts} V"])
    )


@many
@given(st.data(), parts, refs())
def test_a_line_in_any_order_of_its_words(data: st.DataObject, part: Part, named: tuple[str, list[str]]) -> None:
    core = data.draw(cores(part))
    extras = data.draw(st.permutations([s.text for s in (part.kind, part.mount, part.temp, part.size) if s.text]))
    text, names = named
    separator = data.draw(st.sampled_from([" ", ", ", "; ", " - ", "  "]))
    joint = data.draw(st.sampled_from([" ", ": ", " - ", " = ", "  "]))
    rest = separator.join([core, *extras])
    forms = [
        f"{text}{joint}{rest}",
        f"{rest}: {text}",
        f"{text} {core} ({', '.join(extras)})" if extras else f"{text} ({core})",
        "\t".join([text, core, *extras]),
        " | ".join([text, core, *extras]),
        f"- {text}: {rest}",
    ]
    check("Test board\n" + data.draw(st.sampled_from(forms)), names, part)


HEADERS = {
    "ref": ["Ref", "Designator", "Position", "Repère", "Bauteil", "Location", "Cap no.", "Reference(s)"],
    "value": ["Value", "Capacitance", "Wert", "Valeur", "Kapazität", "Cap. Value"],
    "volts": ["Volts", "Voltage", "WV", "Spannung", "Tension", "V", "Rated voltage"],
    "temp": ["Temp", "Temperature", "Temp °C", "Temperatur"],
    "mount": ["Mount", "Mounting", "Bauform", "Lead type"],
    "kind": ["Type", "Kind", "Typ", "Dielectric"],
    "size": ["Size", "Dimensions", "Maße", "Size (mm)", "D x H"],
}


@many
@given(st.data(), parts, refs())
def test_a_table_with_its_columns_in_any_order(data: st.DataObject, part: Part, named: tuple[str, list[str]]) -> None:
    text, names = named
    value, volts = (
        part.value + data.draw(st.sampled_from(UNITS)),
        part.volts + data.draw(st.sampled_from(["", "V", " V"])),
    )
    cells = {
        "ref": text, "value": value, "volts": volts, "temp": part.temp.text, "mount": part.mount.text,
        "kind": part.kind.text, "size": part.size.text,
    }  # fmt: skip
    order = data.draw(st.permutations(list(cells)))
    header = [data.draw(st.sampled_from(HEADERS[name])) for name in order]
    delimiter = data.draw(st.sampled_from(["\t", "|", " | "]))
    rows = [delimiter.join(header), delimiter.join(cells[name] for name in order)]
    if delimiter == "|":
        rows = [f"|{row}|" for row in rows]
        rows.insert(1, "|" + "---|" * len(order))
    check("\n".join(rows), names, part)
