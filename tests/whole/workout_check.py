#!/usr/bin/python3
"""What `work-out` says of each computation, and what it refuses, over all of them.

The list gives name, title, symbols and source; `--help` explains purpose, equation, symbols with units, range and
source. Each input in turn is left out, no number, of a wrong dimension, absurdly large and absurdly small: that is
refused with what and where, except that an optional input may be left out; then the figures are finite. The tests
of plant, measure and audit spoil far more inside one process; here it is done from outside.
"""
import concurrent.futures, json, re, sys

from program import PROGRAM, must, run
from published_check import rows

# Infinity is an answer: nothing tells the crews apart; all contributions are known well.
UNBOUNDED = {("shrunken-share", "M"), ("uncertainty", "nu_eff")}
NO_NUMBER = re.compile(r"\b(nan|inf|null)\b", re.IGNORECASE)


def asked(name, given):
    return run(PROGRAM, "work-out", name, *(f"{k}={v}" for k, v in given.items()), "--json")


def refusal(done, words):
    """The problem of a refusal: exit 2 for wrong use, 3 for what cannot be understood."""
    must(done.returncode in (2, 3), f"{words}: exit {done.returncode}, {done.stdout}{done.stderr}")
    problem = json.loads(done.stdout or done.stderr)
    problem = problem.get("problem", problem)
    must(problem.get("what") and problem.get("where"), f"{words}: a refusal without what or where: {problem}")
    return problem


def finite(name, done, words):
    for symbol, output in json.loads(done.stdout)["outputs"].items():
        text = json.dumps(output["value"])
        if output["value"] is not None and (name, symbol) not in UNBOUNDED:
            must(not NO_NUMBER.search(text), f"{words}: {symbol} is {text}")


def wrong_dimension(symbol, value):
    """The value with a unit it cannot have; None where every unit will do."""
    if symbol["unit"] == "any":
        return None
    if symbol["unit"].startswith(("like", "step of")) and "kg" in value:
        return "3 s"
    return "3 s" if symbol["unit"].startswith("kg") and "/" not in symbol["unit"] else "3 kg"


def sized(value, number):
    """The same text with that number in place of each of its own."""
    return re.sub(r"(?<![\w²³])[-+]?\d[\d.]*(?:e[-+]?\d+)?", number, value)


def cases(computation, given, key):
    """What to ask, and whether it must be refused."""
    symbol = next(s for s in computation["inputs"] if s["symbol"] == key)
    without = {k: v for k, v in given.items() if k != key}
    yield "left out", without, not symbol["optional"]
    yield "no number", given | {key: "NaN"}, True
    text = wrong_dimension(symbol, given[key])
    # A word of the table (a terrain, a curve) has no dimension; a word that is none is refused above.
    if text and re.match(r"[-+\[\d]", given[key]):
        yield "of a wrong dimension", given | {key: text}, True
    for label, number in (("absurdly large", "1e300"), ("absurdly small", "-1e300")):
        text = sized(given[key], number)
        if text != given[key]:
            yield label, given | {key: text}, True


def one(task):
    name, label, given, refused = task
    done = asked(name, given)
    words = f"{name} with {label}: {given}"
    if done.returncode or refused:
        return refusal(done, words) and 1
    finite(name, done, words)
    return 0


def main():
    listed = json.loads(run(PROGRAM, "work-out", "--list", "--json").stdout)["computations"]
    must(len(listed) == 68 and len({c["name"] for c in listed}) == 68, f"{len(listed)} computations are listed")
    plain = run(PROGRAM, "work-out", "--list").stdout
    must(plain.count("source: ") == 68, "the list does not give the source of each")
    tasks, seen = [], set()
    for computation in listed:
        name = computation["name"]
        must(computation["title"] and len(computation["source"]) > 5, f"{name} has no title or source")
        told = run(PROGRAM, "work-out", name, "--help").stdout
        for part in ("On site: ", "Equation: ", "Source: ", "Range: ", "\nIn:\n", "\nOut:\n"):
            must(re.search(re.escape(part) + r"\s*\S", told), f"{name} --help lacks {part.strip()}")
        for symbol in computation["inputs"] + computation["outputs"]:
            line = rf"(?m)^  {re.escape(symbol['symbol'])}\s+{re.escape(symbol['unit'] or '–')}\s+\S"
            must(re.search(line, told), f"{name} --help does not explain {symbol['symbol']}")
            must(symbol["meaning"], f"{name}: {symbol['symbol']} means nothing")
        for _, row in rows():
            if row["name"] != name:
                continue
            for key in row["given"]:
                if (name, key) not in seen:
                    seen.add((name, key))
                    tasks += [(name, f"{key} {label}", given, refused)
                              for label, given, refused in cases(computation, row["given"], key)]
            if name not in seen:
                seen.add(name)
                tasks.append((name, "an unknown symbol", row["given"] | {"no_such": "1"}, True))
    missed = [f"{c['name']} {s['symbol']}" for c in listed for s in c["inputs"] if (c["name"], s["symbol"]) not in seen]
    must(not missed, f"no published row uses {missed}")
    # n = 0 is a named error wherever something is counted.
    for name, given in {"wilson": {"x": "0", "n": "0"}, "p-chart": {"d": "[0]", "n": "[0]"},
                        "funnel-limits": {"p0": "0.1", "n": "0"}}.items():
        tasks.append((name, "n = 0", given, True))
    refused, faults = 0, []
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for future in [pool.submit(one, task) for task in tasks]:
            try:
                refused += future.result()
            except AssertionError as fault:
                faults.append(str(fault))
    for fault in faults:
        print(fault)
    print(f"work-out: 68 explained, {len(seen) - 68} inputs spoilt in {len(tasks)} ways, {refused} refused in words, "
          f"{len(tasks) - refused - len(faults)} answered with numbers")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
