"""Sizes a candidate through: supply, battery, DC side, AC side, charging, cooling, parts."""
