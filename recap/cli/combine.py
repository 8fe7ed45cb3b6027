"""``recap combine``: what stands in for a value or can that nobody makes any more."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import completion, typed
from recap.cli.answers import stop_on_errors
from recap.cli.steps import CHECK

if TYPE_CHECKING:
    from recap.match.combine import Combination
    from recap.match.obsolete import CanStandIn
    from recap.model import Part, Position


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("combine", rich_help_panel=CHECK)(combine)


def combine(
    part: list[str] = typer.Argument(help="The old part, a can by its sections: 500uF 50V, 20+20+20uF 450V."),
    operating: str | None = typer.Option(None, "--operating", help="Working voltage, V, where it is known."),
    role: str | None = typer.Option(
        None, "--role", autocompletion=completion.roles, help="What it does: smoothing, coupling, timing …"
    ),
    bench: Path | None = typer.Option(None, "--bench", help="Join parts of this bench's catalogues and drawer."),
    join: bool = typer.Option(False, "--join", help="Show joined parts even where a single one goes."),
    most: int = typer.Option(5, "--most", min=1, max=50, help="At most so many joined stand-ins."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Say what to fit for an obsolete value or a can, and how parts can be joined where nothing single fits.

    Joined parts are always "with care", and shown where nothing single goes. Without --bench they are
    reckoned from the usual values and ratings.

    Example: recap combine 20+20+20uF 450V

    Example: recap combine 100uF 550V --operating 480V
    """
    from recap.match.obsolete import stand_in_for_can
    from recap.match.protection import cautions
    from recap.model import Kind

    text = " ".join(part)
    positions = typed.part(text).positions
    values = [p.value_uF for p in positions if p.value_uF is not None]
    if len(values) < len(positions):
        raise typer.BadParameter(f"{text!r} states no capacitance; write it like 500uF 50V", param_hint="PART")
    first = _asked(positions[0], operating, role)
    safety = bool(first.safety) or first.kind is Kind.SAFETY
    can = stand_in_for_can(values, [p.volts for p in positions], first.role, safety=safety)
    single, joined, currencies = _from_bench(first, bench, most, as_json=as_json) if bench else ((), (), {})
    if len(positions) > 1 or (single and not join):
        joined = ()
    elif bench is None and (join or not _still_made(can)):
        joined = _usual(first, most)
    if as_json:
        from recap.show.combine_view import combine_document
        from recap.show.documents import print_document

        print_document(combine_document(can, joined, single, cautions(first), currencies=currencies))
        return
    from recap.show.combine_view import print_combine
    from recap.show.terminal import output

    print_combine(output(), can, joined, single, cautions(first), currencies=currencies)


def _still_made(can: CanStandIn) -> bool:
    """Tell whether a single part of today's values and ratings goes in the place."""
    from recap.normalise.preferred import in_series

    section = can.sections[0]
    return in_series(section.value.fit_uF, "E6") and (section.volts is None or section.fit_V is not None)


def _asked(position: Position, operating: str | None, role: str | None) -> Position:
    from recap.model import Kind, Role

    if role is not None and role not in {r.value for r in Role}:
        typed.refuse(role, "a role", ", ".join(Role), "--role")
    return replace(
        position,
        kind=Kind.ELECTROLYTIC if position.kind is Kind.UNKNOWN else position.kind,
        operating_V=typed.maybe(typed.volts, operating, "--operating") or position.operating_V,
        role=position.role if role is None else Role(role),
    )


def _usual(position: Position, most: int) -> tuple[Combination, ...]:
    from recap.match.combine import stand_ins
    from recap.match.limits import limits_for
    from recap.match.usual import usual_parts
    from recap.model import Settings

    return stand_ins(position, usual_parts(position), limits_for(Settings(), position.role), most=most)


def _from_bench(
    position: Position, bench: Path, most: int, *, as_json: bool
) -> tuple[tuple[Part, ...], tuple[Combination, ...], dict[str, str]]:
    """Return the bench's single parts that go in the place, what can be joined of its parts, and currencies."""
    from recap.bench import load_bench
    from recap.match.columns import Offers
    from recap.match.joinable import joined_offers
    from recap.match.limits import limits_for
    from recap.match.rules import judge
    from recap.model import Verdict

    loaded, told = load_bench(bench)
    stop_on_errors(told, as_json=as_json)
    limits = limits_for(loaded.settings, position.role)
    offers = Offers(loaded.catalogues)
    rows = offers.suiting(position, limits, Verdict.CARE).tolist() if len(offers) else []
    parts = [lying.part for lying in loaded.drawer if lying.part.value_uF is not None] + [offers.part(r) for r in rows]
    ranked = [(judge(position, part, limits).verdict, part) for part in parts]
    single = sorted((pair for pair in ranked if pair[0] is not Verdict.NO), key=lambda pair: pair[0].rank)
    joined = joined_offers(position, offers, loaded.drawer, limits, most=most)
    currencies = {name: terms.currency for name, terms in loaded.suppliers.items()}
    return tuple(part for _, part in single), joined, currencies
