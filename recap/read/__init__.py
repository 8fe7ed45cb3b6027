"""Files and pasted text become cells and lines that know where they stood."""
