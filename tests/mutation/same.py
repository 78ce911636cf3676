"""Faults that change nothing that anybody could see, each with the reason."""

SAME: dict[tuple[str, str, str], str] = {}
"""By the file, the line as it stands there, and the change in it."""
