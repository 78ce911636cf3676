"""Prices: every one is in the currency of the shop, which is the one that the pages show."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from engine.model.fields import Unit
from guide.content_read import Parts
from guide.fault import Fault
from guide.reading import Place, Record
