"""A worktop on a shop of its own, for the checks that drive it; ended by its process."""

import json
import re
import subprocess
import tempfile
import time
import urllib.error
import urllib.request
from pathlib import Path

# What a server may take to say its address, s; it takes about 0.05.
PATIENCE_S = 20
# The demo order of a fresh shop, and its revision.
DEMO_ORDER, DEMO_REVISION = 2, 2


class Worktop:
    """A running worktop. Use it in a `with`; the shop goes with it unless a folder is given."""

    def __init__(self, binary, folder=None, port=0):
        self.binary = binary
        self.own = None if folder else tempfile.TemporaryDirectory(prefix="stonelay-check-")
        self.folder = Path(folder or self.own.name)
        self.shop = self.folder / "shop.db"
        self.port = port
        self.process = None
        self.url = None

    def __enter__(self):
        self.start()
        return self

    def __exit__(self, *_):
        self.end()
        if self.own:
            self.own.cleanup()

    def start(self):
        """Starts it, and returns after how many seconds it said its address."""
        began = time.perf_counter()
        command = [self.binary, "open", "--shop", self.shop, "--port", str(self.port), "--quiet"]
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
        said = []
        while not self.url_in(said):
            line = self.process.stderr.readline()
            if not line or time.perf_counter() - began > PATIENCE_S:
                self.end()
                raise RuntimeError(f"the worktop does not open: {''.join(said)}")
            said.append(line)
        self.url = self.url_in(said)
        self.port = int(self.url.rsplit(":", 1)[1])
        return time.perf_counter() - began

    @staticmethod
    def url_in(lines):
        found = re.search(r"http://127\.0\.0\.1:\d+", "".join(lines))
        return found and found.group()

    def end(self):
        """Closes it, as Ctrl-C does."""
        if self.process and self.process.poll() is None:
            self.process.terminate()
            try:
                self.process.wait(PATIENCE_S)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()
        if self.process:
            self.process.stderr.close()

    def cut_power(self):
        """Ends it with no chance to do anything."""
        self.process.kill()
        self.process.wait()
        self.process.stderr.close()

    def ask(self, path, body=None, method=None, kind="application/json"):
        """Status, kind and text of an answer, whatever it is."""
        data = body if body is None or isinstance(body, bytes) else json.dumps(body).encode()
        headers = {"content-type": kind} if data is not None else {}
        request = urllib.request.Request(self.url + path, data, headers, method=method)
        try:
            with NO_PROXY.open(request, timeout=120) as answer:
                return answer.status, answer.headers.get_content_type(), answer.read().decode(errors="replace")
        except urllib.error.HTTPError as error:
            with error:
                return error.code, error.headers.get_content_type(), error.read().decode()


NO_PROXY = urllib.request.build_opener(urllib.request.ProxyHandler({}))
