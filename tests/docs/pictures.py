"""Make the README's pictures from the demo bench: ``python tests/docs/pictures.py``.

The order is what `recap order demo` prints, as SVG; the bench page is photographed in Chromium as a phone shows it.
"""

from __future__ import annotations

import io
import os
import shutil
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from PIL import Image
from playwright.sync_api import sync_playwright
from rich.console import Console
from rich.text import Text

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parent.parent.parent
PICTURES = ROOT / "demo" / "pictures"
MOST_BYTES = 200_000
COLUMNS = 88
PHONE = {"width": 390, "height": 844}
RECAP = [sys.executable, "-m", "recap"]
OURS = {**os.environ, "PYTHONPATH": str(ROOT)}
"""This checkout's code, whatever is installed."""

SVG = """\
<svg xmlns="http://www.w3.org/2000/svg" class="rich-terminal" viewBox="0 0 {width} {height}">
<style>
.{unique_id}-matrix {{ font-family: ui-monospace, "DejaVu Sans Mono", Menlo, Consolas, monospace;
  font-size: {char_height}px; line-height: {line_height}px; }}
{styles}
</style>
<defs><clipPath id="{unique_id}-clip-terminal"><rect x="0" y="0" width="{terminal_width}" height="{terminal_height}"/>
</clipPath>{lines}</defs>
<rect width="{width}" height="{height}" rx="8" fill="#292929"/>
<g transform="translate({terminal_x}, 14)" clip-path="url(#{unique_id}-clip-terminal)">
{backgrounds}<g class="{unique_id}-matrix">{matrix}</g></g>
</svg>
"""
"""Rich's own format fetches a font from the network; this one takes what the reader's machine has."""


def demo_copy(folder: Path) -> Path:
    """Copy demo bench and catalogues, so that the pictures leave nothing in the record of the real one."""
    shutil.copytree(ROOT / "demo", folder / "demo", ignore=shutil.ignore_patterns("pictures", "record*", ".*"))
    shutil.copytree(ROOT / "catalogs", folder / "catalogs")
    return folder / "demo"


def recap(*arguments: str, folder: Path) -> str:
    """Run a command in ``folder`` and return what it prints, with colours."""
    surroundings = {**OURS, "COLUMNS": str(COLUMNS), "FORCE_COLOR": "1", "PYTHONUTF8": "1"}
    run = subprocess.run(
        [*RECAP, *arguments], cwd=folder, env=surroundings, capture_output=True, encoding="utf-8", check=True
    )
    return run.stdout


def order_picture(folder: Path) -> str:
    """Return the order on the demo as SVG."""
    console = Console(record=True, width=COLUMNS, file=io.StringIO(), force_terminal=True)
    console.print(Text.from_ansi(recap("order", "demo", folder=folder)))
    return console.export_svg(title="recap order demo", code_format=SVG, unique_id="order")


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Serve the bench page of the demo and yield its address."""
    with subprocess.Popen(
        [*RECAP, "bench", "demo", "--port", "0"], cwd=folder, env=OURS, stdout=subprocess.PIPE, encoding="utf-8"
    ) as server:
        assert server.stdout is not None
        line = next(each for each in server.stdout if "http://" in each)
        try:
            yield "http://" + line.partition("http://")[2].split()[0].rstrip("/")
        finally:
            server.terminate()


def page_pictures(folder: Path) -> dict[str, bytes]:
    """Return the bench page of the demo on a phone: a board half done, and the sets."""
    recap("order", "demo", "--keep", "--no-compare", folder=folder)
    recap("receive", "demo", "--all", folder=folder)
    with served(folder) as base, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
        page = browser.new_context(viewport=PHONE, device_scale_factor=1.5, has_touch=True).new_page()
        page.goto(f"{base}/set/glim-1/board/POWER")
        page.wait_for_selector("#link[data-state=online]")
        for ref, stages in (("C905", ("out", "in")), ("C906", ("out", "in", "checked")), ("C907", ("out",))):
            for stage in stages:
                page.click(f'.card[data-ref="{ref}"] [data-stage="{stage}"]')
        page.wait_for_timeout(1500)
        page.evaluate("document.activeElement.blur()")
        page.evaluate("""() => {
            const card = document.querySelector('.card[data-ref="C905"]');
            const head = document.querySelector('header');
            scrollTo(0, card.getBoundingClientRect().top + scrollY - head.getBoundingClientRect().height - 12);
        }""")
        page.wait_for_timeout(300)
        shots = {"bench-board.png": small(page.screenshot())}
        page.goto(base)
        page.wait_for_timeout(1000)
        shots["bench-sets.png"] = small(page.screenshot())
        browser.close()
    return shots


def small(png: bytes) -> bytes:
    """Return a picture in 128 colours, which is enough for a page."""
    out = io.BytesIO()
    Image.open(io.BytesIO(png)).convert("RGB").quantize(128).save(out, "PNG", optimize=True)
    return out.getvalue()


def main() -> None:
    """Write all pictures; refuse those that would weigh a clone down."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        demo_copy(folder)
        pictures = {"order.svg": order_picture(folder).encode(), **page_pictures(folder)}
    PICTURES.mkdir(exist_ok=True)
    for name, data in pictures.items():
        assert len(data) < MOST_BYTES, f"{name} has {len(data)} bytes"
        (PICTURES / name).write_bytes(data)
        sys.stdout.write(f"{PICTURES.name}/{name}: {len(data):,} bytes\n")


if __name__ == "__main__":
    main()
