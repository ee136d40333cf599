"""How long the last run of scripts/test took, by part."""
from rows_base import NOTHING, ROOT


def suite():
    kept = ROOT / "build/test-times.tsv"
    if not kept.exists():
        return [("`scripts/test`", "15 min", "not run in this folder yet", "–", NOTHING, None)]
    def times(file):
        return [(name, int(seconds)) for name, seconds in (line.split("\t") for line in file.read_text().splitlines())]

    parts = times(kept)
    total = sum(seconds for _, seconds in parts)
    rows = [("`scripts/test`, all of it, builds too", "15 min", f"{total} s", "900 s", total / 900, 1.0)]
    # The scripts run two at a time within one of the parts.
    longest = sorted(parts + times(ROOT / "build/script-times.tsv"), key=lambda part: -part[1])[:12]
    return rows + [(f"`scripts/test`: {name}", "–", f"{seconds} s", f"{total} s", seconds / total, None) for name, seconds in longest]
