"""Which parts may stand in for which positions: rules, life, groups, candidates."""
