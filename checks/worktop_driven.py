"""The API driven by schemathesis for some seconds: no answer may be an error of the server's.

Usage: worktop_driven.py --binary STONELAY --seconds N

Afterwards the worktop must still answer, and its shop must be whole. What schemathesis would say
of other answers is not asked: a document may be refused for many reasons that a schema cannot say.
"""

import argparse
import os
import re
import subprocess
import sys
import sysconfig
from pathlib import Path

from worktop_server import Worktop

# A run that tried less has proved nothing.
LEAST_CASES = 200
# Time beyond what was asked that it may take to end, s.
GRACE_S = 120


def drive(worktop, seconds):
    program = Path(sysconfig.get_path("scripts")) / "schemathesis"
    command = [program, "run", worktop.url + "/api/openapi.json", "--checks", "not_a_server_error"]
    command += ["--max-time", str(seconds), "--seed", "4", "--workers", "1", "--continue-on-failure"]
    command += ["--suppress-health-check", "all", "--warnings", "off"]
    # Loopback only, whatever the machine says of proxies; nothing is told to anybody.
    env = {k: v for k, v in os.environ.items() if "proxy" not in k.lower()} | {"NO_PROXY": "*"}
    done = subprocess.run(command, cwd=worktop.folder, env=env, text=True, capture_output=True, timeout=seconds + GRACE_S)
    return done.returncode, done.stdout + done.stderr


def main(binary, seconds):
    with Worktop(binary) as worktop:
        code, said = drive(worktop, seconds)
        alive = worktop.ask("/")[0]
        worktop.end()
        whole = subprocess.run(["sqlite3", worktop.shop, "PRAGMA integrity_check"], text=True, capture_output=True).stdout.strip()
    found = re.search(r"(\d[\d,]*) generated", said)
    cases = int(found[1].replace(",", "")) if found else 0
    if code != 0 or cases < LEAST_CASES:
        print(said[-6000:])
    print(f"worktop driven for {seconds} s: {cases} cases, ended with {code}, then answers {alive}, its shop is {whole}")
    return 0 if code == 0 and cases >= LEAST_CASES and alive == 200 and whole == "ok" else 1


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", required=True)
    parser.add_argument("--seconds", type=int, required=True)
    args = parser.parse_args()
    sys.exit(main(args.binary, args.seconds))
