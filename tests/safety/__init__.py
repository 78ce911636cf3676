"""Proof that what this guide says is safe to follow word for word."""
