"""Runs the binary on an order document and says how it went."""

import os
import subprocess
from dataclasses import dataclass
from multiprocessing.pool import ThreadPool
from pathlib import Path

#: What the binary ends with, as its help says: done; the document was refused.
DONE, REFUSED = 0, 3
#: No lay of a check takes longer, s.
TIME_LIMIT_S = 300


@dataclass
class Laying:
    """One run of `stonelay lay`."""

    #: The order document.
    order: Path
    #: Where its files were written.
    out: Path
    #: What the program ended with.
    code: int
    #: What it said on standard error.
    said: str

    @property
    def lay(self):
        """The written JSON."""
        return self.out / "lay.json"

    @property
    def trouble(self):
        """What no document may ever cause, or nothing."""
        if self.code not in (DONE, REFUSED) or "panicked" in self.said:
            return f"it broke down, code {self.code}: {self.said.strip()[:300]}"
        if self.code == REFUSED and not self.said.strip():
            return "it refused without a word"
        return None


def lay(binary, order, out):
    """Lays one document, every file into the folder `out`."""
    out.mkdir(parents=True, exist_ok=True)
    command = [str(binary), "lay", str(order), "--json", "--threads", "1", "--out", str(out)]
    try:
        with open(out / "lay.json", "wb") as json_file:
            done = subprocess.run(
                command, stdout=json_file, stderr=subprocess.PIPE, timeout=TIME_LIMIT_S
            )
        code, said = done.returncode, done.stderr.decode("utf-8", "replace")
    except subprocess.TimeoutExpired:
        code, said = -1, f"not done after {TIME_LIMIT_S} s"
    return Laying(order, out, code, said)


def lay_all(binary, tasks):
    """Lays many documents side by side; results in the order of the tasks (order, out)."""
    with ThreadPool(os.cpu_count()) as pool:
        return pool.starmap(lay, [(binary, *task) for task in tasks])
