"""The parts of the guide that are lists: made from the vocabulary, the settings, the codes, the rules."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap import codes
from recap.guide.citations import citations_part
from recap.guide.columns import FILES
from recap.guide.marks import code, plain, sentence
from recap.guide.priced import priced_part
from recap.match.limits import MEANINGS, PROFILES, ROLE_LIMITS, SOURCES
from recap.model import Limits, Role, Settings, SparesRule
from recap.normalise.writing import plain as written
from recap.settings import RULES, SPARES, TOP

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from recap.codes import Code
    from recap.guide.columns import Column
    from recap.settings import Key

STAGES: Final[tuple[tuple[str, Mapping[str, Code]], ...]] = (
    ("Files and tables as such", codes.FILES),
    ("Lists of capacitors", codes.LISTS),
    ("The bench folder: settings, catalogues, terms, sets, drawer, extras", codes.BENCH),
    ("The order", codes.ORDER),
    ("Goods in, the bench, the record", codes.WORK),
    ("What was typed", codes.USAGE),
)
"""The register of codes by the stages of the work."""


def tables_part() -> str:
    """Return every file with every column."""
    lines: list[str] = []
    for file in FILES:
        lines += [f"## {file.name}: {file.holds}", ""]
        lines += [_column(name, column, file.words.get(name, ())) for name, column in file.columns.items()]
        lines.append("")
    return "\n".join(lines)


def _column(name: str, column: Column, words: tuple[str, ...]) -> str:
    line = f"- **{plain(name)}**: {sentence(column.meaning)}"
    if column.needed:
        line += " Needed."
    if column.unit:
        line += f" A bare number is in {plain(column.unit)}."
    if column.example:
        line += f" Example: {code(column.example)}."
    others = [word for word in dict.fromkeys(words) if word != name]
    return line + (f" Also headed: *{plain(', '.join(others))}*." if others else "")


def settings_part() -> str:
    """Return every key of ``bench.toml``: its type and bounds, its default, what it sets."""
    return "\n\n".join(
        (
            "## At the top of the file",
            _keys(TOP, Settings()),
            "## [spares]: more than needed, for each group",
            "The largest of what the keys ask for counts.",
            _keys(SPARES, SparesRule()),
            "## [rules] and [rules.ROLE]: what may take the place of what",
            _keys(RULES, Limits()),
        )
    )


def _keys(keys: Mapping[str, Key], defaults: object) -> str:
    return "\n".join(
        f"- **{plain(name)}**: {sentence(key.meaning or MEANINGS[name])} {_kind(key)}; "
        f"{code(_toml(getattr(defaults, name)))} unless set."
        for name, key in keys.items()
    )


def _kind(key: Key) -> str:
    kind = key.kind[:1].upper() + key.kind[1:]
    if key.least is not None and key.most is not None:
        return f"{kind} from {key.least} to {key.most}"
    return f"{kind} of at least {key.least}" if key.least is not None else kind


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, Decimal):
        return written(value)
    if isinstance(value, str):
        return f'"{value}"'
    return "nothing" if value is None else "[]" if value == () else str(value)


def codes_part() -> str:
    """Return every code with its meaning, an example and what to do; which of them stop buying."""
    lines: list[str] = []
    for stage, register in STAGES:
        lines += [f"## {stage}", "", *(_code(name, one) for name, one in register.items()), ""]
    return "\n".join(lines)


def _code(name: str, one: Code) -> str:
    stops = " *Stops buying.*" if one.blocks else ""
    example = f" Example: {plain(one.example.rstrip('.'))}." if one.example else ""
    return f"- **{name}**: {sentence(one.title)}{stops}{example} To do: {sentence(one.todo)}"


def numbers_part() -> str:
    """Return every number of the rules: its default, what it sets, its source; and what differs for a role."""
    lines = [
        f"- **{plain(key)}** = {code(_toml(getattr(Limits(), key)))}: {sentence(meaning)} "
        f"Source ({SOURCES[key].kind}): {sentence(SOURCES[key].text)}"
        for key, meaning in MEANINGS.items()
    ]
    fixed = [
        f"- **{plain(name)}** ({source.kind}): {sentence(source.text)}"
        for name, source in SOURCES.items()
        if name not in MEANINGS
    ]
    return "\n".join([*lines, "", "Of what no setting changes:", "", *fixed])


def roles_part() -> str:
    """Return the roles and what differs for them."""
    return "\n".join(f"- **{role}**: {_differs(role)}" for role in Role)


def _differs(role: Role) -> str:
    own = ROLE_LIMITS.get(role, {})
    if not own:
        return "the numbers of [rules]."
    return ", ".join(f"{plain(key)} {written(value)}" for key, value in own.items()) + " unless set for it."


def profiles_part() -> str:
    """Return every derating profile: its factors by kind, its source."""
    lines = []
    for profile in PROFILES.values():
        factors: dict[Decimal, list[str]] = {}
        for kind, factor in profile.factors.items():
            factors.setdefault(factor, []).append(kind.value)
        said = "; ".join(f"{written(factor)} for {', '.join(kinds)}" for factor, kinds in factors.items())
        room = f" {written(profile.headroom_K)} K below the rated temperature." if profile.headroom_K else ""
        remark = f" {sentence(profile.remark)}" if profile.remark else ""
        lines.append(
            f"- **{profile.name}**: {sentence(profile.title)} {said}.{room}{remark} "
            f"Source ({profile.source.kind}): {sentence(profile.source.text)}"
        )
    return "\n".join(lines)


PARTS: Final[Mapping[str, Callable[[], str]]] = {
    "tables": tables_part,
    "settings": settings_part,
    "codes": codes_part,
    "numbers": numbers_part,
    "roles": roles_part,
    "profiles": profiles_part,
    "priced": priced_part,
    "citations": citations_part,
}
"""What a page may have filled in, by name."""
