"""Checks written lays by Shapely, SciPy and NumPy: `check_lay.py [--deep] LAY.json ...`.

Beside each JSON lie the CSV, SVG and PNG of its pieces. One line a piece, then a count; fails if
any piece breaks a law of `piece_checks`.
"""

import argparse
import itertools
import json
import os
import sys
import time
from multiprocessing import Pool
from pathlib import Path

import jsonschema

import piece_checks
from lay_files import file_name, read_lay

SCHEMA = Path(__file__).resolve().parent.parent / "docs" / "lay.schema.json"
#: At most so many complaints are shown of one piece.
SHOWN = 6


def complaints(lay, piece_no, path, deep=False, files=True, seed=20_260_101):
    """Yields everything that is wrong with one piece of a lay, as text."""
    laid = piece_checks.Laid(lay["pieces"][piece_no])
    checks = [
        piece_checks.sizes(laid),
        piece_checks.fingerprint(laid),
        piece_checks.numbers(laid),
        piece_checks.overlaps(laid),
        piece_checks.insides(laid),
        piece_checks.zones_apart(laid),
        piece_checks.coverages(laid),
        piece_checks.counts(laid),
        piece_checks.bare_edges(laid),
        piece_checks.bare_spots(laid, seed, deep),
        piece_checks.bare_spots_of_blank(laid, seed, deep),
    ]
    if files:
        name = file_name(lay, piece_no)
        checks += [piece_checks.tables(laid, path, name), piece_checks.pictures(laid, path, name)]
    return itertools.chain.from_iterable(checks)


def schema_complaints(lay):
    """Where the JSON departs from its published schema."""
    validator = jsonschema.validators.validator_for(schema := json.loads(SCHEMA.read_text()))
    validator.check_schema(schema)
    errors = validator(schema).iter_errors(lay)
    return [f"schema: {e.json_path}: {e.message[:200]}" for e in itertools.islice(errors, SHOWN)]


def check_one(task):
    """Checks one piece in a process of its own."""
    path, piece_no, deep, files = task
    start = time.monotonic()
    try:
        lay = read_lay(path)
        found = schema_complaints(lay) if piece_no == 0 else []
        found += itertools.islice(complaints(lay, piece_no, path, deep, files), SHOWN)
        name = lay["pieces"][piece_no]["name"]
        n = len(lay["pieces"][piece_no]["stones"])
    except Exception as error:  # a file that cannot be read is a piece that did not pass
        found, name, n = [f"{type(error).__name__}: {error}"], f"piece {piece_no + 1}", 0
    return path, name, n, found, time.monotonic() - start


def check_files(paths, deep=False, files=True, quiet=False):
    """Checks every piece of every file; the numbers of those that passed and failed."""
    tasks, failed = [], 0
    for path in paths:
        try:
            n = len(read_lay(path)["pieces"])
        except Exception as error:
            print(f"FAILED {path}: {type(error).__name__}: {error}")
            failed += 1
            continue
        tasks += [(path, i, deep, files) for i in range(n)]
    passed = 0
    with Pool(os.cpu_count()) as pool:
        for path, name, n, found, seconds in pool.imap(check_one, tasks):
            label = f"{Path(path).parent.name}/{name}: {n} stones, {seconds:.1f} s"
            if found:
                failed += 1
                print(f"FAILED {label}")
                for complaint in found:
                    print(f"       {complaint}")
            else:
                passed += 1
                if not quiet:
                    print(f"passed {label}")
    return passed, failed


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--deep", action="store_true", help="the whole search for bare spots")
    parser.add_argument("files", nargs="+", metavar="LAY.json")
    options = parser.parse_args()
    passed, failed = check_files(options.files, options.deep)
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed > 0 or passed == 0)


if __name__ == "__main__":
    main()
