"""Faults that change nothing that anybody could see, each with the reason."""

SAME: dict[tuple[str, str, str], str] = {
    ("engine/sizing/charging.py", "if hours <= needed:", "LtE -> Lt"): (
        "at the corner itself the straight part and the falling one give the same state"
    ),
    ("engine/sizing/charging.py", "if rate_per_h <= taken.last_per_h:", "LtE -> Lt"): (
        "at just the last rate nothing falls, and the straight parts have that rate"
    ),
    ("engine/sizing/charging.py", "if rate_per_h >= taken.factor_per_h:", "GtE -> Gt"): (
        "at just that rate the formula below gives the same corner, 0"
    ),
    ("engine/sizing/energy.py", "if surplus > 0.0 and state < 1.0:", "And -> Or"): (
        "without a surplus, or in a full battery, charging adds nothing"
    ),
}
"""By the file, the line as it stands there, and the change in it."""
