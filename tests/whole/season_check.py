"""A season of six crews with planted patterns: the week audit shows what was planted and accuses nobody else."""
import json, pathlib, tempfile

from program import PROGRAM, must, run

# What the demo plants (invented, no source): subject and check. The seed is chosen because its season shows all
# four; one season is too small for that at every seed.
PLANTED = (("Jorvane Pellish", "ins-ends"), ("relief valve RV-K17", "relief-lever"), ("Marrit Osseldane", "outlet-temp"),
           ("fluid PGC-0777", "loop-freeze-point"))
# Crew 5 works on slate, where a cracked back is common for everybody; one home of crew 1 was a bad delivery.
DECOYS = ("covering-back", "hook-gap", "coll-cross-rise", "tank-level")

with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder) / "season"
    made = run(PROGRAM, "demo", "--into", folder, "--weeks", 26, "--seed", 12, "--json")
    must(made.returncode == 0, made.stderr)
    week = run(PROGRAM, "week", "2026-W53", "--data", folder, "--json")
    must(week.returncode == 0, week.stderr)
    findings = json.loads(week.stdout)["findings"]
    said = "\n".join(finding["sentence"] for finding in findings)
    for subject, check in PLANTED:
        hits = [f for f in findings if f["check"] == check and f["subject"] == subject]
        must(hits, f"nothing was found of {check} by {subject}:\n{said}")
        for hit in hits:
            must(0 < hit["failed"] <= hit["tries"] and len(hit["jobs"]) == hit["failed"], f"{hit} does not add up")
            must(hit["q"] <= 0.05, f"{subject}, {check}: q = {hit['q']}")
    for finding in findings:
        must(finding["check"] not in DECOYS, "a decoy was blamed: " + finding["sentence"])

    # The letter of the week opens and says the same.
    letter = pathlib.Path(folder) / "week.pdf"
    done = run(PROGRAM, "week", "2026-W53", "--data", folder, "--pdf", letter)
    must(done.returncode == 0, done.stderr)
    text = " ".join(run("pdftotext", "-layout", letter, "-").stdout.split())
    first = findings[0]
    must(first["sentence"] in text, f"the letter does not name the first finding, {first['sentence']}:\n" + text[:1500])
print("the planted season: four patterns found, no decoy blamed")
