"""The user's guide: pages in words, and the parts of them that are made from the code's own data."""

from recap.guide.topics import TOPICS, Topic, page

__all__ = ["TOPICS", "Topic", "page"]
