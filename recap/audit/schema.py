"""The tables of ``record.db`` and how they came to be: named migrations, applied once each, in order.

A migration is never edited after it has been released; a change is a new one at the end.
"""

from __future__ import annotations

APPLICATION_ID = 0x52435031
"""Marks the file as ours in SQLite's header ("RCP1")."""

MIGRATIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "001-events",
        (
            """CREATE TABLE events (
                 seq INTEGER PRIMARY KEY AUTOINCREMENT,
                 id TEXT NOT NULL UNIQUE,
                 kind TEXT NOT NULL,
                 at TEXT NOT NULL,
                 recorded TEXT NOT NULL,
                 set_name TEXT,
                 board TEXT,
                 ref TEXT,
                 made_by TEXT,
                 data TEXT NOT NULL CHECK (json_valid(data))
               ) STRICT""",
            "CREATE INDEX events_of_set ON events (set_name, seq)",
            """CREATE TRIGGER events_stay BEFORE UPDATE ON events
               BEGIN SELECT RAISE(ABORT, 'events are only added, never changed'); END""",
            """CREATE TRIGGER events_remain BEFORE DELETE ON events
               BEGIN SELECT RAISE(ABORT, 'events are only added, never removed'); END""",
        ),
    ),
    (
        "002-orders",
        (
            """CREATE TABLE orders (
                 id TEXT PRIMARY KEY,
                 kept TEXT NOT NULL,
                 document TEXT NOT NULL CHECK (json_valid(document))
               ) STRICT""",
            """CREATE TRIGGER orders_stay BEFORE UPDATE ON orders
               BEGIN SELECT RAISE(ABORT, 'kept orders are never changed'); END""",
            """CREATE TRIGGER orders_remain BEFORE DELETE ON orders
               BEGIN SELECT RAISE(ABORT, 'kept orders are never removed'); END""",
        ),
    ),
    (
        "003-photos",
        (
            """CREATE TABLE photos (
                 digest TEXT PRIMARY KEY,
                 media TEXT NOT NULL,
                 width INTEGER NOT NULL,
                 height INTEGER NOT NULL,
                 content BLOB NOT NULL
               ) STRICT""",
        ),
    ),
)
