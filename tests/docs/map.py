"""Write the map in DEVELOPERS.md from what each module says of itself: ``python tests/docs/map.py``."""

from __future__ import annotations

import ast
import re
from itertools import groupby
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
DEVELOPERS = ROOT / "DEVELOPERS.md"
BEGIN = "<!-- map: python tests/docs/map.py -->"
END = "<!-- end of map -->"
FLOW = "read normalise bench match optimise order audit fit guide show cli".split()
"""Folders in the order of the work; what lies at the package's root comes first."""

_ROLE = re.compile(r":[a-z]+:`~?(?:[\w.]*\.)?(\w+)`")


def says(path: Path) -> str:
    """Return the first sentence or two of a module's docstring, as Markdown on one line."""
    text = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    first = " ".join(text.split("\n\n")[0].split())
    return _ROLE.sub(r"`\1`", first.replace("``", "`"))


def the_map() -> str:
    """Return the map: each folder with what it is for, each module with what it says of itself."""
    package = ROOT / "recap"
    paths = sorted(package.rglob("*.py"), key=lambda path: (_rank(path, package), path.parent, path.name))
    lines: list[str] = []
    for folder, those in groupby(paths, key=lambda path: path.parent):
        name = folder.relative_to(ROOT).as_posix()
        lines += ["", f"**`{name}/`** {says(folder / '__init__.py')}", ""]
        lines += [f"- `{path.name}` {says(path)}" for path in those if path.name != "__init__.py"]
    return "\n".join(lines).strip()


def _rank(path: Path, package: Path) -> int:
    parts = path.relative_to(package).parts
    return FLOW.index(parts[0]) + 1 if len(parts) > 1 else 0


def with_map(text: str) -> str:
    """Return ``text`` with the map of today between its marks."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}\n\n{the_map()}\n\n{END}{after}"


if __name__ == "__main__":
    DEVELOPERS.write_text(with_map(DEVELOPERS.read_text(encoding="utf-8")), encoding="utf-8")
