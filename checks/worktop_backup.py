"""A backup taken while the worktop works, read by the `sqlite3` program and put back.

Usage: worktop_backup.py --binary STONELAY
"""

import argparse
import json
import subprocess
import sys
import tempfile
import threading
from pathlib import Path

from worktop_server import Worktop

# Lines sent before the backup and at least, so that it falls into the work.
LEAST_LINES = 40


def sqlite(file, words):
    done = subprocess.run(["sqlite3", file, words], text=True, capture_output=True)
    return (done.stdout + done.stderr).strip()


def write(worktop, stop, written):
    number = 0
    while not stop.is_set():
        number += 1
        line = {"nonce": f"line {number}", "what": "received", "stone": "sea glass", "lot": "L8", "amount": 12}
        status, _, text = worktop.ask("/api/ledger", [line])
        if status != 200:
            raise RuntimeError(f"{status} {text}")
        written.append(number)


def main(binary):
    stop, written = threading.Event(), []
    with Worktop(binary) as worktop, tempfile.TemporaryDirectory() as folder:
        writer = threading.Thread(target=write, args=(worktop, stop, written))
        writer.start()
        while len(written) < LEAST_LINES and writer.is_alive():
            stop.wait(0.01)
        before = len(written)
        backup = Path(folder) / "backup.db"
        done = subprocess.run([binary, "backup", backup, "--shop", worktop.shop], text=True, capture_output=True)
        after = len(written) + 1
        stop.set()
        writer.join()
        if done.returncode != 0:
            raise SystemExit(f"backup ended with {done.returncode}: {done.stdout}{done.stderr}")
        said = sqlite(backup, "PRAGMA integrity_check")
        lines = int(sqlite(backup, "SELECT count(*) FROM entry WHERE nonce LIKE 'line %'"))
        restored = Path(folder) / "restored"
        restored.mkdir()
        done = subprocess.run([binary, "restore", backup, "--shop", restored / "shop.db"], text=True, capture_output=True)
        if done.returncode != 0:
            raise SystemExit(f"restore ended with {done.returncode}: {done.stdout}{done.stderr}")
        with Worktop(binary, restored) as again:
            orders = json.loads(again.ask("/api/orders")[2])
            page = json.loads(again.ask("/api/ledger?stone=sea+glass&limit=500")[2])
    back = sum(1 for e in page if e["nonce"].startswith("line "))
    print(
        f"worktop backed up at work: integrity_check {said}, {lines} lines (of {before} to {after} by then), "
        f"put back: {len(orders)} orders, {back} lines"
    )
    fits = said == "ok" and before <= lines <= after and len(orders) == 1 and back == min(lines, 500)
    return 0 if fits else 1


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", required=True)
    sys.exit(main(parser.parse_args().binary))
