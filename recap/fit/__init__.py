"""At the bench: bags, labels, checklist, the page beside the soldering iron."""
