"""A journal of each released format still opens, verifies, folds to the same outcomes, gives a report, is restored from its
backup and taken in from its bundle.

tests/whole/released/format-N.tar.xz is what that release left behind, format-N.json what it must say. Each was made once
and is never made again: `--make N` refuses where it exists. The keys in it are known to everyone. A kind of entry that
stands in none of them fails the check: it is not released before such a journal is kept.
"""
import hashlib, json, pathlib, shutil, sys, tarfile, tempfile

from program import Folder, must
from released_journal import (KEPT, NEVER_WRITTEN, PASSWORD, PERSON, PIN, kinds_in, kinds_known, made, said, said_further)


def lacks(now, then, where=""):
    """The first thing that was said and is not said any more; what is said besides does not matter."""
    if isinstance(then, dict) and isinstance(now, dict):
        return next((found for key in then if (found := lacks(now.get(key), then[key], f"{where}/{key}"))), None)
    if isinstance(then, list) and isinstance(now, list) and len(now) == len(then):
        return next((found for i, each in enumerate(then) if (found := lacks(now[i], each, f"{where}/{i}"))), None)
    return None if now == then else f"{where}: {then!r} became {now!r}"


def without_heads(jobs):
    return {job: {key: value for key, value in each.items() if key != "head"} for job, each in jobs.items()}


def jobs_without_heads(folder):
    return without_heads(said(folder)["jobs"])


def is_back(folder, backup, words, expected, name):
    """The folder restored from a backup says the same of every job."""
    with tempfile.TemporaryDirectory() as empty:
        again = Folder(start=folder.start, path=empty)
        again.run("restore", "--from", backup, *words, expect=0)
        must(not (found := lacks(jobs_without_heads(again), without_heads(expected["jobs"]))), f"{name}, restored: {found}")
        must(again.json("attest", "--journal")["genuine"], f"{name}: what was restored does not verify")


def goes_on_signed(folder, expected, job):
    """Backed up first, written to, handed over, and the report is genuine."""
    report = folder.path / "report.pdf"
    must(folder.json("handover", job, "--out", report)["state"] == "full", "the job of the kept journal is not handed over")
    told = folder.json("attest", report)
    must(told["genuine"] and told["in_journal"], f"{told}")
    must([b["good"] for b in folder.json("backup", "--status")["backups"]] == [True], "it was not backed up before the first writing")
    is_back(folder, folder.data / "backups", (), expected, "format-1")
    # Licences lay with the customer's words then; without him the check does not open again.
    outcome = lambda: next(c for c in folder.json("job", "show", job)["checks"] if c["id"] == "crew-licences")["outcome"]
    must(outcome() == "conforms", f"{outcome()}")
    folder.run("erase-customer", job, expect=0)
    must(outcome() == "conforms", f"after the erasure the licences are {outcome()}")
    must(folder.json("attest", "--journal")["genuine"], "after the erasure the journal does not verify")


def goes_on(folder, expected, name):
    """The report of a job that was handed over then is sealed anew, a reading is taken, the backup and the bundle are read."""
    job = next(job for job, each in expected["jobs"].items() if each["state"] == "handed over")
    report = folder.path / "report.pdf"
    folder.run("job", "report", job, "--out", report, expect=0)
    told = folder.json("attest", report)
    must(told["genuine"] and told["in_journal"], f"{told}")
    still_open = next(job for job, each in expected["jobs"].items() if each["state"] == "open")
    folder.run("near-miss", still_open, "--why", "A box fell.", expect=0)
    must(folder.json("attest", "--journal")["genuine"], "written on, the journal does not verify")
    password = folder.write("password", PASSWORD + "\n")
    # The backup was made before the last job was begun.
    before = {"jobs": {job: each for job, each in expected["jobs"].items() if each["checklist"]["name"] != "service"}}
    is_back(folder, folder.path / "backup", ("--password-file", password), before, name)
    with tempfile.TemporaryDirectory() as empty:
        other = Folder(start=folder.start, path=empty)
        other.run("unpack", folder.path / "other.bundle", "--password-file", password, expect=0)
        # A bundle of format 1 carries no checklists: what a job pins is taken from the folder it came with.
        shutil.copytree(folder.data / "pins", other.data / "pins", dirs_exist_ok=True)
        must(not (found := lacks(jobs_without_heads(other), without_heads(expected["bundle"]))), f"{name}, from its bundle: {found}")


def opens_by_pin(folder, job):
    """Keys that were sealed then: no entry without the PIN, one with it."""
    sealed = Folder(start=folder.start, path=folder.path)
    sealed.data = folder.path / "sealed"
    pin, wrong = folder.write("pin", PIN + "\n"), folder.write("wrong", "111111\n")
    words = ("near-miss", job, "--why", "A box fell.")
    must(sealed.run(*words).code != 0, "sealed keys open without a PIN")
    must(sealed.run(*words, "--person", PERSON, "--pin-file", wrong).code != 0, "a wrong PIN opens sealed keys")
    sealed.run(*words, "--person", PERSON, "--pin-file", pin, expect=0)


if sys.argv[1:2] == ["--make"]:
    with tempfile.TemporaryDirectory() as scratch:
        made(sys.argv[2], pathlib.Path(scratch))
    sys.exit()

kept = sorted(KEPT.glob("format-*.tar.xz"))
must(kept, "no journal of a released format is kept")
kinds = set()
for archive in kept:
    folder = Folder(start="2026-11-28T21:00:00+05:00" if archive.name != "format-1.tar.xz" else "2026-11-25T21:00:00+05:00")
    with tarfile.open(archive) as packed:
        packed.extractall(folder.path)
    before = hashlib.sha256((folder.data / "journal.db").read_bytes()).hexdigest()
    expected = json.loads(archive.with_name(archive.name.replace(".tar.xz", ".json")).read_text())
    must(not (found := lacks(said(folder), {key: expected[key] for key in ("jobs", "entries", "devices")})), f"{archive.name}: {found}")
    must(not (found := lacks(said_further(folder), expected.get("further", {}))), f"{archive.name}: {found}")
    kinds |= kinds_in(folder)
    must(kinds_in(folder) >= set(expected.get("kinds", [])), f"{archive.name}: a kind of entry is gone")
    must(hashlib.sha256((folder.data / "journal.db").read_bytes()).hexdigest() == before, "looking changed the file")
    signed = [name for name, each in expected["jobs"].items() if each["state"] == "signed"]
    if signed:
        goes_on_signed(folder, expected, signed[0])
    else:
        goes_on(folder, expected, archive.name)
    if "sealed" in expected:
        opens_by_pin(folder, expected["sealed"])
missing = kinds_known() - NEVER_WRITTEN - kinds
must(not missing, f"of these kinds of entries no released journal is kept: {sorted(missing)}; make one with --make N")
must(not kinds & NEVER_WRITTEN, "a kind that was called never written is there")
print(f"{len(kept)} released formats with {len(kinds)} kinds of entries open, verify, fold, report, come back from backup and bundle")
