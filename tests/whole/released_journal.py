"""What a release leaves behind: a data folder with every kind of entry its program can write, a backup, a bundle, and a
folder whose keys are sealed by a PIN. released_check.py reads them for ever; `released_check.py --make N` makes them once.
"""
import json, re, sqlite3, subprocess, tarfile

from program import PROGRAM, ROOT, Crew, Folder, facts, must, run

KEPT = ROOT / "tests/whole/released"
PASSWORD, PIN, PERSON = "six lanterns", "730516", "Tindo Quellaby"

# No form of the program writes these yet.
NEVER_WRITTEN = {"job-reopened", "device-revoked", "entries-lost"}  # the last only by a disk that altered the log


def kinds_known():
    """The words for the kinds of entries, from the source."""
    return set(re.findall(r'kind_word<\w+> = "([a-z-]+)"', (ROOT / "src/record/fields.hpp").read_text()))


def kinds_in(folder):
    database = sqlite3.connect(f"file:{folder.data}/journal.db?mode=ro", uri=True)
    kinds = {json.loads(body)["kind"] for (body,) in database.execute("SELECT body FROM entry")}
    database.close()
    return kinds


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


def said_further(folder):
    """What stands beside the checks: facts, questions, complaints, actions, messages."""
    shown = {job["job"]: folder.json("job", "show", job["job"]) for job in folder.json("job", "list")["jobs"]}
    return {"facts": {job: each["facts"] for job, each in shown.items()},
            "signatures": {job: [[s["role"], s["name"], s["at"]] for s in each["signatures"]] for job, each in shown.items()},
            "notes": {job: each["notes"] for job, each in shown.items()},
            "complaints": [{key: each[key] for key in ("complaint", "job", "symptom", "words", "told_at", "air", "by", "check",
                                                       "found", "closed_at")} for each in folder.json("complaint", "list")["complaints"]],
            "actions": [{key: each[key] for key in ("action", "week", "finding", "subject", "check", "cause", "cause_words", "remedy",
                                                    "owner", "due", "decided_on", "done_on", "closed", "ended_because")} |
                        {"effects": [e["verdict"] for e in each["effects"] if e["recorded"]]}
                        for each in folder.json("act", "list")["actions"]],
            "messages": [[m["message"], m["state"], m["tries"]] for m in folder.json("post", "list")["messages"]]}


def with_clock_moved(folder, job):
    """Two near misses by the real clock; in between the wall clock of the machine seems to have been set on by an hour."""
    def noted(why):
        done = subprocess.run([PROGRAM, "near-miss", job, "--why", why, "--data", folder.data], capture_output=True, text=True)
        must(done.returncode == 0, done.stderr)
    noted("The ladder slipped by a hand.")
    kept = folder.data / "clock.txt"
    words = kept.read_text().split()
    # The wall clock at the anchor, in milliseconds, is the only number of thirteen digits.
    at = next(i for i, word in enumerate(words) if re.fullmatch(r"1\d{12}", word))
    kept.write_text(kept.read_text().replace(words[at], str(int(words[at]) - 3_600_000)))
    noted("A tile slid to the gutter.")


def conceded_check(shown):
    """A check that may be accepted as it is: answered by yes or no, and hurts nobody."""
    return next(c["id"] for c in shown["checks"]
                if c["kind"] == "confirm" and c["severity"] in ("P", "R") and not c["hold"] and c["photo"] != "required"
                and not any(p["name"] for p in c["places"]))


def made_folders(scratch):
    """The folder that comes back as a new device, and that of the other device, whose bundle is kept."""
    folder, other = Folder(path=scratch / "a"), Folder(path=scratch / "b")
    for each in (folder, other):
        each.path.mkdir()
    password = folder.write("password", PASSWORD + "\n")
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts",
                      folder.write("facts.toml", facts(batch__relief='"RV-J04"')))["job"]
    crew = Crew(folder, job)
    run("convert", "-size", "48x36", "gradient:tan-sienna", folder.path / "photo.jpg")  # small: it is kept for ever
    must(folder.run("enter", job, "ladder-set", "52°").code == 1, "a ladder too flat was taken")
    folder.run("correct", job, "ladder-set", "70°", "--done", "set the foot nearer", expect=0)
    # Two devices answer the same check and have not seen each other.
    folder.run("pack", scratch / "1.bundle", "--password-file", password, expect=0)
    other.run("unpack", scratch / "1.bundle", "--password-file", password, expect=0)
    folder.run("enter", job, "site-weather", "3 m/s", expect=0)
    second = other.json("enter", job, "site-weather", "4 m/s")["entry"]
    survey = other.json("job", "new", "--checklist", "survey", "--facts", folder.path / "facts.toml")["job"]
    with_clock_moved(other, survey)
    other.run("pack", scratch / "2.bundle", "--password-file", password, expect=0)
    unpacked = folder.json("unpack", scratch / "2.bundle", "--password-file", password)
    must(unpacked["conflicts"], "no conflict")
    folder.run("device", "accept", unpacked["new_devices"][0], expect=0)
    folder.run("resolve", job, "site-weather", "--keep", second, expect=0)
    folder.run("job", "take-over", job, "--by", "Orla Finch", expect=0)
    accepted = conceded_check(crew.show())
    must(folder.run("enter", job, accepted, "no").code == 1, f"{accepted} is not refused by no")
    folder.run("concede", job, accepted, "--by", "Ilka Marrowby", "--why", "the owner wants it so", expect=0)
    crew.do_all(skip=(accepted,))
    for role, name in (("crew", "Tindo Quellaby"), ("customer", "Ansa Velmorrin")):
        folder.run("sign", job, "--as", role, "--name", name, expect=0)
    folder.run("handover", job, "--out", scratch / "report.pdf", expect=0)
    folder.run("post", "send", "--server", "smtp://127.0.0.1:9")  # nobody is there; the try is on record
    folder.run("complaint", job, "--symptom", "no-water", "--words", "No water since the frost.", "--air=-6", expect=0)
    visit = folder.json("complaint", job, "--revisit")["job"]
    visiting = Crew(folder, visit)
    looked_at = next(c for c in visiting.show()["checks"] if c["photo"] != "required" and c["kind"] in ("confirm", "choice", "quantity"))
    for place, text in visiting.entries(looked_at):
        folder.run("enter", visit, looked_at["id"], text, *(("--place", place) if place else ()), expect=0)
    folder.run("complaint", job, "--close", "other", "--words", "A valve was shut.", "--proved-in", visit, expect=0)
    folder.run("trace", "--batch", "RV-J04", "--record", "--why", "two of them leak", expect=0)
    folder.run("trace", "--instrument", "TW-1", "--from", "2026-11-01", "--record", "--why", "it fell from the roof", expect=0)
    cause = folder.run("act", "causes", expect=0).out.split()[0]
    for remedy, end in (("look twice", False), ("leave it", True)):
        action = folder.json("act", "new", "--week", "2026-W48", "--kind", "crew and check", "--subject", "Tindo Quellaby",
                             "--check", "ladder-set", "--cause", cause, "--why", "no time", "--remedy", remedy,
                             "--owner", "Ode Brannick", "--due", "2026-12-01")["action"]
        folder.run("act", "done", action, "--on", "2026-10-01", expect=0)
        folder.run("act", "check", action, "--days", "30")
        if end:
            folder.run("act", "end", action, "--why", "no longer done", expect=0)
    third = folder.json("job", "new", "--checklist", "commissioning", "--facts",
                        folder.write("facts.toml", facts(customer__name='"Lumo Harrabin"')))["job"]
    folder.run("defer", third, "outlet-temp", "--until", "2026-11-26", "--owner", "Ode Brannick", "--why", "cold", expect=0)
    # Who is not of the crew yet when it is put off, and is when the customer goes.
    folder.run("defer", third, "day-after", "--until", "2026-11-26", "--owner", "Reva Tarnholt", "--why", "dark", expect=0)
    folder.run("job", "facts", third, "--set", "crew.members=Tindo Quellaby, Reva Tarnholt", expect=0)
    folder.run("enter", third, "goods-scan", "ST-1, all there", expect=0)
    folder.run("undo", third, expect=0)
    folder.run("abandon", third, "--done", "Water shut", "--why", "storm", expect=0)
    settings = folder.data / "settings.toml"
    settings.write_text('[retention]\ncountry = "DE"\n')
    folder.run("erase-customer", third, "--despite", "the customer never signed", expect=0)
    settings.write_text(f'[backup]\nfolder = "{scratch}/backup"\npassword_file = "{password}"\n')
    folder.run("backup", expect=0)
    # A tablet is lost: what comes back goes on as a new device.
    lost = Folder(path=scratch / "c")
    lost.path.mkdir()
    lost.run("restore", "--from", scratch / "backup", "--password-file", password, expect=0)
    lost.minutes = folder.minutes
    lost.json("job", "new", "--checklist", "service", "--facts", folder.path / "facts.toml")
    return lost, other


def made_sealed(scratch):
    folder = Folder(path=scratch / "d")
    folder.path.mkdir()
    job = folder.json("job", "new", "--checklist", "kit", "--facts", folder.write("facts.toml", facts()))["job"]
    folder.run("access", "add", PERSON, "--role", "owner", "--new-pin-file", folder.write("pin", PIN + "\n"), expect=0)
    return folder, job


def made(number, scratch):
    must(not (KEPT / f"format-{number}.tar.xz").exists(), "that format is kept already")
    folder, other = made_folders(scratch)
    missing = kinds_known() - NEVER_WRITTEN - kinds_in(folder)
    must(not missing, f"no entry of these kinds was written: {sorted(missing)}")
    sealed, job = made_sealed(scratch)
    expected = {**said(folder), "kinds": sorted(kinds_in(folder)), "further": said_further(folder), "sealed": job,
                "bundle": said(other)["jobs"]}
    KEPT.mkdir(exist_ok=True)
    (KEPT / f"format-{number}.json").write_text(json.dumps(expected, indent=1, sort_keys=True) + "\n")
    for data in (folder.data, sealed.data):
        for left in ("writer.lock", "journal.db-wal", "journal.db-shm", "settings.toml"):
            (data / left).unlink(missing_ok=True)
    with tarfile.open(KEPT / f"format-{number}.tar.xz", "w:xz") as archive:
        archive.add(folder.data, "data")
        archive.add(sealed.data, "sealed")
        archive.add(scratch / "backup", "backup")
        archive.add(scratch / "2.bundle", "other.bundle")
