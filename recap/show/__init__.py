"""How things look: terminal tables, JSON documents."""
