"""Short writings that mean something only in their column, as data: ``E`` is an electrolytic under ``Type``."""

from __future__ import annotations

from typing import Any, Final

from recap.model import Kind, Mount

KIND_CODES: Final[dict[str, Any]] = {
    **dict.fromkeys(("e", "el", "ec", "al", "ae", "alum", "elc", "elec", "elect", "elyt"), Kind.ELECTROLYTIC),
    **dict.fromkeys(("ta", "tan", "tant", "t"), Kind.TANTALUM),
    **dict.fromkeys("b bp np nonp bi no n non nein nee nej nao nie".split(), Kind.BIPOLAR),
    **dict.fromkeys(("f", "pe", "pp", "ps", "mk", "mf"), Kind.FILM),
    **dict.fromkeys(("cer", "k", "cc", "ck"), Kind.CERAMIC),
    **dict.fromkeys(("r", "vert"), Mount.RADIAL),
    **dict.fromkeys(("a", "orizz", "oriz"), Mount.AXIAL),
    **dict.fromkeys(("p", "pol", "polar", "polarised", "polarized", "yes", "y", "ja", "j", "oui", "si", "+"), ""),
    **{kind.value: kind for kind in Kind},
}
MOUNT_CODES: Final[dict[str, Any]] = {
    **dict.fromkeys(("r", "rad", "rd", "vert"), Mount.RADIAL),
    **dict.fromkeys(("a", "ax", "orizz", "oriz"), Mount.AXIAL),
    **dict.fromkeys(("s", "sm"), Mount.SMD),
    **{mount.value: mount for mount in Mount},
}
