"""Judges what was planned: checks, ranking, cautions, what it can run."""
