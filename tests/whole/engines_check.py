#!/usr/bin/python3
"""Random inputs through `work-out`, compared with other people's engines.

    engines_check.py [PROGRAM] [--each 8] [--seed 1] [--only NAME] [--table]

Each comparison states its tolerance and why, in engines_*.py. Exit code 1 names every disagreement. `--table`
prints the table of DEVELOPERS.md.
"""
import argparse
import concurrent.futures
import json
import math
import random
import sys

import engines_plant  # noqa: F401  (each import registers its engines)
import engines_statistics  # noqa: F401
import engines_sun_and_heat  # noqa: F401
from engines_register import ENGINES, within
from program import PROGRAM, run

# Nothing to compare with: the answer is the row of a standard's table and a comparison with it.
TABLES_ONLY = {"insulation-resistance", "rcd-trip"}


def answer(program, name, texts):
    done = run(program, "work-out", name, *(f"{k}={v}" for k, v in texts.items()), "--json")
    if done.returncode != 0:
        return None, done.stderr.strip() or done.stdout.strip()
    return json.loads(done.stdout)["outputs"], ""


def compared(value, expected):
    """Relative distance of the two, and whether it is within the tolerance."""
    if isinstance(expected, within):
        wanted, by, absolute = expected.value, expected.by, True
    else:
        (wanted, by), absolute = expected, False
    if isinstance(wanted, (bool, str)) or wanted is None or isinstance(wanted, list) and isinstance(wanted[0], bool):
        return 0.0, value == wanted
    values, wanteds = (v if isinstance(v, list) else [v] for v in (value, wanted))
    if len(values) != len(wanteds) or not all(isinstance(v, (int, float)) for v in values):
        return math.inf, False
    gaps = [abs(v - w) for v, w in zip(values, wanteds)]
    scale = max((abs(w) for w in wanteds), default=0.0)
    fine = all(gap <= (by if absolute else by * max(abs(w), 1e-12)) + 1e-15 for gap, w in zip(gaps, wanteds))
    # Relative to the largest figure of the answer, and to 1 for what lies around zero.
    return max(gaps, default=0.0) / (max(scale, 1.0) if absolute else max(scale, 1e-300)), fine


def cases_of(name, each, seed):
    """The same cases for the same seed, whatever else is asked for."""
    random.seed(f"{seed} {name}")
    return [ENGINES[name][0](random.uniform) for _ in range(each)]


def verdict(name, cases, answers):
    library = ENGINES[name][1]
    worst, place, wrong = 0.0, "", []
    for (texts, expected), (outputs, words) in zip(cases, answers):
        if outputs is None:
            wrong.append(f"{name}: refused {texts}: {words}")
            continue
        for symbol, figure in expected.items():
            value = outputs[symbol]["value"] if symbol in outputs else "missing"
            distance, fine = compared(value, figure)
            if distance > worst:
                worst, place = distance, symbol
            if not fine:
                other = figure.value if isinstance(figure, within) else figure[0]
                wrong.append(f"{name}: {symbol} is {value}, {library} says {other}: {texts}")
    return {"name": name, "library": library, "worst": worst, "place": place, "wrong": wrong}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("program", nargs="?", default=PROGRAM)
    parser.add_argument("--each", type=int, default=8)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only")
    parser.add_argument("--table", action="store_true")
    wanted = parser.parse_args()
    names = [wanted.only] if wanted.only else list(ENGINES)
    results = []
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for name in names:
            cases = cases_of(name, wanted.each, wanted.seed)
            answers = pool.map(lambda case: answer(wanted.program, name, case[0]), cases)
            results.append(verdict(name, cases, list(answers)))
    if wanted.table:
        print("| computation | engine | worst disagreement | in |\n|---|---|---|---|")
        for r in results:
            place = f"`{r['place']}`" if r["place"] else "–"
            print(f"| `{r['name']}` | {r['library']} | {r['worst']:.1e} | {place} |")
    for r in results:
        for words in r["wrong"]:
            print(words)
        if not wanted.table:
            print(f"{r['name']:24} {wanted.each} cases, worst {r['worst']:.1e} in {r['place'] or 'nothing'} ({r['library']})")
    listed = [c["name"] for c in json.loads(run(wanted.program, "work-out", "--list", "--json").stdout)["computations"]]
    bare = [n for n in listed if n not in ENGINES and n not in TABLES_ONLY]
    if bare and not wanted.only:
        print("without an engine: " + ", ".join(bare))
    if not wanted.table:
        print(f"{len(ENGINES)} of {len(listed)} computations compared; {', '.join(sorted(TABLES_ONLY))} are tables")
    return 1 if any(r["wrong"] for r in results) or (bare and not wanted.only) else 0


if __name__ == "__main__":
    sys.exit(main())
