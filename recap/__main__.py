"""``python -m recap``."""

from recap.cli import main

main()
