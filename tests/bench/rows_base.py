"""What every part of scripts/bench needs: the built programs, times, and rows."""
import functools, json, pathlib, shutil, statistics, subprocess, sys, tempfile, time

BUILD = pathlib.Path(sys.argv[1]).resolve()
QUICK = "--quick" in sys.argv
SECONDS = 0.1 if QUICK else 1.0
ROOT = pathlib.Path(__file__).resolve().parents[2]
NOTHING = float("nan")
_FOLDERS = []


def folder():
    """A folder on the disk of the project, for this run."""
    _FOLDERS.append(pathlib.Path(tempfile.mkdtemp(dir=ROOT / "build", prefix="bench-")))
    return _FOLDERS[-1]


def sweep():
    for each in _FOLDERS:
        shutil.rmtree(each, ignore_errors=True)


def figures(*words, given="", loud=False):
    """The JSON lines of the bench program: what -> median and p99 in ns."""
    done = subprocess.run([BUILD / "bench", *map(str, words)], input=given, capture_output=True, text=True, cwd=ROOT)
    if done.returncode != 0:
        sys.exit(f"bench {words}: {done.stderr}")
    if loud and done.stderr:
        print(done.stderr.strip(), file=sys.stderr)
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


def against(what, owed, ours_ns, other_ns, target):
    """A row against a yardstick of the same run, or against a time that is owed."""
    return (what, owed, in_words(ours_ns), in_words(other_ns), ours_ns / other_ns, target)


def told(what, ours_ns):
    """A row that nothing is owed for."""
    return (what, "–", in_words(ours_ns), "–", NOTHING, None)


def ending(figures_seen, start):
    """The figure whose name starts so, and the rest of its name."""
    (name, line), = [(name, line) for name, line in figures_seen.items() if name.startswith(start)]
    return line, name.removeprefix(start)


@functools.cache
def season():
    """A season of 26 weeks, made once in a run, and how long that took."""
    data = folder() / "season"
    before = time.perf_counter()
    subprocess.run([BUILD / "witnessmark", "demo", "--into", data, "--weeks", "26", "--seed", "7"], check=True, capture_output=True)
    return data, time.perf_counter() - before


@functools.cache
def many():
    """Ten thousand jobs made from the season, measured once in a run: their folder and the figures."""
    data = folder() / "many"
    seen = figures("many", SECONDS, season()[0], data, 10000, 10 if QUICK else 100, loud=True)
    return data, seen


@functools.cache
def one_job():
    """The demo job, handed over."""
    data = folder() / "one"
    subprocess.run([BUILD / "witnessmark", "demo", "--into", data], check=True, capture_output=True)
    return data
