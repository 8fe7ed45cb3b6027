"""The record of what was fitted where and when, and going back over one's own steps."""
