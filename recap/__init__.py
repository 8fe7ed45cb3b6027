"""Read capacitor lists, match them to catalogues, find the proven cheapest order, keep the work straight."""
