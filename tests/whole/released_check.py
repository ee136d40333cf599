"""A journal of each released format still opens, verifies, folds to the same outcomes and gives a report.

tests/whole/released/format-N.tar.xz is a data folder as that release left it, format-N.json what it must say. Both
were made once and are never made again: `--make N` refuses where they exist. The keys in it are known to everyone.
"""
import hashlib, json, sys, tarfile

from program import ROOT, Crew, Folder, facts, must, run

KEPT = ROOT / "tests/whole/released"


def said(folder):
    """What the program says of all jobs, as far as it may never change."""
    jobs = {}
    for job in folder.json("job", "list")["jobs"]:
        shown = folder.json("job", "show", job["job"])
        jobs[job["job"]] = {
            "state": shown["state"], "head": shown["head"], "checklist": shown["checklist"],
            "checks": {c["id"]: [c["outcome"], [[r["entry"], r["text"], r["place"]] for r in c["readings"]]]
                       for c in shown["checks"] if c["readings"] or c["outcome"] != "open"}}
    report = folder.json("attest", "--journal")
    must(report["genuine"] is True, f"{report['reasons']}")
    return {"jobs": jobs, "entries": report["entries"], "devices": report["devices"]}


def make(number):
    must(not (KEPT / f"format-{number}.tar.xz").exists(), "that format is kept already")
    folder, other = Folder(), Folder()
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
    crew = Crew(folder, job)
    run("convert", "-size", "48x36", "plasma:tan-sienna", "-seed", "7", folder.path / "photo.jpg")
    must(folder.run("enter", job, "ladder-set", "52°").code == 1, "a ladder too flat was taken")
    folder.run("correct", job, "ladder-set", "70°", "--done", "set the foot nearer", expect=0)
    crew.do_all()
    for role, name in (("crew", "Tindo Quellaby"), ("customer", "Ansa Velmorrin")):
        folder.run("sign", job, "--as", role, "--name", name, expect=0)
    second = folder.json("job", "new", "--checklist", "survey", "--facts", folder.path / "facts.toml")["job"]
    folder.run("near-miss", second, "--why", "A tile slid to the gutter.", expect=0)
    folder.run("job", "facts", second, "--set", "site.t_min_c=-15", expect=0)
    folder.run("abandon", second, "--done", "Water shut", "--why", "storm", expect=0)
    third = other.json("job", "new", "--checklist", "commissioning", "--facts",
                       other.write("facts.toml", facts(customer__name='"Lumo Harrabin"')))["job"]
    other.run("enter", third, "ladder-set", "71°", expect=0)
    other.run("defer", third, "outlet-temp", "--until", "2026-11-26", "--owner", "Ode Brannick", "--why", "cold", expect=0)
    other.run("undo", third, expect=0)
    password = folder.write("password", "six lanterns\n")
    bundle = folder.path / "third.bundle"
    other.run("pack", bundle, "--password-file", password, expect=0)
    folder.run("unpack", bundle, "--password-file", password, expect=0)
    folder.run("erase-customer", second, expect=0)
    KEPT.mkdir(exist_ok=True)
    (KEPT / f"format-{number}.json").write_text(json.dumps(said(folder), indent=1, sort_keys=True) + "\n")
    for left in ("writer.lock", "journal.db-wal", "journal.db-shm"):
        (folder.data / left).unlink(missing_ok=True)
    with tarfile.open(KEPT / f"format-{number}.tar.xz", "w:xz") as archive:
        archive.add(folder.data, "data")


if sys.argv[1:2] == ["--make"]:
    make(sys.argv[2])
    sys.exit()

kept = sorted(KEPT.glob("format-*.tar.xz"))
must(kept, "no journal of a released format is kept")
for archive in kept:
    folder = Folder(start="2026-11-25T21:00:00+05:00")
    with tarfile.open(archive) as packed:
        packed.extractall(folder.path)
    before = hashlib.sha256((folder.data / "journal.db").read_bytes()).hexdigest()
    expected = json.loads(archive.with_name(archive.name.replace(".tar.xz", ".json")).read_text())
    must(said(folder) == expected, f"{archive.name}: it no longer says what it said")
    must(hashlib.sha256((folder.data / "journal.db").read_bytes()).hexdigest() == before, "looking changed the file")
    # It goes on: backed up first, written to, handed over, and the report is genuine.
    job = next(name for name, each in expected["jobs"].items() if each["state"] == "signed")
    report = folder.path / "report.pdf"
    must(folder.json("handover", job, "--out", report)["state"] == "full", "the job of the kept journal is not handed over")
    told = folder.json("attest", report)
    must(told["genuine"] and told["in_journal"], f"{told}")
    must([b["good"] for b in folder.json("backup", "--status")["backups"]] == [True], "it was not backed up before the first writing")
    # Licences lay with the customer's words then; without him the check does not open again.
    outcome = lambda: next(c for c in folder.json("job", "show", job)["checks"] if c["id"] == "crew-licences")["outcome"]
    must(outcome() == "conforms", f"{outcome()}")
    folder.run("erase-customer", job, expect=0)
    must(outcome() == "conforms", f"after the erasure the licences are {outcome()}")
    must(folder.json("attest", "--journal")["genuine"], "after the erasure the journal does not verify")
print(f"{len(kept)} released formats open, verify, fold, report")
