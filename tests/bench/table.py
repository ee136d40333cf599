"""Runs the parts of scripts/bench and prints the tables that DEVELOPERS.md keeps.

    table.py BUILD [--quick] [PART…]      --list names the parts

A ratio that is more than a fifth above the one that DEVELOPERS.md keeps is told loudly, and the exit code is 1.
"""
import datetime, pathlib, platform, re, sys

import rows_computations, rows_journal, rows_report, rows_suite, rows_week, rows_window
from rows_base import QUICK, ROOT, sweep

PARTS = {"journal": rows_journal.journal, "jobs": rows_journal.jobs, "slow": rows_journal.slow, "merge": rows_journal.merge,
         "checklists": rows_week.checklists, "week": rows_week.week, "replay": rows_week.replay, "report": rows_report.report,
         "verify": rows_report.verify, "window": rows_window.window, "hand": rows_window.hand, "suite": rows_suite.suite}
WANTED = [word for word in sys.argv[2:] if not word.startswith("--")]
WORSE = 1.2
ROW = re.compile(r"\| (?P<figure>[^|]+) \| (?P<owed>[^|]+) \| [^|]+ \| [^|]+ \| (?P<ratio>[^|]+) \| [^|]* \|")


def recorded():
    """Figure and what it is owed or held against -> the ratio that is kept."""
    kept = {}
    for line in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines():
        row = ROW.fullmatch(line.strip())
        if row is None:
            continue
        try:
            kept[row["figure"], row["owed"]] = float(row["ratio"])
        except ValueError:
            continue
    return kept


def verdict(ratio, target):
    return "–" if target is None else ("met" if ratio <= target else "**missed**")


def main():
    if "--list" in sys.argv:
        print("\n".join([*PARTS, "computations"]))
        return 0
    unknown = [word for word in WANTED if word not in PARTS and word != "computations"]
    if unknown:
        sys.exit(f"There is no part {unknown[0]}; there are {', '.join(PARTS)} and computations.")
    command = " ".join(["scripts/bench", *(["--quick"] if QUICK else []), *WANTED])
    print(f"{datetime.date.today().isoformat()}, `{command}`, {platform.machine()}, 2 cores\n")
    kept, worse, missed = recorded(), [], 0
    if WANTED != ["computations"]:
        print("| figure | owed | ours | yardstick | ratio | |")
        print("|---|---|---|---|---|---|")
    for name, part in PARTS.items():
        if WANTED and name not in WANTED:
            continue
        for what, owed, ours, other, ratio, target in part():
            shown = "–" if ratio != ratio else f"{ratio:.2g}"
            print(f"| {what} | {owed} | {ours} | {other} | {shown} | {verdict(ratio, target)} |", flush=True)
            missed += target is not None and ratio > target
            before = kept.get((what, owed))
            if before is not None and ratio > WORSE * before:
                worse.append(f"{what} ({owed}): {ratio:.3g}, was {before:.3g}")
    print(f"\n{missed} missed\n")
    if not WANTED and not QUICK or "computations" in WANTED:
        print("| computation | a second | ours | the other | times | by |")
        print("|---|---|---|---|---|---|")
        for row in rows_computations.computations():
            print("| " + " | ".join(row) + " |")
    for line in worse:
        print(f"!!! WORSE BY MORE THAN A FIFTH: {line}", file=sys.stderr)
    return 1 if worse else 0


try:
    code = main()
finally:
    sweep()
sys.exit(code)
