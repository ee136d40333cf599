"""How fast each computation is beside the engine that the suite compares it with."""
import random, sys, tomllib

from rows_base import ROOT, SECONDS, figures, in_words, median_ns

sys.path.insert(0, str(ROOT / "tests/whole"))
import engines_plant  # noqa: E402, F401  (each import registers its engines)
import engines_statistics  # noqa: E402, F401
import engines_sun_and_heat  # noqa: E402, F401
from engines_register import ENGINES  # noqa: E402


def other_engine(name):
    """A question of the same computation, worked by the engine that the suite compares with, from random inputs."""
    if name not in ENGINES:
        return None, ""
    work, library = ENGINES[name]
    random.seed(name)
    return median_ns(lambda: work(random.uniform), SECONDS / 5), library


def computations():
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
