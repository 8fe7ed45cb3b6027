"""Why an order is as it is, in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.order.wording import brief_text
from recap.show.documents import amount
from recap.show.tables import plain_table
from recap.show.terminal import counted, total

if TYPE_CHECKING:
    from rich.console import Console

    from recap.match.candidates import Candidates
    from recap.order.explain import Candidate, Explanation


def print_why(console: Console, account: Explanation, currency: str, found: Candidates) -> None:
    """Print for each group what it could have had, then the pieces over, then what terms did."""
    console.print(Text("Why these parts", style="bold"))
    what = f"goods with duty and tax in {currency}, without shipping"
    console.print(Text(f"What each would cost by itself: {what}; the whole order decides."))
    for why in account.groups:
        suited = counted(why.suited, "offer suits", "offers suit")
        drawn = f", {why.from_drawer} from the drawer" if why.from_drawer else ""
        table = plain_table(f"{why.group}: {why.need} wanted{drawn}; {suited}", headed=False)
        for candidate in why.candidates:
            table.add_row(*_row(candidate, why.group, found))
        console.print(table)
    if account.over:
        console.print(Text("Pieces beyond the need", style="bold"))
        for over in account.over:
            console.print(Text(f"  {over.supplier} {over.number}: {over.pieces} over; {over.reason}"))
    console.print(Text("What the suppliers' terms did", style="bold"))
    for terms in account.terms:
        for words in terms.words or ("nothing: no shipping, no fees, no minimum",):
            console.print(Text(f"  {terms.supplier}: {words}"))


def _row(candidate: Candidate, group: str, found: Candidates) -> tuple[Text, ...]:
    part = candidate.part
    judgement = found.judgement(group, part)
    verdict = "as named" if judgement is None else judgement.verdict.value
    cost = "too few in stock" if candidate.cost is None else f"{candidate.lot} for {total(candidate.cost)}"
    mark = "taken" if candidate.taken else ""
    return Text(mark), Text(part.supplier), Text(part.number), Text(brief_text(part)), Text(verdict), Text(cost)


def why_document(account: Explanation) -> dict[str, Any]:
    """Return the account as JSON; money as exact text, in the bench's currency."""
    return {
        "groups": [
            {
                "group": why.group,
                "need": why.need,
                "from_drawer": why.from_drawer,
                "suited": why.suited,
                "candidates": [
                    {
                        "supplier": c.part.supplier,
                        "part": c.part.number,
                        "lot": c.lot,
                        "cost": None if c.cost is None else amount(c.cost),
                        "taken": c.taken,
                    }
                    for c in why.candidates
                ],
            }
            for why in account.groups
        ],
        "over": [
            {"supplier": o.supplier, "part": o.number, "pieces": o.pieces, "reason": o.reason} for o in account.over
        ],
        "terms": [{"supplier": t.supplier, "words": list(t.words)} for t in account.terms],
    }
