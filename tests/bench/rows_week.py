"""The week over up to ten million results, replays and checklists, against SQLite, PostgreSQL, DuckDB, numpy and muparser."""
import json, math, pathlib, shutil, statistics, subprocess, tempfile

import numpy

from rows_base import BUILD, ROOT, SECONDS, figures, folder, in_words, median_ns, season

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


def column_database_ns(rows):
    """A column database with the rows in its own memory, on as many threads as serve it best; None where it is not installed."""
    yardsticks = ROOT / "build/yardsticks"
    if not (yardsticks / "node_modules/@duckdb/node-api").is_dir():
        return None
    # Node looks for packages beside the file that wants them.
    script = shutil.copy(ROOT / "tests/bench/column_database.mjs", yardsticks)
    done = subprocess.run(["node", script, rows, str(SECONDS)], capture_output=True, text=True)
    return min(json.loads(done.stdout).values()) if done.returncode == 0 else None


def week():
    data, made_in = season()
    drawn = folder() / "rows"
    seen = figures("week", SECONDS * 5, data, drawn)
    others = [("numpy `bincount` of the same columns", numpy_ns(drawn)), ("PostgreSQL's `GROUP BY`", postgres_ns(drawn)),
              ("DuckDB's `GROUP BY`", column_database_ns(drawn))]
    rows = [("season of 26 weeks", "60 s", f"{made_in:.3g} s", "60 s", made_in / 60, 1.0)]

    def sizes(start):
        return [(int(what.removeprefix(start).split()[0]), line["median_ns"]) for what, line in seen.items() if what.startswith(start)]

    for start, owed, target in (("plain count, ", "1/15 of SQLite's plain `GROUP BY`", 1 / 15), ("week, ", "1/15 of SQLite's plain `GROUP BY`", 1 / 15)):
        for count, ours in sizes(start):
            sql = seen.get(f"SQLite group by, {count} results")
            # What is owed is owed of a million; below it a week of fixed parts, charts and intervals, is held against a bare count.
            is_owed = start == "plain count, " or count > 900_000
            if sql:
                rows.append((f"{start}{count:,} results", owed if is_owed else "SQLite's plain `GROUP BY`", in_words(ours), in_words(sql["median_ns"]),
                             ours / sql["median_ns"], target if is_owed else None))
            else:
                rows.append((f"{start}{count:,} results", "–", in_words(ours), "–", float("nan"), None))
    (million, plain), = [one for one in sizes("plain count, ") if 900_000 < one[0] < 2_000_000]
    for name, other in others:
        if other:
            rows.append((f"plain count, {million:,} results", name, in_words(plain), in_words(other), plain / other, 1.0))
        if other and name.startswith("DuckDB"):
            (all_of, all_counts), = [one for one in sizes("all counts, ") if 900_000 < one[0] < 2_000_000]
            rows.append((f"all counts of a week, {all_of:,} results", name, in_words(all_counts), in_words(other), all_counts / other, 1.0))
    covering = seen[f"SQLite group by, covering index, {million} results"]["median_ns"]
    rows.append((f"plain count, {million:,} results", "SQLite with a covering index", in_words(plain), in_words(covering), plain / covering, 1.0))
    for start in ("plain count, ", "week, "):
        points = sizes(start)
        growth = numpy.polyfit([math.log(n) for n, _ in points], [math.log(t) for _, t in points], 1)[0]
        rows.append((f"growth of {start.strip(', ')}, 10,000 to 10,000,000", "exponent 1 or less", f"{growth:.2f}", "1", growth, 1.05))
    trace = seen[f"trace of an instrument, {million} results"]["median_ns"]
    rows.append((f"trace of an instrument, {million:,} results", "1 s", in_words(trace), "1 s", trace / 1e9, 1.0))
    told = subprocess.run([BUILD / "witnessmark", "job", "list", "--data", data, "--json"], capture_output=True, text=True, check=True)
    jobs = len(json.loads(told.stdout)["jobs"])
    for what in ("week columns, first look", "week columns, next start", "week columns, again"):
        rows.append((what, "–", in_words(seen[what]["median_ns"]), "–", float("nan"), None))
    for what in ("job list, first look", "job list, next start", "job list, again"):
        rows.append((what, "50 ms for 10,000 jobs", in_words(seen[what]["median_ns"]), f"50 ms × {jobs}/10,000",
                     seen[what]["median_ns"] / (50e6 * jobs / 10000), 1.0))
    return rows


def replay():
    again = figures("replay", SECONDS * 5, season()[0])
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


def checklists():
    seen = figures("checklists", SECONDS)
    hostile = {what: line["median_ns"] for what, line in seen.items() if what.startswith("checklist of 1 MB")}
    slowest = max(hostile, key=hostile.get)
    return [(f"{slowest}, slowest of {len(hostile)} hostile ones", "100 ms", in_words(hostile[slowest]), "100 ms", hostile[slowest] / 1e8, 1.0)]
