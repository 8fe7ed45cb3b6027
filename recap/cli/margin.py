"""``recap margin``: may this part stand in for that one, and by how much."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import completion, typed
from recap.cli.answers import refuse_one, stop_on_errors, tell_of_bench
from recap.cli.plans import write_file
from recap.cli.steps import CHECK, USAGE
from recap.model import Part, Role, Settings

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from recap.bench import Bench
    from recap.match.margin import Margin, Use
    from recap.model import Position


@dataclass(frozen=True, slots=True)
class _Asked:
    """What the options say, read."""

    use: Use
    operating_V: Decimal | None
    ripple_mA: Decimal | None
    role: Role | None
    profile: str | None
    hours_per_day: float
    force: bool
    as_json: bool


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("margin", rich_help_panel=CHECK)(margin)


def margin(
    original: str | None = typer.Argument(None, help="The old part as in a list line, or SET:REF of a bench."),
    substitute: str | None = typer.Argument(None, help="The new part as in a list line, or a part number."),
    bench: Path | None = typer.Option(
        None, "--bench", help="A bench: positions and part numbers of it; alone, every part of its order."
    ),
    operating: str | None = typer.Option(None, "--operating", help="Working voltage, V."),
    ambient: str | None = typer.Option(None, "--ambient", help="Temperature around the part, °C."),
    ripple: str | None = typer.Option(None, "--ripple", help="Ripple current the part must bear, mA."),
    role: str | None = typer.Option(
        None, "--role", autocompletion=completion.roles, help="smoothing, decoupling, coupling, timing, deflection …"
    ),
    profile: str | None = typer.Option(
        None,
        "--profile",
        autocompletion=completion.profiles,
        help="Derating: home, long-life, three-quarters, spaceflight.",
    ),
    hours_per_day: float = typer.Option(24.0, "--hours-per-day", min=0.1, max=24.0, help="Use a day, for the years."),
    model: str = typer.Option(
        "cautious", "--model", autocompletion=completion.models, help="Life model; see recap life."
    ),
    plot: Path | None = typer.Option(None, "--plot", help="Draw the margins into this .svg or .png file."),
    force: bool = typer.Option(False, "--force", help="Let --plot replace a file."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Judge a substitute: verdict, every rule's margin, what it means, where the numbers come from.

    Example: recap margin "470uF 25V 85C radial 10x16 p5" "470uF 35V 105C radial 10x16 p5 5000h" --operating 20V

    Example: recap margin --bench demo
    """
    from recap.match.margin import Use

    asked = _Asked(
        Use(typed.maybe(typed.degrees, ambient, "--ambient"), _model(model)),
        typed.maybe(typed.volts, operating, "--operating"),
        typed.maybe(typed.milliamperes, ripple, "--ripple"),
        _role(role),
        _profile(profile),
        hours_per_day,
        force,
        as_json,
    )
    _check_plot(plot, force=force)
    if bench is None:
        if original is None or substitute is None:
            raise typer.BadParameter("two parts are needed, or --bench", param_hint="ORIGINAL SUBSTITUTE")
        _answer(_between(original, substitute, asked), f"{original} → {substitute}", plot, asked)
        return
    from recap.bench import load_bench

    loaded, told = load_bench(bench)
    stop_on_errors(told, as_json=as_json)
    if original is not None and substitute is not None:
        found = _on_bench(loaded, original, substitute, asked)
        _answer(found, f"{original} → {found.part.number} ({found.part.supplier})", plot, asked)
        return
    tell_of_bench(told)
    _all_chosen(loaded, original, plot, asked)


def _role(name: str | None) -> Role | None:
    if name is None:
        return None
    if name.lower() not in set(Role):
        raise typer.BadParameter(f"there is no role {name!r}; there are: {', '.join(Role)}", param_hint="--role")
    return Role(name.lower())


def _profile(name: str | None) -> str | None:
    from recap.match.limits import PROFILES

    if name is not None and name not in PROFILES:
        raise typer.BadParameter(f"there is no {name!r}; there are: {', '.join(PROFILES)}", param_hint="--profile")
    return name


def _model(name: str) -> str:
    from recap.match.life import CAUTIOUS, MODELS

    if name != CAUTIOUS and name not in MODELS:
        names = ", ".join((CAUTIOUS, *MODELS))
        raise typer.BadParameter(f"there is no {name!r}; there are: {names}", param_hint="--model")
    return name


def _check_plot(plot: Path | None, *, force: bool) -> None:
    if plot is None:
        return
    if plot.suffix.lower() not in {".svg", ".png"}:
        raise typer.BadParameter(f"{plot.name} ends in neither .svg nor .png", param_hint="--plot")
    if plot.exists() and not force:
        raise typer.BadParameter(f"{plot} is there already; --force replaces it", param_hint="--plot")


def _between(original: str, substitute: str, asked: _Asked) -> Margin:
    """Weigh two parts as they were typed."""
    old, new = typed.part(original, "ORIGINAL"), typed.part(substitute, "SUBSTITUTE")
    for found, hint in ((old, "ORIGINAL"), (new, "SUBSTITUTE")):
        if len(found.positions) > 1:
            raise typer.BadParameter(
                "this is a can of several sections: compare one section at a time, or see recap combine",
                param_hint=hint,
            )
        if not _says_something(found.positions[0]):
            typed.refuse(found.positions[0].text, "a part", '"470uF 25V 85C radial 10x16 p5"', hint)
    first, second = old.positions[0], new.positions[0]
    if first.volts is None and second.value_uF is None:  # 470uF 25V without quotation marks
        message = f'these are one part, torn apart: put each into quotation marks, "{original} {substitute}"'
        raise typer.BadParameter(message, param_hint="ORIGINAL SUBSTITUTE")
    return _weigh(old.positions[0], _as_part(new.positions[0], new.life_h), Settings(), asked)


def _says_something(stated: Position) -> bool:
    return stated.value_uF is not None or stated.volts is not None or bool(stated.safety)


def _as_part(stated: Position, life_h: Decimal | None) -> Part:
    return Part(
        "as typed",
        stated.text,
        value_uF=stated.value_uF,
        volts=stated.volts,
        temp_C=stated.temp_C,
        life_h=life_h,
        mount=stated.mount,
        kind=stated.kind,
        pitch_mm=stated.pitch_mm,
        diameter_mm=stated.diameter_mm,
        height_mm=stated.height_mm,
        ripple_mA=stated.ripple_mA,
        safety=stated.safety,
    )


def _weigh(position: Position, part: Part, settings: Settings, asked: _Asked, use: Use | None = None) -> Margin:
    """Weigh one part, what the options say standing over what the list says."""
    from recap.match.limits import limits_for
    from recap.match.margin import weigh

    place = replace(
        position,
        operating_V=position.operating_V if asked.operating_V is None else asked.operating_V,
        ripple_mA=position.ripple_mA if asked.ripple_mA is None else asked.ripple_mA,
        role=asked.role or position.role,
    )
    limits = limits_for(settings, place.role)
    if asked.profile is not None:
        limits = replace(limits, profile=asked.profile)
    return weigh(place, part, limits, use or asked.use)


def _on_bench(bench: Bench, place: str, number: str, asked: _Asked) -> Margin:
    """Weigh a part by its number (or as typed) in a position of the bench; of several offers the worst counts."""
    from recap.match.lookup import kept_numbered, offers_numbered, positions_at

    try:
        positions = positions_at(bench, place)
    except LookupError as problem:
        hint = "name a set or a chassis of the bench, and behind a colon the designator as its list has it"
        refuse_one("position-unknown", str(problem.args[0]), place, hint, as_json=asked.as_json, status=USAGE)
    if len(positions) > 1:
        names = ", ".join(p.ref or "" for p in positions)
        message = f"{place} is a can: name one of its sections"
        refuse_one("position-unknown", message, place, names, as_json=asked.as_json, status=USAGE)
    found = [
        _weigh(positions[0], kept.part, bench.settings, asked, replace(asked.use, bought=kept.bought))
        for kept in kept_numbered(bench, number)
    ]
    found += [_weigh(positions[0], part, bench.settings, asked) for part in offers_numbered(bench, number)]
    if not found:
        new = typed.part(number, "SUBSTITUTE")
        if not _says_something(new.positions[0]):
            hint = 'name a number as it stands in a catalogue or the drawer, or write "470uF 25V 85C radial 10x16 p5"'
            refuse_one("line-unknown", f"no part is called {number}", number, hint, as_json=asked.as_json, status=USAGE)
        found = [_weigh(positions[0], _as_part(new.positions[0], new.life_h), bench.settings, asked)]
    return max(found, key=lambda one: one.verdict.rank)


def _answer(found: Margin, title: str, plot: Path | None, asked: _Asked) -> None:
    if plot is not None:
        from recap.show.margin_plot import margin_picture

        picture = margin_picture(found, title, plot.suffix.lower().lstrip("."))
        write_file(plot, picture, force=asked.force, as_json=asked.as_json)
    if asked.as_json:
        from recap.show.documents import print_document
        from recap.show.margin_view import margin_document

        print_document(margin_document(found, asked.hours_per_day))
        return
    from recap.show.margin_view import print_margin
    from recap.show.terminal import output

    print_margin(output(), found, asked.hours_per_day)


def _all_chosen(bench: Bench, place: str | None, plot: Path | None, asked: _Asked) -> None:
    """Weigh every part that the bench's order chooses (or those for one position), the worst first."""
    from recap.order.margins import chosen
    from recap.order.run import run_order

    run = run_order(bench)
    stop_on_errors(run.diagnostics, as_json=asked.as_json)

    def weigh(position: Position, part: Part, bought: date | None) -> Margin:
        return _weigh(position, part, bench.settings, asked, replace(asked.use, bought=bought))

    found = chosen(run.part or run.report, weigh, place)
    if place is not None and not found:
        message = f"the order takes no part for {place}"
        refuse_one("position-unknown", message, place, "is it on the job?", as_json=asked.as_json, status=USAGE)
    unmet = [need.group for need in run.report.unmet]
    if plot is not None:
        from recap.show.margin_plot import order_picture

        title = f"What the order of {bench.folder.resolve().name} takes: the number with the least room of each part"
        picture = order_picture(found, title, plot.suffix.lower().lstrip("."))
        write_file(plot, picture, force=asked.force, as_json=asked.as_json)
    if asked.as_json:
        from recap.show.documents import print_document
        from recap.show.margin_list import chosen_document

        print_document(chosen_document(found, unmet, asked.hours_per_day))
        return
    from recap.show.margin_list import print_chosen
    from recap.show.terminal import output

    print_chosen(output(), found, unmet)
