"""Write the moments of the solar calendar: `src/nejime/data/sun.csv` and `new_moons.csv`.

Model: the Sun's apparent geocentric longitude, in the ecliptic and equinox of date, passes every
fifth degree (the 72 micro-seasons, every third of them a solar term), and the four degrees from
which the doyo days are counted. New moons are where the Moon's apparent longitude is the Sun's.
Ephemeris: JPL DE421, which reaches from 1900 to 2053; Earth's rotation as skyfield has it built in.
How well: the minutes published by the National Astronomical Observatory of Japan for 2008, 2026 and
2027 are met within their own rounding (tests/published/test_naoj.py).

Needs `skyfield` and `skyfield-data`, which the package itself does not; they come with the tests.
Run: `python workings/solar_calendar.py`; it takes about half a minute.
"""

import csv
import warnings
from collections.abc import Callable
from pathlib import Path

import numpy as np
from skyfield.api import Loader
from skyfield.framelib import ecliptic_frame
from skyfield.timelib import Timescale
from skyfield_data import get_skyfield_data_path

DATA = Path(__file__).parents[1] / "src" / "nejime" / "data"
FIRST, LAST = 1951, 2050
DEGREES = sorted([*range(0, 360, 5), 27, 117, 207, 297])
TROPICAL_YEAR_D = 365.2422
MONTH_D = 29.530589
STEPS = 12  # of Newton's method with a mean speed: the Moon's own differs by a seventh

Longitude = Callable[[np.ndarray], np.ndarray]


def longitudes() -> tuple[Timescale, Longitude, Longitude]:
    """The time scale, and the longitudes of Sun and Moon at days in Terrestrial Time."""
    load = Loader(get_skyfield_data_path(), verbose=False)
    bodies, scale = load("de421.bsp"), load.timescale(builtin=True)

    def longitude(body: str) -> Longitude:
        def at(days: np.ndarray) -> np.ndarray:
            seen = bodies["earth"].at(scale.tt_jd(days)).observe(bodies[body]).apparent()
            return seen.frame_latlon(ecliptic_frame)[1].degrees

        return at

    return scale, longitude("sun"), longitude("moon")


def crossings(angle: Longitude, wanted: np.ndarray, guess: np.ndarray, period: float) -> np.ndarray:
    """The days near `guess` on which an angle is as wanted, by Newton's method."""
    days = guess.astype(float)
    for _ in range(STEPS):
        days = days + ((wanted - angle(days) + 180) % 360 - 180) * period / 360
    return days


def written(scale: Timescale, days: np.ndarray) -> list[str]:
    """Moments in UTC, to the second."""
    half_s = 0.5 / 86_400  # so that cutting off fractions rounds
    moments = scale.tt_jd(days + half_s).utc_datetime()
    return [each.strftime("%Y-%m-%dT%H:%M:%SZ") for each in moments]


def main() -> None:
    """Write both tables."""
    warnings.filterwarnings("ignore", category=RuntimeWarning)  # a file of skyfield-data expires
    scale, sun, moon = longitudes()
    begins = scale.utc(FIRST, 1, 1).tt
    ends = scale.utc(LAST + 1, 1, 1).tt

    turns = np.arange(-1, LAST - FIRST + 2)
    degrees = np.tile(DEGREES, len(turns))
    guess = begins + np.repeat(turns, len(DEGREES)) * TROPICAL_YEAR_D
    guess = guess + ((degrees - sun(np.array([begins]))) % 360) / 360 * TROPICAL_YEAR_D
    days = crossings(sun, degrees, guess, TROPICAL_YEAR_D)
    order = np.argsort(days)
    order = order[(days[order] >= begins - 31) & (days[order] < ends + 31)]
    rows = zip(written(scale, days[order]), degrees[order], strict=True)
    write("sun.csv", ("begins", "longitude_deg"), rows)

    count = int((ends - begins + 90) / MONTH_D)
    before = np.array([begins - 45])
    first = before + (sun(before) - moon(before)) % 360 / 360 * MONTH_D
    guess = first + np.arange(count) * MONTH_D
    new = crossings(lambda at: moon(at) - sun(at), np.zeros(count), guess, MONTH_D)
    new = new[new < ends + 31]
    write("new_moons.csv", ("new_moon",), ([each] for each in written(scale, new)))


def write(name: str, columns: tuple[str, ...], rows: object) -> None:
    """One table."""
    with (DATA / name).open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        writer.writerows(rows)


if __name__ == "__main__":
    main()
