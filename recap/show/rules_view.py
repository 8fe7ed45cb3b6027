"""The numbers that rules use, in the terminal and as JSON."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.match.limits import EXACT_ROLES, MEANINGS, PROFILES
from recap.normalise.writing import plain
from recap.show.documents import number
from recap.show.tables import plain_table
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from recap.match.limits import Number, Profile
    from recap.model import Role


def rules_document(numbers: Sequence[Number], role: Role | None) -> dict[str, Any]:
    """Return every number with its meaning and source, and the derating profiles."""
    return {
        "role": None if role is None else role.value,
        "rules": [
            {
                "key": one.key,
                "value": number(one.value) if isinstance(one.value, Decimal) else one.value,
                "meaning": MEANINGS[one.key],
                "set_by": one.set_by,
                "source": one.source.text,
                "source_kind": one.source.kind,
            }
            for one in numbers
        ],
        "profiles": [
            {
                "name": profile.name,
                "title": profile.title,
                "factors": {kind.value: number(factor) for kind, factor in profile.factors.items()},
                "headroom_K": number(profile.headroom_K),
                "remark": profile.remark,
                "source": profile.source.text,
                "source_kind": profile.source.kind,
            }
            for profile in PROFILES.values()
        ],
    }


def print_rules(console: Console, numbers: Sequence[Number], role: Role | None) -> None:
    """Print the numbers in force for a role, who set them, where the defaults come from; then the profiles."""
    table = plain_table()
    table.add_column("key", no_wrap=True)
    table.add_column("value", justify="right")
    table.add_column("meaning and source")
    for one in numbers:
        source = f"set in {one.set_by} of bench.toml" if one.set_by else f"{one.source.text} ({one.source.kind})"
        told = Text(f"{MEANINGS[one.key]}\n")
        told.append(source, style="dim")
        table.add_row(one.key, Text(_value(one.value)), told)
    console.print(table)
    if role in EXACT_ROLES:
        console.print(Text(f"A {role} position takes its own capacitance only, whatever is set here."))
    console.print(Text('Derating profiles, chosen with profile = "NAME" under [rules]:'))
    for profile in PROFILES.values():
        _print_profile(console, profile)


def _print_profile(console: Console, profile: Profile) -> None:
    hanging(console, "  ", f"{profile.name}: {profile.title}", "bold")
    remark = f"; {profile.remark}" if profile.remark else ""
    hanging(console, "    ", f"{profile.source.text} ({profile.source.kind}){remark}", "dim")


def _value(value: object) -> str:
    if isinstance(value, Decimal):
        return plain(value)
    if isinstance(value, tuple):
        return ", ".join(value) or "none"
    return "none" if value is None else str(value)
