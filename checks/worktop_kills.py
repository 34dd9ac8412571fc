"""The worktop killed again and again while presses of the bench and lines of the ledger are sent.

Usage: worktop_kills.py --binary STONELAY --kills N

Two clients send over HTTP, each press and each line under a nonce of its own; what was not answered
is sent again after the worktop is back. At the end the file is read by Python's sqlite3 and by the
`sqlite3` program: everything that was acknowledged is there once, a press and its line both, stock is
the sum of the ledger, and the file is whole.
"""

import argparse
import http.client
import json
import random
import sqlite3
import subprocess
import sys
import threading
import time
import urllib.parse

from worktop_server import DEMO_ORDER, DEMO_REVISION, Worktop

SEED = 4
# A kill falls so long after the worktop answers again, s.
EARLIEST_S, LATEST_S = 0.005, 0.15
# A stone of the demo order that nothing else moves: the badge has none of it.
STONE = "coral"
# So many acknowledged things for each kill at least, or the kills fell beside the work.
LEAST_FOR_A_KILL = 1.0


class Sender(threading.Thread):
    """Sends one thing after the other, each until it is answered."""

    def __init__(self, worktop, name, make):
        super().__init__(name=name)
        self.worktop, self.make = worktop, make
        self.acknowledged, self.again, self.refused = [], 0, []
        self.stop = threading.Event()

    def run(self):
        number = 0
        while not self.stop.is_set():
            number += 1
            nonce = f"{self.name} {number}"
            path, kind, body = self.make(nonce)
            while True:
                status = self.send(path, kind, body)
                if status is not None and status < 400:
                    self.acknowledged.append(nonce)
                    break
                if status is not None:
                    self.refused.append((nonce, status))
                    break
                self.again += 1
                time.sleep(0.005)

    def send(self, path, kind, body):
        """The status, or nothing if there was no answer."""
        line = http.client.HTTPConnection("127.0.0.1", self.worktop.port, timeout=10)
        try:
            line.request("POST", path, body, {"content-type": kind})
            answer = line.getresponse()
            answer.read()
            return answer.status
        except (OSError, http.client.HTTPException):
            return None
        finally:
            line.close()


def line_of_the_ledger(nonce):
    line = {"nonce": nonce, "what": "received", "stone": STONE, "lot": "L1", "amount": 3}
    return "/api/ledger", "application/json", json.dumps([line])


def press(setting, kind):
    def make(nonce):
        fields = {"nonce": nonce, "device": "tablet", "copy": 1, "stretch": 0, "row": 0, "act": "lost", "kind": kind, "stones": 1}
        return f"/bench/{setting}/press", "application/x-www-form-urlencoded", urllib.parse.urlencode(fields)

    return make


def begin_setting(worktop):
    """The number of a setting of the first piece of the demo order, and one of its kinds."""
    fields = {"number": 1, "from": DEMO_REVISION, "first": 1, "last": 18, "nonce": "the setting"}
    line = http.client.HTTPConnection("127.0.0.1", worktop.port, timeout=60)
    kind = "application/x-www-form-urlencoded"
    line.request("POST", f"/orders/{DEMO_ORDER}/set", urllib.parse.urlencode(fields), {"content-type": kind})
    answer = line.getresponse()
    text = answer.read()
    place = answer.headers.get("location", "")
    line.close()
    if not place.startswith("/bench/"):
        raise RuntimeError(f"no setting could be begun: {answer.status} {text[:400]}")
    board = json.loads(worktop.ask(f"/api/orders/{DEMO_ORDER}/pieces/1")[2])
    return int(place.split("/")[2].split("?")[0]), board["kinds"][0]["name"]


def read(shop, acknowledged, senders):
    """What is wrong with the file."""
    wrong = []
    db = sqlite3.connect(f"file:{shop}?mode=ro", uri=True)
    for name, table in (("line", "entry"), ("press", "press")):
        kept = [n for (n,) in db.execute(f"SELECT nonce FROM {table} WHERE nonce LIKE '{name} %' AND nonce NOT LIKE '%-lost'")]
        said = acknowledged[name]
        if len(set(kept)) != len(kept):
            wrong.append(f"{len(kept) - len(set(kept))} of {table} are doubled")
        if set(said) - set(kept):
            wrong.append(f"{len(set(said) - set(kept))} acknowledged of {table} are lost")
        if set(kept) - set(said):
            wrong.append(f"{len(set(kept) - set(said))} of {table} were never acknowledged, though all were sent until they were")
    halves = db.execute(
        "SELECT count(*) FROM (SELECT nonce || '-lost' AS n FROM press WHERE what = 'lost') AS p"
        " FULL JOIN (SELECT nonce AS n FROM entry WHERE nonce LIKE '%-lost') AS e ON p.n = e.n"
        " WHERE p.n IS NULL OR e.n IS NULL"
    ).fetchone()[0]
    if halves:
        wrong.append(f"{halves} presses without their line, or lines without their press")
    on_hand = db.execute("SELECT on_hand FROM stock JOIN stone ON stone.id = stock.stone WHERE name = ?", (STONE,)).fetchone()
    if on_hand is None or on_hand[0] != 3 * len(acknowledged["line"]):
        wrong.append(f"{on_hand} stones of {STONE} for {len(acknowledged['line'])} lines of 3")
    sums = db.execute(
        "SELECT count(*) FROM stock AS s WHERE (s.on_hand, s.reserved) <> (SELECT sum(on_hand_change), sum(reserved_change)"
        " FROM entry AS e WHERE e.stone = s.stone AND e.lot = s.lot)"
    ).fetchone()[0]
    if sums:
        wrong.append(f"{sums} stocks are not the sum of their lines")
    db.close()
    whole = subprocess.run(["sqlite3", shop, "PRAGMA integrity_check; PRAGMA foreign_key_check"], text=True, capture_output=True)
    if whole.stdout.strip() != "ok":
        wrong.append(f"sqlite3 says: {whole.stdout.strip()[:400]} {whole.stderr.strip()}")
    wrong.extend(f"refused: {s.refused[:3]} of {len(s.refused)}" for s in senders if s.refused)
    return wrong


def main(binary, kills):
    moments = random.Random(SEED)
    began = time.perf_counter()
    with Worktop(binary) as worktop:
        setting, kind = begin_setting(worktop)
        senders = [Sender(worktop, "line", line_of_the_ledger), Sender(worktop, "press", press(setting, kind))]
        for sender in senders:
            sender.start()
        try:
            for _ in range(kills):
                time.sleep(moments.uniform(EARLIEST_S, LATEST_S))
                worktop.cut_power()
                worktop.start()
        finally:
            for sender in senders:
                sender.stop.set()
            for sender in senders:
                sender.join()
        worktop.end()
        acknowledged = {s.name: s.acknowledged for s in senders}
        wrong = read(worktop.shop, acknowledged, senders)
    n = sum(len(a) for a in acknowledged.values())
    if n < LEAST_FOR_A_KILL * kills or min(map(len, acknowledged.values())) == 0:
        wrong.append("too little was acknowledged to prove anything")
    print(*wrong, sep="\n")
    print(
        f"worktop killed {kills} times in {time.perf_counter() - began:.0f} s: {len(acknowledged['press'])} presses and "
        f"{len(acknowledged['line'])} lines acknowledged, {sum(s.again for s in senders)} sent again, {len(wrong)} things wrong"
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", required=True)
    parser.add_argument("--kills", type=int, required=True)
    args = parser.parse_args()
    sys.exit(main(args.binary, args.kills))
