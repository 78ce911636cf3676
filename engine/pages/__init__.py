"""Answers -> HTML: the views that gather what a page shows, and the templates that draw it."""
