#!/usr/bin/python3
"""Every row of tests/published through `work-out`, compared within the tolerance of its source.

    published_check.py [NAME …]

A figure is written `value unit (± tolerance)`, the tolerance in the unit of the figure, in percent of it, or
`(exact)`. The marks of a row:
- published: the figure stands in the named source, read there or in public copies of it;
- derived: computed by an independent library or by arithmetic of the stated equation;
- from memory: recalled from the named source, not confirmed there;
- common practice: lore of the trade without a source.
"""
import collections, concurrent.futures, json, math, pathlib, re, sys, tomllib

from program import PROGRAM, ROOT, run

MARKS = ["published", "derived", "from memory", "common practice"]
# Units that a source and the program may write in different sizes.
SIZES = [{"MPa": 1e6, "Pa": 1.0}, {"kJ/(kg K)": 1e3, "J/(kg K)": 1.0}]
# The same unit in two spellings, and a pressure with its side.
SPELLINGS = {"N m": "N·m", "Pa(abs)": "Pa", "kPa(g)": "kPa", "bar(g)": "bar"}
FIGURE = re.compile(r"(.*?) \((?:± (\S+)( %)?|exact)\)$")


def rows():
    for file in sorted((ROOT / "tests/published").glob("*.toml")):
        for row in tomllib.loads(file.read_text(encoding="utf-8"))["row"]:
            yield file.name, row


def quantity(text):
    """A figure as numbers and a unit, or as the words that it is."""
    bracketed = re.match(r"(\[.*\])\s*(.*)$", text)
    if bracketed:
        return [float(item) for item in bracketed[1].strip("[]").split(",")], bracketed[2]
    number = re.match(r"([-+]?(?:\d[\d.]*(?:[eE][-+]?\d+)?|inf))(?:\s+(.*))?$", text)
    return (float(number[1]), number[2] or "") if number else (text, "")


def factor(printed, answered):
    printed, answered = (SPELLINGS.get(unit, unit) for unit in (printed, answered))
    if printed == answered:
        return 1.0
    return next((sizes[printed] / sizes[answered] for sizes in SIZES if printed in sizes and answered in sizes), None)


def near(value, wanted, tolerance, percent):
    if math.isinf(wanted):
        return value == "inf"
    if not isinstance(value, (int, float)):
        return False
    if tolerance is None:
        return abs(value - wanted) <= 1e-12 * abs(wanted)
    return abs(value - wanted) <= float(tolerance) * (abs(wanted) / 100 if percent else 1)


def mismatch(output, figure):
    """What is wrong with this output, None if it is the figure."""
    parts = FIGURE.match(figure)
    if not parts:
        return f"the row's figure \"{figure}\" cannot be read"
    text, tolerance, percent = parts.groups()
    wanted, unit = quantity(text)
    value = output["value"]
    if isinstance(wanted, str):
        spoken = str(value).lower() if isinstance(value, bool) else value
        return None if spoken == wanted else f"is {spoken}, the source says {wanted}"
    by = factor(unit, output["unit"])
    if by is None:
        return f"comes in {output['unit']}, the source prints {unit}"
    values = value if isinstance(value, list) else [value]
    # One printed limit stands for all weeks of the same size.
    wanteds = wanted if isinstance(wanted, list) else [wanted] * len(values)
    if isinstance(wanted, list) != isinstance(value, list) and isinstance(wanted, list) or len(values) != len(wanteds):
        return f"is {value}, the source says {text}"
    scaled = [v / by if isinstance(v, (int, float)) else v for v in values]
    if all(near(v, w, tolerance, percent) for v, w in zip(scaled, wanteds)):
        return None
    return f"is {value if isinstance(value, list) else scaled[0]}, the source says {figure}"


def faults(row):
    done = run(PROGRAM, "work-out", row["name"], *(f"{k}={v}" for k, v in row["given"].items()), "--json")
    if done.returncode:
        return [f"refused with exit {done.returncode}: {done.stdout.strip()}{done.stderr.strip()}"]
    outputs = json.loads(done.stdout)["outputs"]
    found = []
    for symbol, figure in row["expect"].items():
        wrong = mismatch(outputs[symbol], figure) if symbol in outputs else "is not among the outputs"
        if wrong:
            found.append(f"{symbol} {wrong}")
    return found


def main(names):
    listed = [c["name"] for c in json.loads(run(PROGRAM, "work-out", "--list", "--json").stdout)["computations"]]
    chosen = [(file, row) for file, row in rows() if not names or row["name"] in names]
    failed, passed = 0, collections.Counter()
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for (file, row), wrong in zip(chosen, pool.map(faults, [row for _, row in chosen])):
            if row["mark"] not in MARKS or not row["source"]:
                wrong.append("has no source or an unknown mark")
            for words in wrong:
                print(f"{file}: {row['name']} {row['given']}: {words} ({row['source']})")
            failed += bool(wrong)
            passed[row["mark"]] += not wrong
    bare = [] if names else sorted(set(listed) - {row["name"] for _, row in chosen})
    for name in bare:
        print(f"{name} has no row")
    print(f"published rows: {len(chosen)}, of them passed " + ", ".join(f"{passed[mark]} {mark}" for mark in MARKS)
          + f"; {len(listed) - len(bare)} of {len(listed)} computations covered")
    return 1 if failed or bare or (not names and len(listed) != 68) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
