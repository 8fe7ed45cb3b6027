"""What to do with the order: explain it, compare it, write the files a person uses."""
