"""The quantities that the tests of dimensions feed: one table of units, read once a process."""

from typing import Any

import pint

UNITS: Any = pint.UnitRegistry()
