"""How long the last run of scripts/test took, by part."""
from rows_base import NOTHING, ROOT


def suite():
    kept = ROOT / "build/test-times.tsv"
    if not kept.exists():
        return [("`scripts/test`", "15 min", "not run in this folder yet", "–", NOTHING, None)]
    parts = [(name, int(seconds)) for name, seconds in (line.split("\t") for line in kept.read_text().splitlines())]
    total = sum(seconds for _, seconds in parts)
    rows = [("`scripts/test`, all of it, builds too", "15 min", f"{total} s", "900 s", total / 900, 1.0)]
    longest = sorted(parts, key=lambda part: -part[1])[:12]
    return rows + [(f"`scripts/test`: {name}", "–", f"{seconds} s", f"{total} s", seconds / total, None) for name, seconds in longest]
