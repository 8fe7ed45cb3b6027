"""The cheapest order: whole-number program, proof, preferences, and reasons where there is none."""
