"""Typical temperature of the air outside, month by month, in each climate of the clearness table.

The mean of day and night, and how far afternoons and nights lie from it on average.

Source: from memory, rounded; the shape of the United States climate normals. Enough to plan by: a
mean afternoon is not the hottest one, nor a mean night the coldest. Northern half of the world,
January first.
"""

from types import MappingProxyType
from typing import Final, NamedTuple


class Air(NamedTuple):
    """Mean air of each month, and half the difference between afternoon and night."""

    mean_c: tuple[float, ...]
    half_range_k: float


AIR: Final = MappingProxyType(
    {
        # desert southwest
        "dry": Air((11.0, 13.0, 16.5, 20.5, 25.5, 30.5, 33.0, 32.0, 29.0, 22.0, 15.5, 10.5), 8.0),
        # gulf coast and southeast
        "humid": Air((10.0, 12.0, 15.5, 19.5, 23.5, 27.0, 28.0, 28.0, 25.5, 20.5, 15.0, 11.0), 6.0),
        # midwest and northeast
        "continental": Air(
            (-4.0, -2.0, 4.0, 10.0, 16.0, 21.5, 24.0, 23.0, 19.0, 12.5, 5.0, -1.5), 5.5
        ),
        # pacific northwest
        "marine": Air((5.0, 6.0, 8.0, 10.5, 13.5, 16.5, 19.0, 19.0, 16.0, 11.5, 7.5, 5.0), 4.5),
        # front range and high plateaus of the Rockies
        "mountain": Air((-0.5, 0.5, 5.0, 8.5, 13.5, 19.5, 23.0, 22.0, 17.5, 11.0, 4.5, -0.5), 8.0),
    }
)
