"""Holds calendars against other people's programs: critical paths against longest paths of networkx,
calendar files against the reader `icalendar`, and every schedule against its own working hours.

    calendars.py FILE     FILE is what `cargo run -p planning --example schedules` prints
"""

import json
import re
import sys
from datetime import date, datetime, timedelta
from math import ceil

import icalendar
import networkx as nx

failures = []


def check(right, what):
    if not right:
        failures.append(what)
        print(f"differs: {what}")


def longest(graph, durations, start):
    """Length of the longest path from `start`, both ends counted."""
    order = list(nx.topological_sort(graph))
    part = graph.subgraph({start} | nx.descendants(graph, start)).copy()
    for a, b in part.edges:
        part.edges[a, b]["weight"] = durations[b]
    assert order
    return durations[start] + nx.dag_longest_path_length(part, weight="weight", default_weight=0)


def check_network(at, net):
    durations = net["durations"]
    n = len(durations)
    graph = nx.DiGraph()
    graph.add_nodes_from(range(n))
    for task, before in enumerate(net["predecessors"]):
        graph.add_edges_from((p, task) for p in before)
    back = graph.reverse(copy=True)
    length = 0
    tails = [longest(graph, durations, task) for task in range(n)]
    heads = [longest(back, durations, task) for task in range(n)]
    length = max(tails)
    check(length == net["length"], f"network {at}: {net['length']} long, not {length}")
    for task in range(n):
        early = heads[task] - durations[task]
        late = length - tails[task]
        wanted = [early, early + durations[task], late, late + durations[task]]
        check(net["times"][task] == wanted, f"network {at}, task {task}: {net['times'][task]}, not {wanted}")
        check(net["floats"][task] == late - early, f"network {at}, task {task}: float {net['floats'][task]}")
    path = net["critical_path"]
    check(sum(durations[t] for t in path) == length, f"network {at}: its critical path is not as long as it")
    for a, b in zip(path, path[1:]):
        check(graph.has_edge(a, b), f"network {at}: the critical path jumps from {a} to {b}")
    check(all(net["floats"][t] == 0 for t in path), f"network {at}: float on the critical path")


def plain(text):
    """What RFC 5545 can carry of a name: line ends are one sort, other controls spaces."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(c if c in "\n\t" or ord(c) >= 32 and not 127 <= ord(c) < 160 else " " for c in text)


VERBS = {
    "setting_up": "set up",
    "preparing": "prepare",
    "drying": "drying:",
    "setting": "set",
    "handling": "do not touch:",
    "turning": "turn",
    "curing": "curing:",
    "packing": "pack",
}


def summary(e):
    if e["activity"] == "setting_up":
        return plain(f"{VERBS[e['activity']]} {e['piece']}")
    a, b = e["first_copy"], e["last_copy"]
    copies = f"copy {a}" if a == b else f"copies {a} to {b}"
    side = "" if e["side"] is None else f", side {e['side']}"
    return plain(f"{VERBS[e['activity']]} {e['piece']}, {copies}{side}")


def check_file(at, order):
    raw = order["ical"].encode()
    lines = raw.split(b"\r\n")
    check(lines[-1] == b"" and all(len(x) <= 75 for x in lines), f"order {at}: a line over 75 octets")
    check(b"\n" not in raw.replace(b"\r\n", b"") and b"\r" not in raw.replace(b"\r\n", b""), f"order {at}: a bare line end")
    # The reader forgives separators that are not escaped; others do not.
    for line in order["ical"].replace("\r\n ", "").split("\r\n"):
        if line.startswith(("SUMMARY:", "DESCRIPTION:", "NAME:", "X-WR-CALNAME:")):
            value = line.split(":", 1)[1]
            check(re.fullmatch(r"(?:[^\\;,]|\\[\\;,n])*", value), f"order {at}: not escaped: {line!r}")
    read = icalendar.Calendar.from_ical(raw)
    check(read["VERSION"] == "2.0", f"order {at}: version {read['VERSION']}")
    for name in ("NAME", "X-WR-CALNAME"):
        # The reader leaves properties that RFC 5545 does not have as they are: let it read them as a
        # summary.
        event = f"BEGIN:VEVENT\r\nSUMMARY:{read[name]}\r\nEND:VEVENT\r\n"
        shown = str(icalendar.Event.from_ical(event)["SUMMARY"])
        check(shown == plain(order["order"]), f"order {at}: {name} {shown!r}")
    check(not read.errors, f"order {at}: {read.errors}")
    events = read.walk("VEVENT")
    *timed, ship = events
    wanted = order["plan"]["events"]
    check(len(timed) == len(wanted), f"order {at}: {len(timed)} events, not {len(wanted)}")
    uids = {str(e["UID"]) for e in events}
    check(len(uids) == len(events), f"order {at}: an identity twice")
    for mine, theirs in zip(wanted, timed):
        what = f"order {at}, {mine['activity']} {mine['batch']}"
        start, end = theirs["DTSTART"].dt, theirs["DTEND"].dt
        check(not theirs.errors, f"{what}: {theirs.errors}")
        check(start == datetime.fromisoformat(mine["starts_at"]) and start.tzinfo is None, f"{what}: begins {start}")
        check(end == datetime.fromisoformat(mine["ends_at"]) and end.tzinfo is None, f"{what}: ends {end}")
        check(str(theirs["SUMMARY"]) == summary(mine), f"{what}: {theirs['SUMMARY']!r}, not {summary(mine)!r}")
        check(plain(order["order"]) in str(theirs["DESCRIPTION"]), f"{what}: {theirs['DESCRIPTION']!r}")
        busy = "OPAQUE" if mine["hands"] else "TRANSPARENT"
        check(str(theirs["TRANSP"]) == busy, f"{what}: {theirs['TRANSP']}")
        stamp = theirs["DTSTAMP"].dt
        check(stamp.replace(tzinfo=None) == datetime.fromisoformat(order["stamp"]) and stamp.utcoffset() == timedelta(0), f"{what}: stamp {stamp}")
    day = ship["DTSTART"].dt
    check(type(day) is date and day == date.fromisoformat(order["plan"]["ship_on"]), f"order {at}: ships {day}")
    return len(events)


def check_schedule(at, order):
    """The promises of a schedule, from its events and the work alone."""
    events = [dict(e, a=datetime.fromisoformat(e["starts_at"]), b=datetime.fromisoformat(e["ends_at"])) for e in order["plan"]["events"]]
    closed = {date.fromisoformat(d) for d in order["closed"]}
    for e in (e for e in events if e["hands"]):
        day = e["a"].date()
        minutes = [t.hour * 60 + t.minute for t in (e["a"], e["b"])]
        open_day = day.weekday() < order["working_days"] and day not in closed and e["b"].date() == day
        within = any(a <= minutes[0] and minutes[1] <= b for a, b in order["hours"])
        check(open_day and within, f"order {at}: hands-on outside working hours: {e}")
    for pair in range(1, order["hands"] + 1):
        mine = sorted((e for e in events if e["hands"] == pair), key=lambda e: e["a"])
        for x, y in zip(mine, mine[1:]):
            check(x["b"] <= y["a"], f"order {at}: hands {pair} at two things")
    on_bench = []
    begun = min(events, key=lambda e: e["a"])
    check(begun["activity"] == "setting_up", f"order {at}: begins with {begun['activity']}")
    for piece in order["pieces"]:
        mine = [e for e in events if e["piece"] == piece["name"]]
        batches = sorted({(e["batch"], e["first_copy"], e["last_copy"]) for e in mine})
        copies = [c for _, a, b in batches for c in range(a, b + 1)]
        check(copies == list(range(1, piece["copies"] + 1)), f"order {at}: copies of {piece['name']!r}: {copies}")
        of_piece = [e for e in mine if e["activity"] == "setting_up"]
        ready = max(e["b"] for e in of_piece)
        check(all(e in of_piece or e["a"] >= ready for e in mine), f"order {at}: {piece['name']!r} before it is set up")
        for batch, first, last in batches:
            set_up = piece["set_up_min"] if batch == 1 else 0
            # The order is set up with whatever comes first.
            if batch == 1 and begun in mine:
                set_up += order["set_up_min"]
            n_events, lies = check_batch(at, piece, [e for e in mine if e["batch"] == batch], first, last, set_up)
            if lies:
                on_bench += [(lies[0], 1, last - first + 1), (lies[1], 0, first - last - 1)]
    now, most = 0, 0
    for _, _, change in sorted(on_bench, key=lambda x: (x[0], x[1])):
        now += change
        most = max(most, now)
        check(now <= order["bench"], f"order {at}: {now} copies on a bench for {order['bench']}")
    check(most == order["plan"]["bench_copies"], f"order {at}: {most} copies on the bench, not {order['plan']['bench_copies']}")
    ready = max(e["b"] for e in events)
    check(ready == datetime.fromisoformat(order["plan"]["ready_at"]), f"order {at}: ready {ready}")
    path = order["plan"]["critical_path"]
    check(path and path[-1]["ends_at"] == order["plan"]["ready_at"], f"order {at}: the critical path does not end with the order")
    for x, y in zip(path, path[1:]):
        check(x["ends_at"] <= y["starts_at"], f"order {at}: critical path runs backwards")


def check_batch(at, piece, events, first, last, set_up):
    """Every step of a batch, in order, each as long as asked for."""
    setting = sum(piece["setting_min"][first - 1 : last])
    n = last - first + 1
    steps = [("setting_up", None, set_up, 1), ("preparing", None, n * piece["prepare_min"], 1), ("drying", None, piece["dry_min"], 0)]
    rest = max(0.0, piece["cure_min"] - piece["handle_min"])
    for side in range(1, piece["sides"] + 1):
        if side > 1:
            steps.append(("turning", side, n * piece["turn_min"], 1))
        steps.append(("setting", side, setting / piece["sides"], 1))
        steps.append(("handling", side, piece["handle_min"], 0))
        if side == piece["sides"] or piece["cure_before_turn"]:
            steps.append(("curing", side, rest, 0))
    steps.append(("packing", None, n * piece["pack_min"], 1))
    now, seen, lies = None, 0, None
    for activity, side, minutes, hands in steps:
        parts = [e for e in events if (e["activity"], e["side"]) == (activity, side)]
        spent = sum((e["b"] - e["a"]).total_seconds() / 60 for e in parts)
        what = f"order {at}, {piece['name']!r} {first}-{last}: {activity} {side}"
        check(spent == ceil(minutes - 1e-6) or spent == ceil(minutes), f"{what}: {spent} min, not {minutes}")
        for e in sorted(parts, key=lambda e: e["a"]):
            check(bool(e["hands"]) == bool(hands), f"{what}: hands {e['hands']}")
            check(now is None or now <= e["a"], f"{what} begins before the step before it ends")
            check(hands or now is None or now == e["a"], f"{what} waits without need")
            now = e["b"]
            last_cure = activity == "curing" and side == piece["sides"]
            if activity not in ("setting_up", "packing") and not last_cure:
                lies = (lies[0] if lies else e["a"], e["b"])
        seen += len(parts)
    check(seen == len(events), f"order {at}, {piece['name']!r}: events beyond its steps")
    return seen, lies


def main():
    with open(sys.argv[1], encoding="utf-8") as f:
        data = json.load(f)
    for at, net in enumerate(data["networks"]):
        check_network(at, net)
    events = 0
    for at, order in enumerate(data["orders"]):
        events += check_file(at, order)
        check_schedule(at, order)
    compared = min(len(data["networks"]), events)
    print(f"{len(data['networks'])} networks, {len(data['orders'])} orders, {events} events read back: {len(failures)} differ")
    return 1 if failures or compared == 0 else 0


sys.exit(main())
