"""Judges the tests: small faults are put into the code, and a test has to find each."""
