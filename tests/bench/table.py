"""Runs the bench program and the yardsticks, and prints the tables that DEVELOPERS.md keeps.

    table.py BUILD [--quick]
"""
import datetime, json, math, pathlib, platform, random, shutil, statistics, subprocess, sys, tempfile, time, tomllib

import numpy

BUILD = pathlib.Path(sys.argv[1]).resolve()
SECONDS = 0.1 if "--quick" in sys.argv else 1.0
ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests/whole"))
import engines_plant  # noqa: E402, F401  (each import registers its engines)
import engines_statistics  # noqa: E402, F401
import engines_sun_and_heat  # noqa: E402, F401
from engines_register import ENGINES  # noqa: E402


def figures(*words, given=""):
    """The JSON lines of the bench program: what -> median and p99 in ns."""
    done = subprocess.run([BUILD / "bench", *map(str, words)], input=given, capture_output=True, text=True, cwd=ROOT)
    if done.returncode != 0:
        sys.exit(f"bench {words}: {done.stderr}")
    return {line["what"]: line for line in map(json.loads, done.stdout.splitlines())}


def median_ns(work, seconds=SECONDS):
    times, end = [], time.perf_counter() + seconds
    while not times or (time.perf_counter() < end and len(times) < 100000):
        before = time.perf_counter_ns()
        work()
        times.append(time.perf_counter_ns() - before)
    return statistics.median(times)


def in_words(ns):
    for unit, size in (("s", 1e9), ("ms", 1e6), ("µs", 1e3)):
        if ns >= size:
            return f"{ns / size:.3g} {unit}"
    return f"{ns:.3g} ns"


def verdict(ratio, target):
    return "–" if target is None else ("met" if ratio <= target else "**missed**")


# --- journal -------------------------------------------------------------------------------------
def journal_table():
    with tempfile.TemporaryDirectory(dir=ROOT / "build") as folder:
        seen = figures("journal", SECONDS * 10, folder)
    rows = []
    append, bare = seen["append"], seen["bare fdatasync"]
    for share in ("median_ns", "p99_ns"):
        rows.append((f"durable append, {share[:-3]}", "1.5 × bare `fdatasync` of the same bytes", in_words(append[share]),
                     in_words(bare[share]), append[share] / bare[share], 1.5))
    fold = seen["fold of a job of 130 entries"]
    rows.append(("fold of a job of 130 entries", "1 ms", in_words(fold["median_ns"]), "1 ms", fold["median_ns"] / 1e6, 1.0))
    for what in ("check of the chain, each entry", "check of the whole journal, each entry"):
        each = seen[what]["median_ns"]
        rows.append((what, "2 µs (1,000,000 in 2 s)", in_words(each), "2 µs", each / 2000, 1.0))
    return rows


# --- week ----------------------------------------------------------------------------------------
GROUP_BY = "select chk, crew, count(*), sum(failed) from r group by chk, crew"


def postgres_ns(rows):
    """The same rows in a PostgreSQL of its own, in memory by now, median of its own timing; None where it is not installed."""
    server = next(iter(sorted(pathlib.Path("/usr/lib/postgresql").glob("*/bin"))), None)
    if server is None:
        return None
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        shutil.copy(rows, folder / "rows")
        subprocess.run(["chmod", "-R", "a+rX", folder], check=True)
        home = folder / "pg"
        home.mkdir()
        shutil.chown(home, "postgres")

        def run(words, given=""):
            return subprocess.run(["su", "postgres", "-c", words], input=given, capture_output=True, text=True, cwd="/").stdout

        run(f"{server}/initdb -N -D {home}/data")
        run(f"{server}/pg_ctl -w -D {home}/data -o '-k {home} -c listen_addresses=' -l {home}/log start")
        try:
            told = run(f"psql -h {home} postgres",
                       "create unlogged table r(week int, chk int, crew int, failed int);\n"
                       f"copy r from '{folder}/rows';\nvacuum analyze r;\n\\timing on\n" + f"{GROUP_BY};\n" * 7)
        finally:
            run(f"{server}/pg_ctl -D {home}/data -m immediate stop")
        times = [float(line.split()[1]) * 1e6 for line in told.splitlines() if line.startswith("Time:")]
        return statistics.median(times[-7:]) if len(times) >= 7 else None


def numpy_ns(rows):
    """Columns in memory and nothing else: two sums over one array of group numbers, by numpy's C loops."""
    columns = numpy.loadtxt(rows, dtype=numpy.int64, delimiter="\t")
    check, crew, failed = columns[:, 1].copy(), columns[:, 2].copy(), columns[:, 3].astype(float)
    crews = crew.max() + 1

    def group_by():
        group = check * crews + crew
        return numpy.bincount(group), numpy.bincount(group, weights=failed)

    return median_ns(group_by)


def checklist_table():
    seen = figures("checklists", SECONDS)
    hostile = {what: line["median_ns"] for what, line in seen.items() if what.startswith("checklist of 1 MB")}
    slowest = max(hostile, key=hostile.get)
    return [(f"{slowest}, slowest of {len(hostile)} hostile ones", "100 ms", in_words(hostile[slowest]), "100 ms", hostile[slowest] / 1e8, 1.0)]


def week_table():
    with tempfile.TemporaryDirectory(dir=ROOT / "build") as folder:
        data, drawn = pathlib.Path(folder) / "season", pathlib.Path(folder) / "rows"
        before = time.perf_counter()
        subprocess.run([BUILD / "witnessmark", "demo", "--into", data, "--weeks", "26", "--seed", "7"], check=True,
                       capture_output=True)
        season = time.perf_counter() - before
        seen = figures("week", SECONDS * 5, data, drawn)
        again = figures("replay", SECONDS * 5, data)
        others = [("numpy `bincount` of the same columns", numpy_ns(drawn)), ("PostgreSQL's `GROUP BY`", postgres_ns(drawn))]
    rows = [("season of 26 weeks", "60 s", f"{season:.3g} s", "60 s", season / 60, 1.0)]

    def sizes(start):
        return [(int(what.removeprefix(start).split()[0]), line["median_ns"]) for what, line in seen.items() if what.startswith(start)]

    for start, owed, target in (("plain count, ", "1/15 of SQLite's plain `GROUP BY`", 1 / 15), ("week, ", "1/15 of SQLite's plain `GROUP BY`", 1 / 15)):
        for count, ours in sizes(start):
            sql = seen.get(f"SQLite group by, {count} results")
            if sql:
                rows.append((f"{start}{count:,} results", owed, in_words(ours), in_words(sql["median_ns"]), ours / sql["median_ns"], target))
            else:
                rows.append((f"{start}{count:,} results", "–", in_words(ours), "–", float("nan"), None))
    (million, plain), = [one for one in sizes("plain count, ") if 900_000 < one[0] < 2_000_000]
    for name, other in others:
        if other:
            rows.append((f"plain count, {million:,} results", name, in_words(plain), in_words(other), plain / other, 1.0))
    covering = seen[f"SQLite group by, covering index, {million} results"]["median_ns"]
    rows.append((f"plain count, {million:,} results", "SQLite with a covering index", in_words(plain), in_words(covering), plain / covering, 1.0))
    for start in ("plain count, ", "week, "):
        points = sizes(start)
        growth = numpy.polyfit([math.log(n) for n, _ in points], [math.log(t) for _, t in points], 1)[0]
        rows.append((f"growth of {start.strip(', ')}, 10,000 to 10,000,000", "exponent 1 or less", f"{growth:.2f}", "1", growth, 1.05))
    trace = seen[f"trace of an instrument, {million} results"]["median_ns"]
    rows.append((f"trace of an instrument, {million:,} results", "1 s", in_words(trace), "1 s", trace / 1e9, 1.0))
    for what in ("week columns, first look", "week columns, next start", "week columns, again"):
        rows.append((f"{what} (292 jobs)", "–", in_words(seen[what]["median_ns"]), "–", float("nan"), None))
    for what in ("job list, first look", "job list, next start", "job list, again"):
        rows.append((f"{what} (292 jobs)", "50 ms for 10,000 jobs", in_words(seen[what]["median_ns"]), "50 ms × 292/10,000",
                     seen[what]["median_ns"] / (50e6 * 292 / 10000), 1.0))
    return rows + replay_rows(again)


def replay_rows(again):
    rows, sql = [], 0.0
    for what, line in again.items():
        if what.startswith("SQLite comparing"):
            sql = line["median_ns"]
    for what, line in again.items():
        ours = line["median_ns"]
        if what.startswith("replay"):
            rows.append((what, "1 s", in_words(ours), "1 s", ours / 1e9, 1.0))
        if what.startswith("replay, "):
            rows.append((what, "SQLite comparing numbers that lie ready", in_words(ours), in_words(sql), ours / sql, None))
        if what.startswith("past readings"):
            rows.append((what, "–", in_words(ours), "–", float("nan"), None))
    mu = again["the same in muparser"]["median_ns"]
    ours = again["a tolerance expression"]["median_ns"]
    return rows + [("one tolerance expression, with units", "muparser, plain numbers", in_words(ours), in_words(mu), ours / mu, None)]


# --- report --------------------------------------------------------------------------------------
def report_table():
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([BUILD / "witnessmark", "demo", "--into", folder], check=True, capture_output=True)
        report = pathlib.Path(folder) / "report.pdf"

        def run(*words):
            return lambda: subprocess.run(list(map(str, words)), capture_output=True, check=False)

        ours = median_ns(run(BUILD / "witnessmark", "attest", report, "--data", folder))
        other = median_ns(run("pdfsig", report))
    return [("verify a sealed report, whole process", "pdfsig's time", in_words(ours), in_words(other), ours / other, 1.0)]


# --- computations --------------------------------------------------------------------------------
def other_engine(name):
    """A question of the same computation, worked by the engine that the suite compares with, from random inputs."""
    if name not in ENGINES:
        return None, ""
    work, library = ENGINES[name]
    random.seed(name)
    return median_ns(lambda: work(random.uniform), SECONDS / 5), library


def computation_table():
    first = {}
    for file in sorted((ROOT / "tests/published").glob("*.toml")):
        for row in tomllib.loads(file.read_text(encoding="utf-8")).get("row", []):
            if "expect" in row:
                first.setdefault(row["name"], row["given"])
    lines = ["\t".join([name, *(f"{key}={value}" for key, value in given.items())]) for name, given in first.items()]
    seen = figures("computations", SECONDS / 5, given="\n".join(lines) + "\n")
    table = []
    for what, line in seen.items():
        each = line["median_ns"]
        other, library = other_engine(what)
        table.append((f"`{what}`", f"{1e9 / each:,.0f}", in_words(each), in_words(other) if other else "–",
                      f"{other / each:,.0f}" if other else "–", library or "–"))
    return table


print(f"{datetime.date.today().isoformat()}, `scripts/bench{' --quick' if '--quick' in sys.argv else ''}`, "
      f"{platform.machine()}, 2 cores\n")
print("| figure | owed | ours | yardstick | ratio | |")
print("|---|---|---|---|---|---|")
missed = 0
for what, owed, ours, other, ratio, target in journal_table() + checklist_table() + week_table() + report_table():
    print(f"| {what} | {owed} | {ours} | {other} | {'–' if target is None else f'{ratio:.2g}'} | {verdict(ratio, target)} |", flush=True)
    missed += target is not None and ratio > target
print(f"\n{missed} missed\n")
print("| computation | a second | ours | the other | times | by |")
print("|---|---|---|---|---|---|")
for row in computation_table():
    print("| " + " | ".join(row) + " |")
