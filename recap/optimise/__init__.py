"""The cheapest order as an integer program, proven, and the reasons where there is none."""
