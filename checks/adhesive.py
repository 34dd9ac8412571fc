"""Reckons adhesive figures again: `adhesive.py GRID`, GRID as the example `adhesive` prints it.

Volumes and units by pint, powers and money by `decimal` with 40 digits, batches by trying. Sources
stand beside the values; nothing here was taken from the engine.
"""

import json
import sys
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, Decimal, getcontext

import pint

getcontext().prec = 40
UNITS = pint.UnitRegistry(non_int_type=Decimal)
#: π to 40 digits.
PI = Decimal("3.1415926535897932384626433832795028841972")
#: Rounding allowed for sums of binary numbers, relative.
TOLERANCE = Decimal("1e-11")
#: Half-sphere dots, µl, as published (closed form): SS number, value, at the middle of its range.
DOTS = {12: "1.0", 16: "1.9", 20: "3.4", 30: "8.6"}
#: 1:1 by volume in parts by weight: resin 1.15–1.17, hardener 0.95–1.02 g/ml (from memory).
BY_WEIGHT = {(Decimal("1.17"), Decimal("0.95")): 81, (Decimal("1.15"), Decimal("1.02")): 89}


class Tally:
    """Counts comparisons, and prints those that fail."""

    def __init__(self):
        self.compared = 0
        self.failed = 0

    def near(self, what, got, wanted):
        """Compares two numbers by their relative difference."""
        self.true(f"{what}: {got}, wants {wanted}", abs(got - wanted) <= TOLERANCE * abs(wanted))

    def true(self, what, holds):
        """Counts one comparison."""
        self.compared += 1
        if not holds:
            self.failed += 1
            print(f"DISAGREES {what}")


def units(tally, grid):
    """US fluid ounce 29.5735 ml: NIST Handbook 44, Appendix C (from memory); pint's own value."""
    ounce = UNITS.Quantity(Decimal(1), "US_fluid_ounce").to("milliliter").magnitude
    gallon = UNITS.Quantity(Decimal(1), "gallon").to("milliliter").magnitude
    tally.near("US fluid ounce", grid["ml_per_us_fluid_ounce"], ounce)
    tally.near("US gallon", grid["ml_per_us_gallon"], gallon)
    rounded = grid["ml_per_us_fluid_ounce"].quantize(Decimal("0.0001"))
    tally.true(f"US fluid ounce {rounded}", rounded == Decimal("29.5735"))


def volumes(tally, grid):
    """Dots, beads and films by closed forms."""
    middles = {}
    for dot in grid["dots"]:
        radius = UNITS.Quantity(dot["diameter_mm"], "millimeter") / 4
        volume = (2 * PI / 3 * radius**3).to("microliter").magnitude
        tally.near(f"dot {dot['diameter_mm']}", dot["ul"], volume)
        middles.setdefault(dot["ss"], []).append(dot["diameter_mm"])
    for ss, published in DOTS.items():
        middle = sum(middles[ss]) / 2
        per_cube = next(d["ul"] / d["diameter_mm"] ** 3 for d in grid["dots"] if d["ss"] == ss)
        got = (per_cube * middle**3).quantize(Decimal("0.1"))
        tally.true(f"dot SS{ss}: {got}, published {published}", got == Decimal(published))
    for bead in grid["beads"]:
        part = {"half": 2, "round": 1}[bead["section"]]
        radius = UNITS.Quantity(bead["width_mm"], "millimeter") / 2
        length = UNITS.Quantity(bead["length_mm"], "millimeter")
        volume = (PI * radius**2 * length / part).to("milliliter").magnitude
        tally.near(f"bead {bead}", bead["ml"], volume)
    for film in grid["films"]:
        area = UNITS.Quantity(film["area_mm2"], "millimeter**2")
        thickness = UNITS.Quantity(film["thickness_mm"], "millimeter")
        tally.near(f"film {film}", film["ml"], (area * thickness).to("milliliter").magnitude)
    # 0.1 ml/cm² per mm, and 1,604 ft² a US gallon at 0.001 in (closed form; a resin dealer's page
    # prints 1,608).
    per_cm2 = [f["ml"] for f in grid["films"] if f["area_mm2"] == 100 and f["thickness_mm"] == 1]
    tally.true(f"ml per cm² and mm: {per_cm2}", per_cm2 == [Decimal("0.1")])
    gallon = grid["ml_per_us_gallon"]
    foot = [f["ml"] for f in grid["films"] if f["area_mm2"] == Decimal("92903.04")][0]
    tally.true(f"ft² a gallon: {gallon / foot}", (gallon / foot).quantize(Decimal(1)) == 1604)


def pot(stated, temperature, mass):
    """Doubles for each 10 °C below 25 °C, halves above (one source); over 100 g by m^-1/3 (ours)."""
    factor = Decimal(2) ** ((25 - temperature) / 10)
    return stated * factor * min(Decimal(1), (100 / mass) ** (Decimal(1) / 3))


def times(tally, grid):
    """Open time and pot life in the room."""
    for row in grid["times"]:
        stated, temperature = row["stated_min"], row["temperature_c"]
        film = stated * Decimal("1.3") ** ((25 - temperature) / 10)
        at_100_g = pot(stated, temperature, Decimal(100))
        wanted = min(film, at_100_g) if row["two_part"] else film
        tally.near(f"open time {row}", row["open_min"], wanted)
        if row["two_part"]:
            in_cup = pot(stated, temperature, row["mass_g"])
            tally.near(f"pot life {row}", row["pot_min"], in_cup)
        else:
            tally.true(f"no pot life {row}", row["pot_min"] is None)


def mixes(tally, grid):
    """A and B by volume and by weight, from the definition of density."""
    seen = 0
    for row in grid["mixes"]:
        a_ml, b_ml = row["a"], row["b"]
        if row["by"] == "weight":
            a_ml, b_ml = a_ml / row["density_a"], b_ml / row["density_b"]
        scale = row["ml"] / (a_ml + b_ml)
        parts = row["amount"]["parts"]
        tally.near(f"A {row}", parts["a_ml"], a_ml * scale)
        tally.near(f"B {row}", parts["b_ml"], b_ml * scale)
        tally.near(f"A {row}", parts["a_g"], a_ml * scale * row["density_a"])
        tally.near(f"B {row}", parts["b_g"], b_ml * scale * row["density_b"])
        weight = a_ml * scale * row["density_a"] + b_ml * scale * row["density_b"]
        tally.near(f"mix {row}", row["amount"]["g"], weight)
        published = BY_WEIGHT.get((row["density_a"], row["density_b"]))
        if published and row["a"] == row["b"] and row["by"] == "volume":
            seen += 1
            hardener = (100 * parts["b_g"] / parts["a_g"]).quantize(Decimal(1))
            tally.true(f"1:1 is 100:{hardener}, published {published}", hardener == published)
    tally.true(f"{seen} published ratios", seen == len(BY_WEIGHT))


def on_stretch(order, stretch):
    """What ends up under one stretch, ml."""
    if order["way"] == "dot":
        return PI * order["diameter_mm"] ** 3 / 96 * stretch["stones"] / 1000
    if order["way"] == "bead":
        return PI * order["width_mm"] ** 2 / 8 * stretch["glue_line_mm"] / 1000
    return stretch["area_cm2"] * order["thickness_mm"] / 10


def orders(tally, grid):
    """Whole orders: needs, containers, cost, leftovers, batches."""
    for order in grid["orders"]:
        plan, total = order["plan"], Decimal(0)
        with_waste = 1 + order["waste"]
        for piece, stretches in zip(plan["pieces"], order["stretches"], strict=True):
            name = f"{order['way']} at {order['temperature_c']} {piece['piece']} x {piece['copies']}"
            needs = [on_stretch(order, s) * with_waste for s in stretches]
            tally.near(f"{name}: copy", piece["copy_need"]["ml"], sum(needs))
            tally.near(f"{name}: g", piece["copy_need"]["g"], sum(needs) * density(order))
            total += sum(needs) * piece["copies"]
            share = (sum(needs) / order["container_ml"]).quantize(Decimal("1e-9"))
            cost = (Decimal(order["price"]) * share).quantize(Decimal("0.0001"), ROUND_HALF_EVEN)
            off = abs(Decimal(piece["copy_cost"]) - cost)
            tally.true(f"{name}: cost {piece['copy_cost']}, {cost}", off <= Decimal("0.0001"))
            batches(tally, name, order, piece, list(zip(stretches, needs, strict=True)))
        adhesive = plan["adhesives"][0]
        name = f"{order['way']} x {plan['pieces'][0]['copies']}"
        tally.near(f"{name}: need", adhesive["need"]["ml"], total)
        n = (total / order["container_ml"]).to_integral_value(ROUND_CEILING)
        tally.true(f"{name}: {adhesive['containers']} of {n}", adhesive["containers"] == n)
        money = Decimal(order["price"]) * n
        tally.true(f"{name}: {adhesive['cost']} is {money}", Decimal(adhesive["cost"]) == money)
        left = n * order["container_ml"] - total
        tally.true(f"{name}: left {left}", abs(adhesive["leftover"]["ml"] - left) < Decimal("1e-8"))


def density(order):
    """Of a mix at 1:1 by volume that neither shrinks nor swells: the mean of its parts'."""
    return (order["density_a"] + order["density_b"]) / 2


def batches(tally, name, order, piece, stretches):
    """Every stretch of every copy is served in time, and no fewer batches would do."""
    reserve = 1 - Decimal("0.2")

    def fits(slow, ml):
        mass = ml * density(order)
        usable = pot(order["stated_pot_min"], order["temperature_c"], mass) * reserve
        return slow <= usable + Decimal("1e-9")

    copies = piece["copies"]
    served = {}
    for batch in piece["batches"]:
        inside = stretches[batch["first_stretch"] - 1 : batch["last_stretch"]]
        slow = sum(s["slow_min"] for s, _ in inside) * batch["copies"] / batch["divided"]
        ml = sum(ml for _, ml in inside) * batch["copies"] / batch["divided"]
        tally.near(f"{name}: batch", batch["amount"]["ml"], ml)
        tally.true(f"{name}: batch of {ml} ml in {slow} min", fits(slow, ml))
        for s, _ in inside:
            times = batch["times"] * batch["copies"] // batch["divided"]
            served[s["number"]] = served.get(s["number"], 0) + times
    wanted = {s["number"]: copies for s, _ in stretches}
    tally.true(f"{name}: served {served}", served == wanted)
    slow, ml = sum(s["slow_min"] for s, _ in stretches), sum(ml for _, ml in stretches)
    if fits(slow, ml):
        most = max(k for k in range(1, copies + 1) if fits(slow * k, ml * k))
        fewest = -(-copies // most)
        mixed = sum(b["times"] for b in piece["batches"])
        tally.true(f"{name}: {mixed} batches, {fewest} would do", mixed == fewest)


def main():
    """Checks the grid named on the command line."""
    with open(sys.argv[1], encoding="utf-8") as file:
        grid = json.load(file, parse_float=Decimal, parse_int=Decimal)
    # Counts and places are whole numbers.
    grid = whole(grid)
    tally = Tally()
    for part in (units, volumes, times, mixes, orders):
        before = tally.compared
        part(tally, grid)
        tally.true(f"{part.__name__} compared nothing", tally.compared > before)
    print(f"adhesive: {tally.compared} figures compared, {tally.failed} disagree")
    sys.exit(1 if tally.failed else 0)


#: Keys whose values are counts.
COUNTS = {"copies", "times", "divided", "first_stretch", "last_stretch", "number", "ss", "stones"}


def whole(value, key=None):
    """The same values, counts as `int`."""
    if isinstance(value, dict):
        return {k: whole(v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [whole(v, key) for v in value]
    return int(value) if key in COUNTS and value is not None else value


if __name__ == "__main__":
    main()
