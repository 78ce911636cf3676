"""The weather of an answer, and what it does to loads and battery; figures typed once more."""

from collections.abc import Iterator
from typing import Any

from engine.model.needs import Load
from tests.recheck.facts import Facts

# Mean air of each month and half of the difference between day and night [°C, K], from memory.
AIR: dict[str, tuple[str, float]] = {
    "dry": ("11 13 16.5 20.5 25.5 30.5 33 32 29 22 15.5 10.5", 8.0),
    "humid": ("10 12 15.5 19.5 23.5 27 28 28 25.5 20.5 15 11", 6.0),
    "continental": ("-4 -2 4 10 16 21.5 24 23 19 12.5 5 -1.5", 5.5),
    "marine": ("5 6 8 10.5 13.5 16.5 19 19 16 11.5 7.5 5", 4.5),
    "mountain": ("-0.5 0.5 5 8.5 13.5 19.5 23 22 17.5 11 4.5 -0.5", 8.0),
}
CABINET_F, LISTED_F = 10.0, 85.0  # common practice, no source
# 14 A at 70 °F, a quarter more at 96 °F; no pause above 100 °F (trade column, secondary).
MILD_F, HOT_F, HOTTER, NO_PAUSE_F = 70.0, 96.0, 1.25, 100.0
FRIDGE_FROM_C, FRIDGE_EACH_5_C = 25.0, 0.10  # motorhome club magazine, secondary
ROOM_C = 20.0  # common practice, no source
FROST_FROM_C = 5.0  # common practice, no source: 5 K above the least at which lithium is charged
NEAR = 0.005  # temperatures are planned on in tenths of a degree


def fahrenheit(celsius: float) -> float:
    """The same temperature [°F]."""
    return celsius * 9 / 5 + 32


class Weather(Facts):
    """What hangs on climate, month, hottest and coldest air."""

    def month_mean(self) -> tuple[float, float]:
        """Mean air of that month and climate, and how far a night lies from it [°C]."""
        needs = self.needs
        months, half = AIR[needs.weather.climate]
        month = (needs.month + (5 if needs.latitude_deg < 0 else -1)) % 12
        return float(months.split()[month]), half

    def bank_c(self) -> float:
        """What the bank is planned at: as it was told, else the mean of day and night [°C]."""
        told = self.told("coldest")
        mean = min(self.month_mean()[0], self.needs.ambient_c)
        return self.needs.weather.coldest_c if told else mean

    def outside(self) -> tuple[float, float, float]:
        """A hot afternoon, the mean of that day, and a usual night [°C]."""
        needs, (mean, half) = self.needs, self.month_mean()
        hot = max(mean + half, needs.ambient_c - CABINET_F * 5 / 9)
        return hot, hot - half, min(mean - half, needs.ambient_c)

    def coldest_c(self) -> float:
        """Coldest air at the battery, as it was told or else as the month has it."""
        return self.needs.weather.coldest_c if self.told("coldest") else self.outside()[2]

    def told(self, name: str) -> bool:
        """Whether a detail was given."""
        return name not in self.needs.assumed

    def weather(self) -> Iterator[str]:
        """Loads follow the weather, and the cold is that of the battery."""
        if abs(self.needs.weather.coldest_c - self.coldest_c()) > 1e-6:
            yield "not the coldest air of that climate and month"
        if abs(self.needs.weather.bank_c - self.bank_c()) > 1e-6:
            yield "the bank is not planned at the mean air of that climate and month"
        for listed, load in zip(self.needs.listed, self.needs.loads, strict=True):
            watts, duty = self._expected(listed)
            if abs(load.running_w - watts) > NEAR * max(watts, 1.0):
                yield f"{load.name}: {load.running_w:.0f} W in that weather, not {watts:.0f} W"
            if abs(load.duty - duty) > 2 * NEAR:
                yield f"{load.name}: runs {load.duty:.3f} of its hours, not {duty:.3f}"

    def _expected(self, load: Load) -> tuple[float, float]:
        hot, day, _ = self.outside()
        above_f = max(fahrenheit(hot), MILD_F) - MILD_F
        each_f = (HOTTER - 1) / (HOT_F - MILD_F)
        if load.follows == "air-conditioner":
            share = (1 + each_f * above_f) / (1 + each_f * (LISTED_F - MILD_F))
            toward = (above_f + MILD_F - LISTED_F) / (NO_PAUSE_F - LISTED_F)
            return load.running_w * share, min(1, max(0, load.duty + (1 - load.duty) * toward))
        if load.follows == "refrigerator":
            more = 1 + FRIDGE_EACH_5_C * max(0.0, day - FRIDGE_FROM_C) / 5
            return load.running_w, min(1, load.duty * more)
        if load.follows == "furnace":
            cold = min(0.0, self.coldest_c())
            return load.running_w, min(1, load.duty * (ROOM_C - cold) / ROOM_C)
        return load.running_w, load.duty

    def frost(self) -> Iterator[str]:
        """A lithium battery near freezing has a sensor that the chargers read."""
        sensors: list[Any] = self.products("frost-sensor", self.guide.catalogue.temperature_sensors)
        lithium = self.battery.chemistry == "lifepo4"
        if lithium and self.coldest_c() < FROST_FROM_C and not sensors:
            yield "lithium near freezing, and no charger is told"
        if sensors and not (lithium and self.coldest_c() < FROST_FROM_C):
            yield "a sensor against frost where there is none"
        if any(each.stud != self.battery.stud for each in sensors):
            yield "a sensor that does not go on the battery's post"
