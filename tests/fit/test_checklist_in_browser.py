"""The checklist's HTML file in a real browser, opened from disk as a person would."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext, Page, sync_playwright

from recap.fit.checklist_html import checklist_html
from tests.fit.test_checklist_files import made

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

HOSTILE = "<img src=x onerror=\"document.title='pwned'\"><script>document.title='pwned'</script>"


@pytest.fixture(scope="module")
def context() -> Iterator[BrowserContext]:
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=chromium, args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
        )
        opened = browser.new_context(offline=True)
        opened.set_default_timeout(8000)
        yield opened
        browser.close()


def opened(context: BrowserContext, folder: Path, *, size: tuple[int, int] = (1280, 900), number: str = "HRN") -> Page:
    file = folder / "list.html"
    file.write_text(checklist_html(made(number)), encoding="utf-8")
    page = context.new_page()
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.goto(file.as_uri())
    return page


def test_ticks_and_measured_values_survive_closing_the_page(context: BrowserContext, tmp_path: Path) -> None:
    page = opened(context, tmp_path)
    row = page.locator("tbody tr").first
    for box in row.locator("input[type=checkbox]").all():
        box.check()
    row.locator("input[type=text]").fill("0.51 µF")
    row.locator("input[type=text]").blur()
    assert page.locator("#done").inner_text() == "1 of 7 finished."
    page.close()
    again = opened(context, tmp_path)
    row = again.locator("tbody tr").first
    assert all(box.is_checked() for box in row.locator("input[type=checkbox]").all())
    assert row.locator("input[type=text]").input_value() == "0.51 µF"
    assert again.locator("tbody tr").nth(1).locator("input:checked").count() == 0


def test_text_that_tries_to_be_script_stays_text(context: BrowserContext, tmp_path: Path) -> None:
    page = opened(context, tmp_path, number=HOSTILE)
    assert page.title() == "Checklist: set-1, set-2"
    assert page.locator("img").count() == 0
    assert HOSTILE in page.locator("main").inner_text()


@pytest.mark.parametrize("size", [(1280, 900), (390, 844)], ids=["desk", "phone"])
def test_an_accessibility_scan_finds_nothing(context: BrowserContext, tmp_path: Path, size: tuple[int, int]) -> None:
    page = opened(context, tmp_path, size=size)
    found = Axe().run(page)
    assert [violation["id"] for violation in found.response["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_boxes_are_big_enough_for_a_thumb(context: BrowserContext, tmp_path: Path) -> None:
    # WCAG 2.2, success criterion 2.5.8: at least 24 by 24 CSS pixels
    page = opened(context, tmp_path, size=(390, 844))
    for label in page.locator(".tick label").all():
        box = label.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 24
