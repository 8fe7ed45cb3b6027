"""Progress of long work on the terminal: best so far, bound, gap. Silent in pipes and for work that is soon done."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from recap.show.terminal import messages, money

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from decimal import Decimal


@contextmanager
def progress() -> Iterator[Callable[[Decimal | None, Decimal, float], None] | None]:
    """Give a function that takes the best total so far, the bound and the gap, and shows them."""
    console = messages()
    if not console.is_terminal:
        yield None
        return
    with console.status("working out the order") as status:

        def said(best: Decimal | None, bound: Decimal, gap: float) -> None:
            found = "nothing yet" if best is None else money(best)
            status.update(f"best so far {found}, no order below {money(bound)}, gap {gap:.1%} (Ctrl-C keeps the best)")

        yield said
