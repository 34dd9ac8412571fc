"""Writes the little TOML that order documents need."""

import json
import re


def key(name):
    """A key, quoted only if it must be."""
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else json.dumps(name)


def value(v):
    """A value on one line."""
    if isinstance(v, bool):
        return "true" if v else "false"
    if isinstance(v, str):
        return json.dumps(v, ensure_ascii=False)
    if isinstance(v, (int, float)):
        return repr(v)
    if isinstance(v, dict):
        return "{ " + ", ".join(f"{key(k)} = {value(x)}" for k, x in v.items()) + " }"
    return "[" + ", ".join(value(x) for x in v) + "]"


def document(tables):
    """A document: plain values first, then lists of tables, which may hold lists of tables."""
    lines = []
    put(lines, tables, "")
    return "\n".join(lines) + "\n"


def put(lines, table, path):
    """One table: its values, then what hangs below it."""
    below = {k: v for k, v in table.items() if is_tables(v)}
    lines += [f"{key(k)} = {value(v)}" for k, v in table.items() if k not in below]
    for k, entries in below.items():
        name = f"{path}{key(k)}"
        for entry in entries:
            lines += ["", f"[[{name}]]"]
            put(lines, entry, name + ".")


def is_tables(v):
    """Whether a value is a list of tables."""
    return isinstance(v, list) and bool(v) and all(isinstance(x, dict) for x in v)
