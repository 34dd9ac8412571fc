"""Sets spare against SciPy: `spare.py GRID.json`, the grid being what the example `spare_grid` prints.

Every quantity must be SciPy's, to the stone: by the negative binomial quantile where a loss is
assumed, by the beta-binomial one (of N stones it leaves enough, of N - 1 not) where there is a log
or the trust in the assumption is said,
and by the chances themselves (N is enough and N - 1 is not) in every case, averaged over the need where that is uncertain. The need's own distribution is worked out here
from the samples, copy by copy. Where a chance lies within TIE of the one asked for, rounding may
decide either way; such cases are counted and shown apart.
"""

import json
import sys
from functools import lru_cache

import numpy as np
from scipy.stats import betabinom, binom, nbinom

#: A chance this near to the one asked for is a tie: stonelay takes 1e-12 below it for reached, and
#: the chances themselves are rounded.
TIE = 2e-12
#: How far chances may differ: SciPy's rounding at N = 1e5 (see `chance_of`).
CHANCE = {"binomial": 1e-11, "beta-binomial": 5e-10}


class Tally:
    """What was compared."""

    def __init__(self):
        self.compared = self.ties = self.failed = 0

    def agree(self, ok, said):
        self.compared += 1
        if not ok:
            self.failed += 1
            if self.failed <= 40:
                print("DISAGREE", said)


@lru_cache(maxsize=None)
def need_of(hands, copies):
    """The least need, and the chance of each from there on: one hand of several sets all copies."""
    sums = []
    for samples in hands:
        least = min(samples)
        one = np.bincount(np.array(samples) - least) / len(samples)
        total = np.ones(1)
        for _ in range(copies):
            total = np.convolve(total, one)
            # Or 500 roundings of 1/5 add up.
            total /= total.sum()
        sums.append((least * copies, total))
    least = min(s[0] for s in sums)
    chance = np.zeros(max(s[0] + len(s[1]) for s in sums) - least)
    for start, total in sums:
        chance[start - least : start - least + len(total)] += total / len(sums)
    return least, chance


def losses(kind):
    """The loss rate, or the two parameters of its beta distribution."""
    if kind["handled"] == 0 and not kind["trusted"]:
        return "binomial", (kind["assumed"],)
    lost = kind["assumed"] * kind["trust"] + kind["lost"]
    kept = (1 - kind["assumed"]) * kind["trust"] + kind["handled"] - kind["lost"]
    # A beta distribution without any loss is the rate 0.
    return ("binomial", (0.0,)) if lost == 0 else ("beta-binomial", (lost, kept))


@lru_cache(maxsize=None)
def chance_of(n, hands, copies, form, parameters):
    """Chance that of n stones enough are left."""
    least, chance = need_of(hands, copies)
    if n < least:
        return 0.0
    # What may be lost for each need.
    spare = n - least - np.flatnonzero(chance)
    weight = chance[chance > 0][spare >= 0]
    spare = spare[spare >= 0]
    if form == "binomial":
        met = binom.cdf(spare, n, parameters[0])
    else:
        # SciPy takes logarithms of gamma functions from one another, which leaves nine digits at
        # N = 1e5. Most of that error is common to all terms and goes when their sum is made 1.
        pmf = betabinom.pmf(np.arange(n + 1), n, *parameters)
        more = np.append(np.cumsum(pmf[::-1])[::-1], 0.0)
        met = 1 - more[spare + 1] / more[0]
    return float(np.dot(weight, met))


def check(tally, kind, quantity, chance, sure):
    """One quantity, at one chance."""
    hands = tuple(tuple(samples) for samples in kind["hands"])
    form, parameters = losses(kind)
    where = f"need {str(hands)[:60]} x {kind['copies']}, {form} {parameters}, sure {sure}"
    args = (hands, kind["copies"], form, parameters)
    enough = chance_of(quantity, *args)
    tally.agree(abs(enough - chance) <= CHANCE[form], f"{where}: chance {chance}, SciPy {enough}")
    less = chance_of(quantity - 1, *args) if quantity else 0.0
    if min(abs(enough - sure), abs(less - sure)) <= TIE:
        tally.ties += 1
        ok = enough >= sure - TIE and less <= sure + TIE
    else:
        ok = less < sure <= enough
    tally.agree(ok, f"{where}: {quantity} give {enough}, one less {less}")
    need = hands[0][0]
    certain = len(hands) == len(hands[0]) == 1 and kind["copies"] == 1 and need > 0
    if certain and form == "beta-binomial" and need <= 1240:
        # The quantile of what is lost leaves enough of N, and not of N - 1. (SciPy's beta-negative
        # binomial quantile, which would give N at once, does not end where the tail is long.)
        left = [n - int(betabinom.ppf(sure, n, *parameters)) for n in (quantity, quantity - 1)]
        tie = min(abs(enough - sure), abs(less - sure)) <= TIE
        tally.agree(left[0] >= need > left[1] or tie, f"{where}: {quantity} leave {left}")
    if certain and form == "binomial":
        by_quantile = need + int(nbinom.ppf(sure, need, 1 - parameters[0]))
        tie = by_quantile != quantity and abs(chance_of(min(by_quantile, quantity), *args) - sure) <= TIE
        tally.ties += tie
        tally.agree(by_quantile == quantity or tie, f"{where}: {quantity}, SciPy's quantile {by_quantile}")


def check_need(tally, kind):
    """The counts that half, and 95 of 100, cases stay within."""
    least, chance = need_of(tuple(tuple(s) for s in kind["hands"]), kind["copies"])
    within = np.cumsum(chance)
    for name, part in [("need", 0.5), ("need_95", 0.95)]:
        got = kind["got"][name]
        if got is None:
            tally.agree(len(chance) == 1, f"no {name} though the need is uncertain")
            continue
        at = got - least
        below = within[at - 1] if at > 0 else 0.0
        tally.agree(within[at] >= part - TIE and below < part, f"{name} {got}: {within[at]}, {below}")


def main(path):
    with open(path, encoding="utf-8") as file:
        orders = json.load(file)["orders"]
    tally = Tally()
    n_kinds = 0
    for order in orders:
        sure, kinds = order["sure"], order["kinds"]
        needed = sum(max(max(s) for s in k["hands"]) > 0 for k in kinds)
        tally.agree(order["n_kinds"] == needed, f"{order['n_kinds']} kinds needed, not {needed}")
        each = sure ** (1 / max(needed, 1))
        tally.agree(abs(order["sure_each"] - each) <= 1e-15, f"{order['sure_each']} for each, not {each}")
        product = float(np.prod([k["got"]["chance"] for k in kinds]))
        tally.agree(abs(order["chance"] - product) <= 1e-12, f"chance {order['chance']}, product {product}")
        tally.agree(order["chance"] >= sure - 1e-10, f"chance {order['chance']} below {sure}")
        for kind in kinds:
            n_kinds += 1
            got = kind["got"]
            check(tally, kind, got["quantity"], got["chance"], order["sure_each"])
            check(tally, kind, got["quantity_alone"], got["chance_alone"], sure)
            for name in ("", "_alone"):
                spare = max(got["quantity" + name] - got["need"], 0)
                tally.agree(got["spare" + name] == spare, f"spare{name} {got}")
            check_need(tally, kind)
    print(
        f"spare: {len(orders)} orders, {n_kinds} kinds, {tally.compared} values compared, "
        f"{tally.ties} within {TIE} of the chance asked for, {tally.failed} failed"
    )
    return 1 if tally.failed or n_kinds == 0 else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1]))
