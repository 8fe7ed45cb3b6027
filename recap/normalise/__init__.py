"""Text becomes values, positions, parts: a value, or nothing and the reason why."""
