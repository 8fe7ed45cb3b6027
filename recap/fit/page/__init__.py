"""The bench page: a small web page beside the soldering iron, served from this machine."""
