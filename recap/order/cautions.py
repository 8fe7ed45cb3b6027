"""The short cautions shown wherever work on a set is. Common practice of the trade unless a source is named."""

from __future__ import annotations

from typing import Final

LETHAL: Final = (
    "Mains, charged capacitors and picture tubes kill. Unplug, discharge through a resistor, check with a meter."
)
IN_SHORT: Final = ("Unplug, discharge", ", measure")
"""What stays in sight while the rest is scrolled away; the second part where there is room."""
TRAINED: Final = "Follow your local codes, and leave what you aren't trained for to licensed hands."
SAFETY_LINE: Final = f"{LETHAL} {TRAINED}"
SAFETY_PARTS: Final = (
    "X and Y capacitors and the parts that tune the high voltage are replaced by the same class and value only; "
    "measure the high voltage after work on a picture tube's deflection."
)
"""Classes: IEC 60384-14. The rest as service manuals of picture-tube sets ask in general."""

POLARITY: Final = (
    "Before each part: the stripe on an aluminium part is minus, the bar on a tantalum part is plus, "
    "a bipolar part has no polarity. Where board print and old part disagree, trace the circuit first."
)
PRICES: Final = "Prices and stock are as the catalogues give them; look at the basket's total before paying."

AT_THE_BENCH: Final = (LETHAL, TRAINED, SAFETY_PARTS, POLARITY)
"""What stands at the top of a checklist."""
