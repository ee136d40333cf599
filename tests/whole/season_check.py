"""A season of six crews with planted patterns: the week audit shows what was planted and accuses nobody else."""
import json, pathlib, tempfile

from program import PROGRAM, must, run

# What the demo plants (invented, no source): subject and check. Any one of these shows in 90 % of seasons or more
# (scripts/soak season), all five together in about two of three; the seed is one of those.
PLANTED = (("Jorvane Pellish", "ins-ends"), ("relief valve RV-K17", "relief-lever"), ("Marrit Osseldane", "outlet-temp"),
           ("fluid PGC-0777", "loop-freeze-point"), ("PG-4", "pressure-limit-set"))
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
            must(hit["q"] <= 0.02, f"{subject}, {check}: q = {hit['q']}")
            must(hit["what_to_do"], f"{subject}, {check}: no next step")
    for finding in findings:
        must(finding["check"] not in DECOYS, "a decoy was blamed: " + finding["sentence"])

    must(len(findings) == len(PLANTED), "something is said that nobody planted:\n" + said)
    # Homes of the hollow taken for free of frost are a question from the first weeks on; equal readings and their
    # pace in the weeks in which one crew wrote them so. A question names no culprit by chance.
    asked = {(q["kind"], q["subject"]) for q in json.loads(week.stdout)["questions"]}
    must(asked == {("neighbours differ", "Millpond Hollow")}, f"asked: {asked}")
    early = json.loads(run(PROGRAM, "week", "2026-W46", "--data", folder, "--json").stdout)
    must(("equal readings", "Ilka Trosmere") in {(q["kind"], q["subject"]) for q in early["questions"]},
         f"asked in week 19: {early['questions']}")
    ageing = {row["crew"]: row for row in early["ageing"]}
    must(all(row["forgotten"] <= row["open"] <= row["put_off"] for row in ageing.values()), f"ageing: {ageing}")

    # The letter of the week opens and says the same.
    letter = pathlib.Path(folder) / "week.pdf"
    done = run(PROGRAM, "week", "2026-W53", "--data", folder, "--pdf", letter)
    must(done.returncode == 0, done.stderr)
    text = " ".join(run("pdftotext", "-layout", letter, "-").stdout.split())
    # By the figures of whichever finding stands first: its sentence is broken into lines there.
    first = findings[0]
    must(first["subject"] in text and f"in {first['failed']} of {first['tries']}" in text,
         f"the letter does not name the first finding, {first['sentence']}:\n" + text[:1500])
print("the planted season: seven patterns found, no decoy blamed")
