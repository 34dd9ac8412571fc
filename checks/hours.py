"""Reckons paces and learning curves again with NumPy and SciPy: `hours.py FILE`.

FILE is what the example `hours` of the crate `planning` prints. A pace is a weighted mean of minutes a
stone (`numpy.average`), the slow pace a quantile of SciPy's lognormal distribution, the learning curve
Crawford's unit form. Factors and weights are those that the crate's documentation states.
"""

import argparse
import json
import sys
from pathlib import Path

import numpy as np
from scipy import stats

SCATTER, AWKWARD = 0.8, 0.85
TRUST_STONES, TRUST_SESSIONS, SPREAD = 1000, 4, 0.2
FAST = 450
#: Both sides reckon in doubles, in another order.
TOLERANCE = 1e-9
#: A copy's time is kept to a thousandth of a minute: it is off by half of that at most, and a sum by
#: so much for each copy.
HALF_MIN = 0.0005 + 1e-9


def band(diameter_mm):
    """Small, middle or large."""
    return int(np.searchsorted([2.5, np.nextafter(7.0, 8.0)], diameter_mm, side="right"))


def sort_of(session):
    """What a session was on; what it does not say is rows of middle stones."""
    mm = session["diameter_mm"]
    return session["work"] or "rows", 1 if mm is None else band(mm)


def factor(sort):
    """What a sort of work multiplies the pace by."""
    work, size = sort
    return (SCATTER if work == "scatter" else 1.0) * (1.0 if size == 1 else AWKWARD)


def shrunk(prior_per_h, sessions, brought=lambda s: 1.0):
    """Weighted mean of minutes a stone, the prior counting as so many stones; as a pace."""
    stones = np.array([TRUST_STONES] + [s["stones"] / brought(s) for s in sessions])
    minutes = np.array([60 / prior_per_h] + [s["minutes"] * brought(s) / s["stones"] for s in sessions])
    return 60 / np.average(minutes, weights=stones)


def spread(sessions):
    """Pooled standard deviation of log paces: the usual one beside the sample's."""
    if len(sessions) < 2:
        return SPREAD
    logs = np.log([s["stones"] / s["minutes"] / factor(sort_of(s)) for s in sessions])
    of = len(sessions) - 1
    return np.sqrt(np.average([SPREAD**2, np.var(logs, ddof=1)], weights=[TRUST_SESSIONS, of]))


def check_log(log):
    """Each rate of one log: name, expected, shown."""
    sessions = log["sessions"]
    for rate in log["rates"]:
        sort = rate["work"], band(rate["diameter_mm"])
        own = [s for s in sessions if sort_of(s) == sort]
        other = [s for s in sessions if sort_of(s) != sort]
        general = shrunk(log["base_per_h"], other, lambda s: factor(sort_of(s)))
        usual = shrunk(general * factor(sort), own)
        slow = stats.lognorm.ppf(0.1, spread(sessions), scale=usual)
        name = f"{sort} of {rate['diameter_mm']} mm"
        yield f"usual pace, {name}", usual, rate["usual_per_h"], TOLERANCE * usual
        yield f"slow pace, {name}", slow, rate["slow_per_h"], TOLERANCE * slow
        yield f"fast pace, {name}", max(usual, FAST * factor(sort)), rate["fast_per_h"], TOLERANCE * usual


def check_curve(curve):
    """Each copy and each sum of one curve: name, expected, shown."""
    n = np.arange(1, max(curve["copies"]) + 1, dtype=float)
    floor = min(curve["floor_min"], curve["first_min"])
    unit = np.maximum(curve["first_min"] * n ** np.log2(curve["rate"]), floor)
    totals = np.cumsum(unit)
    for i, copies in enumerate(curve["copies"]):
        name = f"{copies} at b = {curve['rate']}"
        yield f"copy {name}", unit[copies - 1], curve["copy_min"][i], HALF_MIN
        yield f"sum of {name}", totals[copies - 1], curve["total_min"][i], HALF_MIN * copies


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("file", type=Path)
    data = json.loads(parser.parse_args().file.read_text(encoding="utf-8"))
    compared, wrong = 0, 0
    for judge, items in ((check_log, data["logs"]), (check_curve, data["curves"])):
        for number, item in enumerate(items):
            for name, expected, shown, within in judge(item):
                compared += 1
                if not abs(expected - shown) <= within:
                    wrong += 1
                    print(f"FAILED {judge.__name__} {number}, {name}: {expected} expected, {shown} shown")
    print(f"{len(data['logs'])} logs and {len(data['curves'])} curves, {compared} figures compared, {wrong} differ")
    sys.exit(bool(wrong) or not data["logs"] or not data["curves"] or not compared)


if __name__ == "__main__":
    main()
