"""A bench page on the loopback and real browsers before it."""

from __future__ import annotations

import threading
import time
from contextlib import contextmanager
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from recap.audit.places import Lists
from recap.audit.record import open_record
from recap.fit.page.serve import Place, prepare
from recap.model import CapList, Role, SetOnBench, Settings
from tests.audit.stories import MONDAY, group, line, order, part, position

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from recap.audit.record import Record

expect.set_options(timeout=15_000)
"""A busy machine may be slow; nothing here waits that long when it works."""

HOSTILE = "HRN-47<img src=x onerror=\"document.title='pwned'\"><script>document.title='pwned'</script>"
CHROMIUM = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
PHONE = (390, 844)
DESK = (1280, 900)


def lists() -> Lists:
    """Two sets of one chassis; a part number and a note that try to be script."""
    rows = (
        position("C901", "0.22", "275", "POWER", safety="X2"),
        position("C905", "220", "400", "POWER", role=Role.SMOOTHING, operating_V=Decimal(325)),
        position("C906", "47", "25", "POWER", pitch_mm=Decimal(5), note="</li><script>document.title='pwned'</script>"),
        position("C907", "47", "25", "POWER"),
        position("C2", "100", "16", "A/B 100%"),
        position("C3", "100", "16", "A/B 100%"),
    )
    sets = (SetOnBench("glim-1", "glimmerhatch", job=("full",), note="hums"), SetOnBench("glim-2", "glimmerhatch"))
    return Lists(sets, {"glimmerhatch": CapList("glimmerhatch", rows)}, Settings())


def keep_an_order(record: Record) -> None:
    rows = lists().caplists["glimmerhatch"].positions
    groups = (
        group("47 µF 25 V", ("glim-1", rows[2]), ("glim-1", rows[3]), spares=1),
        group("100 µF 16 V", ("glim-1", rows[4]), ("glim-1", rows[5]), spares=1),
    )
    wanted = order(
        line(part(HOSTILE, pitch_mm=Decimal("2.5")), 3, ("47 µF 25 V", 3)),
        line(part("HRN-100", "100", "25"), 3, ("100 µF 16 V", 3)),
    )
    record.keep(wanted, groups, MONDAY, "EUR")


class Bench:
    """A page that is being served. ``told`` collects what the terminal was told."""

    def __init__(
        self, folder: Path, *, lan: bool = False, port: int = 0, certificate: tuple[Path, Path] | None = None
    ) -> None:
        self.folder = folder
        self.told: list[str] = []
        self.record = open_record(folder)
        if not self.record.orders():
            keep_an_order(self.record)
        pair = certificate or (None, None)
        self._prepared = prepare(lists(), self.record, Place(port, lan, "127.0.0.1", *pair), self.told.append)
        self.base = self._prepared.base
        self.port = int(self.base.rpartition(":")[2])
        self._thread = threading.Thread(target=self._prepared.run, daemon=True)
        self._thread.start()
        end = time.monotonic() + 10
        while not self._prepared.server.started and time.monotonic() < end:
            time.sleep(0.01)

    @property
    def code(self) -> str:
        return self.told[-1].split("Code: ")[1].split()[0]

    def kinds(self) -> list[tuple[str, str | None]]:
        return [(event.kind.value, event.ref) for event in self.record.events()]

    def stop(self) -> None:
        self._prepared.server.should_exit = True
        self._thread.join(10)
        self._prepared.listener.close()
        self.record.close()


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    served = Bench(tmp_path)
    yield served
    served.stop()


@pytest.fixture
def lan_bench(tmp_path: Path) -> Iterator[Bench]:
    served = Bench(tmp_path, lan=True)
    yield served
    served.stop()


@pytest.fixture(scope="module")
def quiet(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """A page shared by tests that must not get anything into its record."""
    served = Bench(tmp_path_factory.mktemp("quiet"))
    yield served
    assert served.kinds() == []
    served.stop()


@pytest.fixture(scope="module")
def quiet_lan(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """The same behind the code."""
    served = Bench(tmp_path_factory.mktemp("lan"), lan=True)
    yield served
    assert served.kinds() == []
    served.stop()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(CHROMIUM))
        yield launched
        launched.close()


@contextmanager
def device(browser: Browser, size: tuple[int, int] = PHONE, scheme: str = "light") -> Iterator[BrowserContext]:
    """A phone or a computer with its own storage."""
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]},
        color_scheme="dark" if scheme == "dark" else "light",
        has_touch=size == PHONE,
    )
    context.set_default_timeout(15000)
    yield context
    context.close()


def open_board(context: BrowserContext, bench: Bench, board: str = "POWER") -> Page:
    page = context.new_page()
    page.goto(f"{bench.base}/set/glim-1/board/{board}")
    page.wait_for_selector("#link[data-state=online]")
    return page


def button(page: Page, ref: str, stage: str) -> str:
    return f'.card[data-ref="{ref}"] [data-stage="{stage}"]'
