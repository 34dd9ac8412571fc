"""Reckons prices again with Python's decimal arithmetic: `prices.py FILE`.

FILE is what the example `prices` of the crate `planning` prints: seeded orders with every input and
every amount. Nothing is shared with it: the sheet is written here from its definition, at 60 digits.
Currencies are held against the package `iso4217`, which carries the standard's list one.
"""

import argparse
import datetime
import json
import sys
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal, getcontext
from pathlib import Path

import iso4217

getcontext().prec = 60
#: Divisions (an hour is 60 minutes) leave noise in the last digits: without cutting it off, a half
#: would be rounded down and a whole price would go up because of it.
NOISE = Decimal(1).scaleb(-40)
#: Codes that the standard withdrew lately (its list three; from memory), which an old order may name.
WITHDRAWN = {"BGN", "CUC", "HRK", "SLL", "ZWL"}


def rounded(value, digits):
    """To whole units, half away from zero (amounts below zero too: that is what HALF_UP does)."""
    return value.quantize(NOISE).quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP)


def up_to(value, step):
    """Up to the next multiple of a step."""
    return (value / step).quantize(NOISE).to_integral_value(rounding=ROUND_CEILING) * step


def hours(minutes):
    """Hours of minutes that are kept to a thousandth."""
    return rounded(Decimal(minutes), 3) / 60


def overhead(terms, worked, cost):
    """Overhead on hours, or on cost."""
    kind, value = terms["overhead"]
    return worked * Decimal(value) if kind == "per_hour" else cost * Decimal(value)


def piece_lines(terms, piece, copies, minutes):
    """Exact lines of a piece, and which of them are (stones, labour)."""
    wage = Decimal(terms["wage_per_h"])
    lines = [(Decimal(each) * copies, stones, False) for stones, each in piece["materials"]]
    lines.append((sum(a for a, _, _ in lines) * Decimal(terms["waste"]), False, False))
    worked = [hours(m) for m in minutes]
    lines += [(h * wage, False, True) for h in worked]
    lines.append((overhead(terms, sum(worked), sum(a for a, _, _ in lines)), False, False))
    return lines


def order_lines(terms, case):
    """Exact lines of the order itself."""
    worked = hours(case["set_up_min"])
    labour = worked * Decimal(terms["wage_per_h"])
    lines = [(labour, False, True), (overhead(terms, worked, labour), False, False)]
    return lines + [(Decimal(c), False, False) for c in case["whole_order"]]


def total(lines):
    """Sum of exact lines."""
    return sum((a for a, _, _ in lines), Decimal(0))


def customer_pays(terms, net):
    """Tax, deposit and balance."""
    digits = terms["digits"]
    tax = rounded(net * Decimal(terms["tax"]), digits)
    deposit = rounded((net + tax) * Decimal(terms["deposit"]), digits)
    return {"net": net, "tax": tax, "gross": net + tax, "deposit": deposit, "balance": net + tax - deposit}


class Case:
    """One order: what it should say, beside what it says."""

    def __init__(self, case):
        self.case, self.terms, self.price = case, case["terms"], case["price"]
        self.compared, self.wrong = 0, []

    def same(self, what, expected, shown):
        """Compares one value, to the cent."""
        self.compared += 1
        if shown is None or expected is None:
            if shown is not expected:
                self.wrong.append(f"{what}: {expected} expected, {shown} shown")
        elif Decimal(shown) != expected:
            self.wrong.append(f"{what}: {expected} expected, {shown} shown")

    def prices(self, cost, copies):
        """Floor and suggested price of a copy."""
        terms = self.terms
        fees = sum((Decimal(f["share"]) for f in terms["fees"]), Decimal(0)) * (1 + Decimal(terms["tax"]))
        kind, part = terms["profit"]
        unit = Decimal(1).scaleb(-terms["digits"])
        step = Decimal(terms["round_up_to"]) if terms["round_up_to"] else unit
        part = Decimal(part)
        if kind == "margin":
            price = cost / (1 - part - fees)
        else:
            # A mark-up is on all that is paid out, fees included: p = (1 + m)(cost + fees of p).
            price = (1 + part) * cost / (1 - (1 + part) * fees)
        return up_to(cost / (1 - fees) / copies, unit), up_to(price / copies, step)

    def check(self):
        """Every amount of the order."""
        terms, case, price = self.terms, self.case, self.price
        digits = terms["digits"]
        order = order_lines(terms, case)
        fixed = sum((Decimal(f["fixed"]) for f in terms["fees"]), Decimal(0))
        pieces = [piece_lines(terms, p, p["copies"], p["minutes"]) for p in case["pieces"]]
        weights = [total(lines) for lines in pieces]
        if not any(weights):
            weights = [Decimal(p["copies"]) for p in case["pieces"]]
        cost, net, part_sum = Decimal(0), Decimal(0), Decimal(0)
        floor_sum, suggested_sum = Decimal(0), Decimal(0)
        for i, (piece, lines) in enumerate(zip(case["pieces"], pieces)):
            shown, copies = price["pieces"][i], piece["copies"]
            carried = (total(order) + fixed) * weights[i] / sum(weights)
            floor, suggested = self.prices(total(lines) + carried, copies)
            each = Decimal(piece["asked"]) if piece["asked"] else suggested
            piece_cost = sum((rounded(a, digits) for a, _, _ in lines), Decimal(0))
            amounts = [rounded(a, digits) for a, _, _ in lines if a]
            self.same("lines of a piece", Decimal(len(amounts)), len(shown["sheet"]))
            for expected, line in zip(amounts, shown["sheet"]):
                self.same(line["item"], expected, line["amount"])
            self.same("cost of a piece", piece_cost, shown["cost"])
            each_cost = rounded(total(lines) / copies, digits)
            self.same("cost of a copy", each_cost, shown["cost_each"])
            self.same("lines of a copy", each_cost, sum(Decimal(l["each"]) for l in shown["sheet"]))
            self.same("floor", floor, shown["floor_each"])
            self.same("suggested", suggested, shown["suggested_each"])
            self.same("each", each, shown["each"])
            self.same("net of a piece", each * copies, shown["net"])
            self.quantities(piece, shown, total(order) + fixed)
            cost, net = cost + piece_cost, net + each * copies
            floor_sum, suggested_sum = floor_sum + floor * copies, suggested_sum + suggested * copies
            part_sum += Decimal(shown["order_part"])
        order_cost = sum((rounded(a, digits) for a, _, _ in order), Decimal(0))
        self.same("parts of the order's costs", order_cost, part_sum)
        self.same("cost", cost + order_cost, price["cost"])
        self.same("sheet", cost + order_cost, sum(Decimal(l["amount"]) for l in price["sheet"]))
        self.same("floor of the order", floor_sum, price["floor"])
        self.same("suggested for the order", suggested_sum, price["suggested"])
        self.same("tax rate", Decimal(terms["tax"]), price["tax_share"])
        self.same("deposit rate", Decimal(terms["deposit"]), price["deposit_share"])
        self.charged(net, cost + order_cost)
        self.per_gross(pieces, order)
        until = datetime.date(2026, 12, 1) + datetime.timedelta(days=terms["days"])
        self.same("valid until", Decimal(until.toordinal()),
                  datetime.date.fromisoformat(price["valid_until"]).toordinal())
        return self

    def quantities(self, piece, shown, once):
        """Prices of the piece alone at each quantity."""
        for row, minutes in zip(shown["by_quantity"], piece["minutes_at"], strict=True):
            copies = row["copies"]
            cost = total(piece_lines(self.terms, piece, copies, minutes)) + once
            floor, each = self.prices(cost, copies)
            self.same(f"floor at {copies}", floor, row["floor_each"])
            self.same(f"each at {copies}", each, row["each"])
            for key, value in customer_pays(self.terms, each * copies).items():
                if key in row:
                    self.same(f"{key} at {copies}", value, row[key])

    def charged(self, net, cost):
        """Rush, totals, fees and profit."""
        terms, price = self.terms, self.price
        digits, rush = terms["digits"], terms["rush"]
        charged = customer_pays(terms, net)
        if rush:
            value = Decimal(rush["value"])
            charge = rounded(net * value if rush["kind"] == "share" else value, digits)
            rushed = customer_pays(terms, net + charge)
            self.same("rush charge", charge, price["rush"]["charge"])
            for name, totals in (("rushed", rushed), ("unhurried", charged)):
                for key, value in totals.items():
                    self.same(f"{name} {key}", value, price["rush"][name][key])
            charged = rushed if rush["applies"] else charged
        for key, value in charged.items():
            self.same(f"charged {key}", value, price["charged"][key])
        fees = [rounded(charged["gross"] * Decimal(f["share"]) + Decimal(f["fixed"]), digits) for f in terms["fees"]]
        for fee, shown in zip(fees, price["fees"], strict=True):
            self.same("fee", fee, shown["amount"])
        paid_out = cost + sum(fees)
        profit = charged["net"] - paid_out
        self.same("profit", profit, price["profit"])
        self.same("margin", rounded(profit / charged["net"], 4) if charged["net"] else None, price["margin"])
        self.same("mark-up", rounded(profit / paid_out, 4) if paid_out else None, price["markup"])

    def per_gross(self, pieces, order):
        """Stones and labour for 144 stones."""
        digits, shown = self.terms["digits"], self.price["per_gross"]
        applied = sum(p["copies"] * p["stones"] for p in self.case["pieces"])
        lines = [line for piece in pieces for line in piece] + order
        if not applied or not total(lines):
            self.same("stones a gross", None, shown)
            return
        stones = sum(a for a, is_stones, _ in lines if is_stones)
        labour = sum(a for a, _, is_labour in lines if is_labour)
        net = Decimal(self.price["charged"]["net"])
        gross = Decimal(144) / applied
        self.same("stones a gross", rounded(stones * gross, digits), shown["stones"])
        self.same("labour a gross", rounded(labour * gross, digits), shown["labour"])
        blanks = sum(a for piece in self.case["pieces"] for is_stones, each in piece["materials"]
                     if not is_stones for a in [Decimal(each) * piece["copies"]])
        beside = blanks + sum(Decimal(c) for c in self.case["whole_order"])
        part = rounded(net * (1 - beside / total(lines)) * gross, digits)
        self.same("price of a gross", part, shown["price"])
        rest = part - Decimal(shown["stones"]) - Decimal(shown["labour"])
        self.same("rest of a gross", rest, shown["on_top"])


def currencies(shown):
    """Disagreements with the standard's list, both ways; and how many codes were looked at."""
    listed = {c.code: c.exponent for c in iso4217.Currency}
    codes = sorted((set(listed) | set(shown)) - WITHDRAWN)
    wrong = [
        f"{code}: {listed.get(code)} digits expected, {shown.get(code)} shown"
        for code in codes
        if shown.get(code) != listed.get(code)
    ]
    return wrong, len(codes)


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("file", type=Path)
    data = json.loads(parser.parse_args().file.read_text(encoding="utf-8"))
    wrong, n_codes = currencies(data["currencies"])
    compared = 0
    for number, case in enumerate(data["cases"]):
        checked = Case(case).check()
        compared += checked.compared
        wrong += [f"order {number}: {text}" for text in checked.wrong]
    for text in wrong:
        print(f"FAILED {text}")
    print(f"{len(data['cases'])} orders, {compared} amounts and {n_codes} currencies compared, {len(wrong)} differ")
    sys.exit(bool(wrong) or not compared or not n_codes)


if __name__ == "__main__":
    main()
