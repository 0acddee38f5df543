#!/usr/bin/env python3
"""Writes reference values for pressure and wear by a second, independent route.

General-purpose libraries (see requirements.txt) compute what the product
computes, none of it sharing a line with the product. The tables are committed;
tests of the product compare with them.

    python3 make_reference.py          write the tables beside this file
    python3 make_reference.py --check  exit 1 when a committed table differs
"""

import csv
import io
import math
import pathlib
import sys
from importlib.metadata import version

import CoolProp.CoolProp as coolprop
import numpy
import pint
from ambiance import Atmosphere
from fluids.atmosphere import ATMOSPHERE_1976
from scipy import constants, optimize, stats
from uncertainties import ufloat

HERE = pathlib.Path(__file__).parent
LIBRARIES = ["CoolProp", "Pint", "ambiance", "fluids", "numpy", "scipy", "uncertainties"]
SEA_LEVEL = constants.atm / 1000  # kPa
PSI = constants.psi / 1000  # kPa


def show(x):
    """Nine figures: more than any test needs, fewer than processors differ in."""
    return f"{x:.9g}"


def kelvin(fahrenheit):
    return float(constants.convert_temperature(fahrenheit, "Fahrenheit", "Kelvin"))


def units():
    """Conversions by Pint."""
    registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    names = {
        "psi": "psi", "kPa": "kPa", "bar": "bar", "hPa": "hPa", "inHg": "inHg",
        "°F": "degF", "°C": "degC", "mi": "mile", "km": "km", "ft": "foot", "m": "m",
        "lb": "pound", "kg": "kg", "in": "inch", "mm": "mm",
    }
    groups = [
        ("pressure", ["psi", "kPa", "bar"], [-0.5, 0.5, 26, 33, 101.325, 800]),
        ("air", ["hPa", "inHg", "kPa"], [28.5, 29.92126, 650, 1013.25]),
        ("temperature", ["°F", "°C"], [-40, -17.5, 0, 32, 68, 110, 180]),
        ("distance", ["mi", "km", "ft", "m"], [0.3, 1, 50, 48210]),
        ("mass", ["lb", "kg"], [1, 68, 4920, 26001]),
        ("length", ["in", "mm"], [0.25, 0.375, 1.6, 25.4, 315]),
    ]
    for quantity, members, numbers in groups:
        for a in members:
            for b in members:
                if a == b:
                    continue
                for n in numbers:
                    got = registry.Quantity(n, names[a]).to(names[b]).magnitude
                    yield [quantity, n, a, show(got), b, "Pint", "Quantity.to"]


def atmosphere():
    """US Standard Atmosphere 1976 by two libraries, heights as maps give them."""
    for h in [-500, -100, 0, 100, 305, 500, 1000, 1609.344, 2000, 2500, 3048, 4000, 5000, 7000, 9000, 11000]:
        yield [h, show(ATMOSPHERE_1976(h).P / 1000), "fluids", "ATMOSPHERE_1976, geometric height"]
        yield [h, show(float(Atmosphere(h).pressure[0]) / 1000), "ambiance", "Atmosphere, ISO 2533, geometric height"]


def gas_law():
    """A tire as a closed volume: of an ideal gas, by the molar gas constant, and
    of real air, by its equation of state."""
    volume = 0.03  # m3; it cancels
    for psi, here, there, altitude in [
        (33, 70, 20, 0), (35, 70, 100, 0), (26, 30, 110, 0), (80, 60, 110, 0), (100, 95, -10, 0),
        (110, 60, 150, 0), (33, 70, 20, 1609.344), (60, -20, 90, 2500), (2, 70, 0, 0), (0, 70, 100, 0),
    ]:
        air = ATMOSPHERE_1976(altitude).P
        t1, t2 = kelvin(here), kelvin(there)
        p1 = psi * constants.psi + air
        moles = p1 * volume / (constants.R * t1)
        ideal = moles * constants.R * t2 / volume - air
        yield [psi, here, there, show(air / 1000), show(ideal / constants.psi), "scipy", "moles by constants.R at constant volume"]
        density = coolprop.PropsSI("Dmass", "P", p1, "T", t1, "Air")
        real = coolprop.PropsSI("P", "Dmass", density, "T", t2, "Air") - air
        yield [psi, here, there, show(air / 1000), show(real / constants.psi), "CoolProp", "real air at constant density"]
    # The inverse: the temperature at which 33 psi at 70 °F reads something else.
    for psi in [28, 33, 38]:
        def off(t):
            return (33 * PSI + SEA_LEVEL) * t / kelvin(70) - SEA_LEVEL - psi * PSI
        t = optimize.brentq(off, 150, 500, xtol=1e-10)
        back = float(constants.convert_temperature(t, "Kelvin", "Fahrenheit"))
        yield [33, 70, show(back), show(SEA_LEVEL), psi, "scipy", "temperature by optimize.brentq"]


def cold():
    """Cold equivalents with their standard uncertainty: linear propagation by
    uncertainties (JCGM 100), and by drawing a million readings (JCGM 101)."""
    draw = numpy.random.Generator(numpy.random.PCG64(19760101))
    n = 1_000_000

    def uniform(half):
        return draw.uniform(-half, half, n)

    sources = {"sensor": 3, "infrared": 10, "drive": 15}
    for read, step, accuracy, source, tire, outside in [
        (33, 1, 1, "sensor", 95, 60), (36, 1, 1.5, "sensor", 110, 20), (35, 1, 2, "infrared", 95, 60),
        (40, 0.1, 1, "infrared", 120, 0), (89, 1, 1, "drive", 110, 60), (112, 1, 3, "drive", 140, 30),
        (110, 0.5, 1, "sensor", 150, 40),
    ]:
        half = sources[source]
        gauge = math.hypot(step / math.sqrt(12), accuracy / math.sqrt(3))
        p, t = ufloat(read * PSI, gauge * PSI), ufloat(kelvin(tire), half / math.sqrt(3))
        c = ((p + SEA_LEVEL) * kelvin(outside) / t - SEA_LEVEL) / PSI
        yield [read, step, accuracy, source, tire, outside, show(c.n), show(c.s), "uncertainties", "ufloat, linear propagation"]
        drawn = ((read + uniform(step / 2) + uniform(accuracy)) * PSI + SEA_LEVEL) * kelvin(outside) / (kelvin(tire) + uniform(half)) - SEA_LEVEL
        yield [read, step, accuracy, source, tire, outside, f"{drawn.mean() / PSI:.4f}", f"{drawn.std() / PSI:.4f}", "numpy", "a million draws, PCG64"]
    # Driven, no temperature: the usual rise of 2 to 6 psi as a rectangle.
    for read, step, accuracy in [(33, 1, 1), (30, 1, 2), (25, 0.1, 3)]:
        drawn = read + uniform(step / 2) + uniform(accuracy) - draw.uniform(2, 6, n)
        yield [read, step, accuracy, "driven", "", "", f"{drawn.mean():.4f}", f"{drawn.std():.4f}", "numpy", "a million draws, PCG64"]


def life():
    """Where the tread of a tire reaches a limit, with its 95 percent interval: a
    weighted polynomial fit whose covariance is that of the known noise, and the
    ends of the interval searched along the band by root finding, not by a formula."""
    half, sixth, fine = 0.494, 0.55, 0.2
    cases = [
        ("two visits", [0, 10], [10, 7], [half] * 2, 2),
        ("two visits near in depth", [0, 5], [8, 7], [half] * 2, 2),
        ("two visits nearly alike", [12, 18], [8, 7.9], [half] * 2, 2),
        ("no wear in sight, already low", [40, 45], [2.5, 2.6], [half] * 2, 2),
        ("at the limit, rate not told", [40, 42], [2.02, 2], [half] * 2, 2),
        ("passed for certain, rate not told", [40, 45], [2, 1.9], [half] * 2, 4),
        ("limit passed", [0, 10, 20, 30], [9, 6, 4, 1], [half] * 4, 4),
        ("growing", [0, 10, 20], [6, 8, 10], [half] * 3, 2),
        ("six visits", [0, 5, 10, 15, 20, 25], [10, 9, 8, 8, 6, 5], [half] * 6, 2),
        ("six visits, 6/32", [0, 5, 10, 15, 20, 25], [10, 9, 8, 8, 6, 5], [half] * 6, 6),
        ("scatter over noise, explained", [0, 5, 10, 15], [10, 8, 8, 6], [half] * 4, 2),
        ("scatter of its own", [0, 5, 10, 15, 20, 25], [10, 9.1, 7.2, 7.1, 5, 4.6], [0.1] * 6, 2),
        ("scatter of its own, three visits", [0, 5, 10], [10, 9, 7], [0.1] * 3, 2),
        ("mixed gauges", [0, 6, 12.5, 20, 31], [10.3, 9, 7.43, 6, 3], [sixth, half, fine, half, half], 2),
        ("new depth assumed", [0, 22], [11, 7], [2 / math.sqrt(3), half], 2),
    ]
    for name, run, depth, noise, limit in cases:
        x, y, u = (numpy.array(v, dtype=float) for v in (run, depth, noise))
        middle = numpy.average(x, weights=u**-2)
        (slope, level), cov = numpy.polyfit(x - middle, y, 1, w=1 / u, cov="unscaled")
        free, squares = len(x) - 2, float((((y - level - slope * (x - middle)) / u) ** 2).sum())
        wider, quantile, scatter = 1.0, stats.norm.ppf(0.975), 0.0
        if free > 0:
            scatter = math.sqrt(squares / free)
            if squares > stats.chi2.ppf(0.95, free):
                wider, quantile = scatter, stats.t.ppf(0.975, free)
            else:
                wider = max(1.0, scatter)

        def band(at, side):
            t = at - middle
            return level + slope * t + side * quantile * wider * math.sqrt(cov[1, 1] + 2 * t * cov[0, 1] + t * t * cov[0, 0]) - limit

        grid = middle + numpy.linspace(-620, 620, 12401)

        def crossings(side):
            values = [band(g, side) for g in grid]
            return [optimize.brentq(band, a, b, args=(side,), xtol=1e-12) for a, b, p, q in zip(grid, grid[1:], values, values[1:]) if p > 0 >= q or p <= 0 < q]

        lower, upper = crossings(-1), crossings(1)
        grows = slope > quantile * wider * math.sqrt(cov[0, 0])
        at = show(middle + (limit - level) / slope) if slope < 0 else ""
        earliest = show(lower[-1]) if lower and not grows else ""
        latest = show(upper[0]) if upper and not grows else ""
        yield [
            name, *(" ".join(show(float(n)) for n in v) for v in (x, y, u)), limit,
            show(-slope), show(wider * math.sqrt(cov[0, 0])), show(scatter) if scatter > 1e-9 else "0", at, earliest, latest,
            "numpy, scipy", "polyfit of known noise, optimize.brentq along the band",
        ]


TABLES = {
    "units.csv": (["quantity", "number", "unit", "want", "want_unit", "source", "how"], units),
    "atmosphere.csv": (["meters", "kpa", "source", "how"], atmosphere),
    "gas_law.csv": (["psi", "from_f", "to_f", "air_kpa", "want_psi", "source", "how"], gas_law),
    "cold.csv": (["read", "step", "accuracy", "temperature_source", "tire_f", "outside_f", "cold", "std", "source", "how"], cold),
    "life.csv": (
        ["case", "miles_1000", "depths_32nds", "noise_32nds", "limit_32nds", "rate", "rate_std", "scatter", "at", "earliest", "latest", "source", "how"],
        life,
    ),
}


def render(head, rows):
    out = io.StringIO()
    out.write("# Written by make_reference.py with " + ", ".join(f"{name} {version(name)}" for name in LIBRARIES) + "\n")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    writer.writerows(rows())
    return out.getvalue()


def main():
    check = sys.argv[1:] == ["--check"]
    if sys.argv[1:] and not check:
        sys.exit(__doc__)
    differs = []
    for name, (head, rows) in TABLES.items():
        text = render(head, rows)
        path = HERE / name
        if not check:
            path.write_text(text, encoding="utf-8")
        elif not path.exists() or path.read_text(encoding="utf-8") != text:
            differs.append(name)
    if differs:
        sys.exit("differs from what the libraries say now: " + ", ".join(differs))


if __name__ == "__main__":
    main()
