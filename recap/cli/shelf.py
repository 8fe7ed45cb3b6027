"""``recap shelf``: whether a part that has lain for years may be fitted, and how to re-form it."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import typed
from recap.cli.answers import stop_on_errors, tell_of_bench
from recap.cli.steps import BENCH

if TYPE_CHECKING:
    from recap.model import Part
    from recap.show.shelf_view import ShelfRow

_WEEK = re.compile(r"(?P<year>[0-9]{4})-W(?P<week>[0-9]{2})")
_MONTH = re.compile(r"(?P<year>[0-9]{4})(?:-(?P<month>[0-9]{2}))?(?:-(?P<day>[0-9]{2}))?")


MAKERS_LAST_WEEK = 53
"""Makers stamp it in years of 52 weeks too (common practice)."""


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("shelf", rich_help_panel=BENCH)(shelf)


def shelf(
    part: list[str] | None = typer.Argument(None, help="What the part is marked with: 47uF 450V."),
    code: str | None = typer.Option(None, "--date-code", help="Date code on the part: H6, 1208."),
    bought: str | None = typer.Option(None, "--bought", help="When it was made or bought: 2015-03-01 or 2015."),
    bench: Path | None = typer.Option(None, "--bench", help="Judge the whole drawer of this bench instead."),
    on: str | None = typer.Option(None, "--on", help="The day to reckon from, instead of today."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Say whether old stock can be fitted, must be re-formed first, or is better replaced, with the numbers.

    A letter code repeats every twenty years: the older reading that is possible counts, and is named.

    Example: recap shelf "47uF 450V" --bought 2014-06

    Example: recap shelf --bench demo
    """
    today = date.today() if on is None else _day(on, "--on")  # noqa: DTZ011 - the user's own calendar day
    if (bench is None) is not bool(part):
        raise typer.BadParameter("give either a part or --bench", param_hint="PART")
    if code is not None and bought is not None:
        raise typer.BadParameter("give either --date-code or --bought", param_hint="--date-code")
    rows = _drawer(bench, today, as_json=as_json) if bench else [_one(" ".join(part or ()), code, bought, today)]
    if as_json:
        from recap.show.documents import print_document
        from recap.show.shelf_view import shelf_document

        print_document(shelf_document(rows))
        return
    from recap.show.shelf_view import CAUTION, print_drawer, print_one
    from recap.show.terminal import messages, output

    if any(row.verdict.procedure for row in rows):
        messages().print(CAUTION)
    if bench:
        print_drawer(output(), rows)
    else:
        print_one(output(), rows[0])


def _one(text: str, code: str | None, bought: str | None, today: date) -> ShelfRow:
    from recap.match.shelf import age_years, judge_shelf
    from recap.model import Kind, Part
    from recap.show.shelf_view import ShelfRow

    position, value_uF, volts = typed.rating(text)
    kind = Kind.ELECTROLYTIC if position.kind is Kind.UNKNOWN else position.kind
    made, dated = _made(code, bought, today)
    years = None if made is None else age_years(made, today)
    try:
        verdict = judge_shelf(years, kind=kind, value_uF=value_uF, rated_V=volts)
    except ValueError as problem:
        raise typer.BadParameter(str(problem), param_hint="--bought") from problem
    return ShelfRow(Part("", "", value_uF=value_uF, volts=volts, kind=kind), verdict, dated)


def _made(code: str | None, bought: str | None, today: date) -> tuple[date | None, str]:
    """Return the day a part's age counts from and where it comes from, in words."""
    if bought is not None:
        return _day(bought, "--bought"), f"made or bought {bought}"
    if code is None:
        return None, "no date known"
    from recap.normalise.markings import decode_marks

    readings = [r for r in decode_marks(code).readings if r.kind == "date"]
    days = {_day(str(r.value), "--date-code"): r for r in readings}
    past = sorted(day for day in days if day <= today)
    if not past:
        typed.refuse(code, "a date code of the past", "H6 or 1208", "--date-code")
    read = " or ".join(days[day].text for day in past)
    return past[0], f"date code {code}: {read}" + ("; the oldest counts" if len(past) > 1 else "")


def _day(text: str, option: str) -> date:
    """Read an ISO day, month, year or week; the first day of it counts."""
    try:
        if week := _WEEK.fullmatch(text.strip()):
            year, number = int(week["year"]), int(week["week"])
            last = date(year, 12, 28).isocalendar().week  # that day is always in it
            return date.fromisocalendar(year, last if number == MAKERS_LAST_WEEK else number, 1)
        if month := _MONTH.fullmatch(text.strip()):
            return date(int(month["year"]), int(month["month"] or 1), int(month["day"] or 1))
    except ValueError:
        pass
    return typed.refuse(text, "a date", "2015-03-01 or 2015", option)


def _drawer(bench: Path, today: date, *, as_json: bool) -> list[ShelfRow]:
    """Judge every part in the drawer, the oldest first; unknown ages come before all."""
    from recap.bench import load_bench
    from recap.match.limits import limits_for
    from recap.match.shelf import age_years, judge_shelf
    from recap.show.shelf_view import ShelfRow

    loaded, told = load_bench(bench)
    stop_on_errors(told, as_json=as_json)
    if not as_json:
        tell_of_bench(told)
    most = limits_for(loaded.settings, None).drawer_years
    rows = []
    for lying in loaded.drawer:
        bought = lying.bought if lying.bought is None or lying.bought <= today else None
        years = None if bought is None else age_years(bought, today)
        verdict = judge_shelf(
            years, kind=lying.part.kind, value_uF=lying.part.value_uF, rated_V=lying.part.volts, replace_years=most
        )
        dated = "no purchase date" if bought is None else f"bought {bought.isoformat()}"
        rows.append(ShelfRow(lying.part, verdict, dated, lying.qty, lying.place))
    return sorted(rows, key=lambda row: (row.verdict.years is not None, -(row.verdict.years or 0), _name(row.part)))


def _name(part: Part) -> str:
    return part.number
