"""The journal: append, fold, check, many jobs, bundles; and keys while its disk is slow."""
from rows_base import QUICK, SECONDS, against, ending, figures, folder, in_words, many, season, told


def journal():
    seen = figures("journal", SECONDS * 10, folder())
    rows = []
    for ours, bare, what, owed in (("append", "bare fdatasync", "durable append", "1.5 × bare `fdatasync` of the same bytes"),
                                   ("append with a picture", "bare picture and line", "durable append with a picture of 130 kB",
                                    "1.5 × the same bytes written, synced, renamed")):
        for share in ("median_ns", "p99_ns"):
            rows.append(against(f"{what}, {share[:-3]}", owed, seen[ours][share], seen[bare][share], 1.5))
    fold = seen["fold of a job of 130 entries"]
    rows.append(against("fold of a job of 130 entries", "1 ms", fold["median_ns"], 1e6, 1.0))
    for what in ("check of the chain, each entry", "check of the whole journal, each entry"):
        rows.append(against(what, "2 µs (1,000,000 in 2 s)", seen[what]["median_ns"], 2000, 1.0))
    return rows


def jobs():
    _, seen = many()
    entries = round(seen["entries"]["median_ns"])
    rows = [told("job list of 10,000 folded from nothing", ending(seen, "job list folded")[0]["median_ns"])]
    start = ending(seen, "start with the kept list")[0]
    rows.append(against(f"start with the kept list of 10,000 jobs, {entries:,} entries", "0.5 s for 1,000,000 entries", start["median_ns"], 5e8, 1.0))
    for what, line, owed, limit in (("list of 10,000 jobs opened", ending(seen, "list opened")[0], "50 ms", 5e7),
                                    ("search key in 10,000 jobs", ending(seen, "search key")[0], "8 ms", 8e6)):
        rows.append(against(f"{what}, p99", owed, line["p99_ns"], limit, 1.0))
    rows.append(told("one job of 10,000 read and folded", ending(seen, "one job of many folded")[0]["median_ns"]))
    rows.append(against(f"full check of {entries:,} entries", "2 µs an entry (1,000,000 in 2 s)", seen["full check"]["median_ns"], entries * 2000.0, 1.0))
    return rows


def slow():
    seen = figures("slow", 4 if QUICK else 20, many()[0], loud=True)
    key, name = ending(seen, "key to next check")
    frames = seen["every frame meanwhile"]
    return [told("key press to next check drawn, 20 ms a sync, median", key["median_ns"]),
            against("key press to next check drawn, 20 ms a sync, p99", "16.7 ms", key["p99_ns"], 16.7e6, 1.0),
            against("every frame meanwhile, p99", "16.7 ms", frames["p99_ns"], 16.7e6, 1.0),
            told("answer to its saved mark and view, 20 ms a sync", seen["answer to its saved mark"]["median_ns"])]


def merge():
    seen = figures("merge", SECONDS, season()[0], folder())
    line, name = ending(seen, "merge, ")
    plain = ending(seen, "plain upsert, ")[0]
    return [against(f"merge of a bundle, {name}", "a plain SQL upsert", line["median_ns"], plain["median_ns"], None),
            against(f"the same bundle again, {name}", "a plain SQL upsert", ending(seen, "merge again, ")[0]["median_ns"], plain["median_ns"], None)]
