"""How fast lists are read and how that grows, in processor seconds. Run it: ``python tests/bench/reader.py``."""

from __future__ import annotations

import sys
import time

from recap.normalise.caplist import read_cap_text

STYLES = {
    "ref first": "C{n} {value}uF {volts}V radial 105C 5x11",
    "short pairs": "C{n} {value}/{volts}",
    "forum": "C{n} - {value}µF, {volts} V (axial, bipolar) next to the transformer",
    "value first": "{value}uF {volts}V: C{n}, C{n}1",
    "table": "C{n};{value} µF;{volts} V;radial;5x11",
}
VALUES = ("1", "4.7", "10", "47", "220", "1000")
VOLTS = ("6.3", "16", "25", "50")


def listed(style: str, size: int) -> str:
    """Return a list of ``size`` lines in one style."""
    lines = ["Ref;Value;Volts;Mount;Size"] if style == "table" else []
    lines += [
        STYLES[style].format(n=n, value=VALUES[n % len(VALUES)], volts=VOLTS[n % len(VOLTS)])
        for n in range(1, size + 1)
    ]
    return "\n".join(lines)


def main() -> None:
    """Print lines per second for each style and size."""
    sizes = [int(argument) for argument in sys.argv[1:]] or [1000, 3000, 10000]
    sys.stdout.write(f"{'style':14}" + "".join(f"{size:>18,}" for size in sizes) + "\n")
    for style in STYLES:
        cells = []
        for size in sizes:
            text = listed(style, size)
            began = time.process_time()
            positions, _ = read_cap_text(text, "list.txt")
            took = time.process_time() - began
            assert positions
            cells.append(f"{took:6.2f} s {size / took:7,.0f}/s")
        sys.stdout.write(f"{style:14}" + "".join(f"{cell:>18}" for cell in cells) + "\n")


if __name__ == "__main__":
    main()
