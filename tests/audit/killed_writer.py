"""A writer to be killed: adds ticks without end and says each one's id once the record has confirmed it."""

from __future__ import annotations

import sys
from pathlib import Path

from recap.audit.events import EventKind, new_event
from recap.audit.record import open_record

if __name__ == "__main__":
    with open_record(Path(sys.argv[1])) as record:
        number = 0
        while True:
            number += 1
            event = new_event(EventKind.IN, set="S1", board="PSU", ref=f"C{number}", by=sys.argv[2])
            record.append([event])
            sys.stdout.write(f"{event.id}\n")
            sys.stdout.flush()
