"""Capacitor lists of every manner with truth made by reading; see README.md."""
