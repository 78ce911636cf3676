"""Electrical and physical sizing, one subject a file: plain floats in SI, the unit in the name."""
