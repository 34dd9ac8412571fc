"""The OpenAPI document by another's validator, and every operation's example sent as it stands.

Usage: worktop_api.py --binary STONELAY

Each example goes to a fresh worktop with the demo order, after what has to come before it; the
answer must be a success and keep the schema that the document gives for it.
"""

import argparse
import json
import re
import sqlite3
import sys
import urllib.parse

import jsonschema
from openapi_spec_validator import OpenAPIV31SpecValidator

from worktop_server import DEMO_ORDER, Worktop

# What stands for a parameter of a path; every other is 1, the first of its kind.
PARAMETERS = {"order": str(DEMO_ORDER), "name": "sea glass", "sort": "svg", "paper": "quote"}
# What this machine alone cannot do, as nobody of a network comes in: refused so.
REFUSED = {"new_code": 409, "pair": 409}


def begin(worktop, by_name):
    """A setting of one copy, by its own example."""
    status, _, text = send(worktop, *by_name["begin_setting"])
    assert status == 200, text


def finish(worktop, by_name):
    """A finished copy: rows are done until there is none."""
    begin(worktop, by_name)
    for n in range(1000):
        at = json.loads(worktop.ask("/api/settings/1")[2])
        if at["copies_done"]:
            return
        press = {"nonce": f"finish-{n}", "act": "done", **at["named"]}
        if at["glue"]["glue"] == "closed" and at["next"]["step"] == "row":
            press["act"] = "glue"
        status, _, text = worktop.ask("/api/settings/1/presses", press, "POST", "application/json")
        assert status == 200, text
    raise AssertionError("the copy was never finished")


def quoted(worktop, by_name):
    """The quote as it stands, for a yes that has to name it."""
    quote = json.loads(worktop.ask(f"/api/orders/{DEMO_ORDER}/quote")[2])
    yes = by_name["say_yes"][2]["requestBody"]["content"]["application/json"]["example"]
    yes["hash"] = quote["hash"]
    yes["price"] = f"{float(quote['gross']):,.2f} {quote['currency']}"


def said(worktop, by_name):
    """A yes."""
    quoted(worktop, by_name)
    status, _, text = send(worktop, *by_name["say_yes"])
    assert status == 200, text


def paired(worktop, by_name):
    """A device, which would have to come in from a network: written into the shop."""
    with sqlite3.connect(worktop.shop) as shop:
        shop.execute("INSERT INTO device (token_hash, name, made_ms, seen_ms) VALUES ('00', 'tablet', 1, 1)")


# What has to come before an operation, by operation id.
BEFORE = {
    "shut_out": paired,
    "setting": begin,
    "press": begin,
    "close_setting": begin,
    "set_copies": finish,
    "repair_place": finish,
    "repaired": finish,
    "say_yes": quoted,
    "withdraw_yes": said,
}


def operations(document):
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            yield operation["operationId"], method.upper(), path, operation


def filled(path, operation):
    """The path with its parameters, and the questions that have to be asked."""
    examples = {p["name"]: p["schema"].get("example", p.get("example")) for p in operation.get("parameters", [])}
    value = lambda m: str(examples.get(m[1]) or PARAMETERS.get(m[1], "1"))
    path = re.sub(r"\{(\w+)\}", lambda m: urllib.parse.quote(value(m), safe=""), path)
    asked = {
        p["name"]: examples[p["name"]]
        for p in operation.get("parameters", [])
        if p["in"] == "query" and examples[p["name"]] is not None
    }
    return path + ("?" + urllib.parse.urlencode(asked) if asked else "")


def send(worktop, method, path, operation):
    content = operation.get("requestBody", {}).get("content", {})
    if not content:
        return worktop.ask(filled(path, operation), b"" if method == "POST" else None, method)
    (kind, body), = content.items()
    if "example" not in body:
        raise LookupError("no example")
    example = body["example"]
    data = example if kind == "application/json" else str(example).encode()
    return worktop.ask(filled(path, operation), data, method, kind)


def check(binary, document, name, by_name):
    """What is wrong with an operation; nothing if it is as it is described."""
    method, path, operation = by_name[name]
    with Worktop(binary) as worktop:
        if name in BEFORE:
            BEFORE[name](worktop, by_name)
        status, kind, text = send(worktop, method, path, operation)
    if name in REFUSED:
        return None if (status, kind) == (REFUSED[name], "application/problem+json") else f"{status} {text}"
    if not 200 <= status < 300:
        return f"{status} {text}"
    content = operation["responses"]["200"].get("content", {})
    if content and kind not in content:
        return f"answers with {kind}"
    schema = content.get("application/json", {}).get("schema")
    if schema is None:
        return None if text or not content else "the file is empty"
    whole = {**schema, "components": document["components"]}
    wrong = list(jsonschema.Draft202012Validator(whole).iter_errors(json.loads(text)))
    return "; ".join(f"{e.json_path}: {e.message[:200]}" for e in wrong[:3]) or None


def main(binary):
    with Worktop(binary) as worktop:
        status, _, text = worktop.ask("/api/openapi.json")
        refused = json.loads(worktop.ask("/api/orders/999")[2])
    if status != 200:
        raise SystemExit(f"no OpenAPI document: {status}")
    document = json.loads(text)
    OpenAPIV31SpecValidator(document).validate()
    problem = {"$ref": "#/components/schemas/Problem", "components": document["components"]}
    jsonschema.Draft202012Validator(problem).validate(refused)
    by_name = {name: (method, path, operation) for name, method, path, operation in operations(document)}
    failed = 0
    for name in by_name:
        wrong = check(binary, document, name, by_name)
        if wrong:
            failed += 1
            print(f"{name}: {wrong}")
    print(f"worktop, its API: valid OpenAPI {document['openapi']}, {len(by_name)} operations tried, {failed} failed")
    return 1 if failed or len(by_name) < 15 else 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", required=True)
    sys.exit(main(parser.parse_args().binary))
