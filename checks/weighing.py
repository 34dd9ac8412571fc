"""Works out unit weights, counts and sample sizes anew with NumPy and SciPy.

    weighing.py FILE      FILE is what `cargo run -p planning --example weighings` prints

The mean is a weighted least-squares fit by NumPy, quantiles are SciPy's, the delta method takes its
derivatives numerically.
"""

import json
import sys
from math import sqrt

import numpy as np
from scipy import optimize, stats

# The engine keeps six decimals of its quantiles.
QUANTILE = 5e-7
RELATIVE = 2e-6

failures = []


def near(mine, theirs, what, tolerance=RELATIVE):
    if not abs(mine - theirs) <= tolerance * max(abs(theirs), 1e-12):
        failures.append(what)
        print(f"differs: {what}: {mine}, not {theirs}")


def unit_weight(w):
    n = np.array([s[0] for s in w["samples"]], float)
    net = np.array([s[1] for s in w["samples"]]) - w["tare"]
    k = len(n)
    # Variance grows with the stones: divide both sides by its root.
    root = np.sqrt(n)
    fit, residuals, _, _ = np.linalg.lstsq((n / root)[:, None], net / root, rcond=None)
    u = fit[0]
    total = n.sum()
    # A number uniform on one step has this variance.
    reading = stats.uniform(scale=w["step"]).var() if w["step"] > 0 else 0.0
    if k >= 3:
        s2 = float(np.sum((net / root - u * n / root) ** 2)) / (k - 1)
        variance = max(s2 / total, k * reading / total**2) + reading * (k / total) ** 2
        return u, sqrt(variance), sqrt(s2) / u, stats.t.ppf(0.5 + w["confidence"] / 2, k - 1)
    variance = (w["spread"] * u) ** 2 / total + (k + k * k) * reading / total**2
    return u, sqrt(variance), w["spread"], stats.norm.ppf(0.5 + w["confidence"] / 2)


def count_error(w, u, error, spread, net):
    """By the delta method: count = (shown - tare) / u, three independent inputs."""
    reading = w["step"] ** 2 / 12
    count = lambda x: (x[0] - x[1]) / x[2]
    x = np.array([net + 1.0, 1.0, u])
    slope = optimize.approx_fprime(x, count, 1e-7 * np.maximum(np.abs(x), 1e-3))
    stones = net / u * (spread * u) ** 2
    return sqrt(slope[0] ** 2 * (reading + stones) + slope[1] ** 2 * reading + slope[2] ** 2 * error**2)


def smallest_sample(part, spread, step_in_units, confidence):
    z = stats.norm.ppf(0.5 + confidence / 2)
    half = lambda n: z * sqrt(spread**2 / n + step_in_units**2 / 6 / n**2) - part
    if half(1) <= 0:
        return 1.0
    return optimize.brentq(half, 1, 1e12, xtol=1e-9, rtol=1e-14)


def sample_agrees(mine, exact, what):
    """The smallest whole number not below `exact`; one off only where that lies on a whole number."""
    slack = 2e-6 * exact + 1e-6
    if not exact - slack <= mine <= exact + 1 + slack:
        failures.append(what)
        print(f"differs: {what}: {mine}, for {exact}")


def main():
    with open(sys.argv[1], encoding="utf-8") as f:
        data = json.load(f)
    figures = 0
    for i, w in enumerate(data["weighings"]):
        u, error, spread, factor = unit_weight(w)
        unit, count = w["unit"], w["count"]
        near(unit["unit_g"], u, f"{i}: unit weight")
        near(unit["standard_error_g"], error, f"{i}: standard error")
        near(unit["spread"], spread, f"{i}: spread")
        if abs(unit["factor"] - factor) > QUANTILE + 1e-6 * factor:
            failures.append(i)
            print(f"differs: {i}: factor {unit['factor']}, not {factor}")
        near(unit["low_g"], max(0.0, u - factor * error), f"{i}: lower end", 1e-5)
        near(unit["high_g"], u + factor * error, f"{i}: upper end", 1e-5)
        net = w["heap"] - w["tare"]
        near(count["estimate"], net / u, f"{i}: count")
        delta = count_error(w, u, error, spread, net)
        near(count["standard_error"], delta, f"{i}: error of the count", 1e-4)
        low, high = net / u - factor * delta, net / u + factor * delta
        if not (count["low"] <= max(low, 0) + 0.01 and max(low, 0) - 1.01 < count["low"] and high - 0.01 <= count["high"] < high + 1.01):
            failures.append(i)
            print(f"differs: {i}: interval {count['low']} to {count['high']}, not {low} to {high}")
        near(w["bag_within"], factor * count_error(w, u, error, spread, w["bag"] * u), f"{i}: bag", 1e-4)
        one = smallest_sample(0.01, spread, w["step"] / u, w["confidence"])
        sample_agrees(unit["stones_for_1_percent"], one, f"{i}: stones for 1 %")
        half = smallest_sample(0.005, w["spread"], w["step"] / u, w["confidence"])
        sample_agrees(w["for_half_percent"], half, f"{i}: stones for 0.5 %")
        figures += 11
    print(f"{len(data['weighings'])} weighings, {figures} figures: {len(failures)} differ")
    return 1 if failures or figures == 0 else 0


sys.exit(main())
