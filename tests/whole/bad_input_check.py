"""What goes wrong in a house: each answer says what, where and what to do, with the right exit code, and the journal verifies."""
import os, pathlib, shutil, subprocess, tempfile

from program import PROGRAM, Crew, Folder, facts, must, run

folder = Folder()


def problem(answer, code, *words):
    """The answer has this exit code, and its problem has three parts that hold the words."""
    must(answer.code == code, f"exit {answer.code}, expected {code}\n{answer.out}\n{answer.err}")
    told = answer.json["problem"]
    for part in ("what", "where", "what_to_do"):
        must(told[part].strip(), f"{part} is empty: {told}")
    text = " ".join(told.values())
    for word in words:
        must(word in text, f"\"{word}\" is missing in {told}")
    for word in ("terminate", "std::", "Exception", "what():"):
        must(word not in text + answer.err, f"a fault of the program shows: {text} {answer.err}")
    return told


def whole():
    must(folder.json("attest", "--journal")["genuine"], "the journal no longer verifies")


job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
crew = Crew(folder, job)


def enter(check, text, *more):
    return folder.run("enter", job, check, text, *more, "--json")


# ---- readings
problem(enter("coll-tilt", "35 furlongs"), 3, "furlongs")
problem(enter("coll-tilt", "35 kPa"), 3, "kPa")
problem(enter("coll-tilt", ""), 3)
problem(enter("coll-tilt", "steep"), 3, "steep")
problem(enter("coll-tilt", "1e400"), 3)
problem(enter("coll-tilt", "nan"), 3)
problem(enter("coll-tilt", "9" * 400), 3)
problem(enter("coll-tilt", "120°"), 3, "--sure")
problem(enter("anchor-torque", "20 N·m", "--place", "nowhere"), 3, "nowhere")
problem(enter("anchor-torque", "20 N·m", "--place", "1", "--instrument", "TW-77"), 3, "TW-77")
problem(enter("coll-tilt", "35°", "--read-at", "noon"), 3, "noon")
problem(enter("test-hold", "0 min=480 kPa; 2 min=; 4 min=479"), 3)
problem(enter("sun-window", "800"), 3)
problem(enter("valve-order", "somehow"), 3)
problem(enter("crew-licences", "yes"), 2)
problem(enter("no-such-check", "yes"), 3, "no-such-check")
problem(folder.run("enter", "J-NONE-1", "coll-tilt", "35°", "--json"), 3, "J-NONE-1")
must(crew.check("coll-tilt")["readings"] == [], "something was stored that was refused")
whole()

# ---- facts
for text, words in [("[site\nlatitude = 3\n", ["bad.toml:1:"]),
                    ("site.latitude = 29.4\nsite.latitud = 3\n", ["bad.toml:2:1", "site.latitud"]),
                    ("water.static_kpa = \"3 degC\"\n", ["bad.toml:1:20", "pressure"]),
                    ("customer.vulnerable = 7\n", ["bad.toml:1:"]),
                    ("roof.covering = \"straw\"\n", ["bad.toml:1:", "straw"]),
                    ("warranty.until = 2027-02-30\n", ["bad.toml:1:"]),
                    ("\xff\xfe", ["bad.toml"])]:
    file = folder.path / "bad.toml"
    file.write_bytes(text.encode("latin-1"))
    problem(folder.run("job", "new", "--checklist", "commissioning", "--facts", file, "--json"), 3, *words)
problem(folder.run("job", "new", "--checklist", "commissioning", "--facts", folder.path / "missing.toml", "--json"), 3,
        "missing.toml")
problem(folder.run("job", "new", "--checklist", "commissioning", "--facts", folder.path, "--json"), 3)
must(len(folder.json("job", "list")["jobs"]) == 1, "a job was opened from bad facts")

# ---- photos
photo = crew.photo()
torn = folder.path / "torn.jpg"
torn.write_bytes(photo.read_bytes()[:900])
words = folder.write("words.jpg", "this is no picture")
empty = folder.write("empty.jpg", "")
for file in (torn, words, empty, folder.path / "missing.jpg", folder.path):
    problem(enter("nut-marks", "yes", "--photo", file), 3, pathlib.Path(file).name)
must(crew.check("nut-marks")["readings"] == [], "a damaged photo was stored")
must(not list((folder.data / "attachments").glob("*")), "a refused photo left a file")

# ---- other files
problem(folder.run("sign", job, "--as", "crew", "--name", "T", "--strokes", words, "--json"), 3, "words.jpg")
problem(folder.run("enter", job, "--from", folder.write("day.toml", "[[enter]]\ncheck = 3\n"), "--json"), 3, "day.toml:")
problem(folder.run("lint", folder.path / "missing.toml", "--json"), 3, "missing.toml")
must(folder.run("lint", folder.write("torn.toml", "[[check]\n")).code == 1, "lint of a torn file")
problem(folder.run("handover", job, "--json"), 1)
problem(folder.run("job", "lst", "--json"), 2)
problem(folder.run("brew", "--json"), 2)
problem(folder.run("job", "list", "--colour", "--json"), 2, "--colour")
whole()

# ---- a second window while one writes
holder = subprocess.Popen(["/usr/bin/python3", "-c",
                           "import fcntl,sys\nf=open(sys.argv[1],'r+b')\nfcntl.flock(f,fcntl.LOCK_EX)\n"
                           "fcntl.lockf(f,fcntl.LOCK_EX)\nprint('held',flush=True)\nsys.stdin.read()",
                           str(folder.data / "writer.lock")], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
holder.stdout.readline()
problem(enter("coll-tilt", "35°"), 4, str(folder.data))
must(len(folder.json("job", "list")["jobs"]) == 1, "reading beside a writer was refused")
holder.stdin.close()
holder.wait()
must(enter("coll-tilt", "35°").code == 0, "the lock outlived its holder")
whole()

# ---- folders nothing can be written in
folder.write("a-file", "not a folder")
problem(Folder(path=folder.path / "a-file").run("job", "new", "--checklist", "kit", "--facts", folder.path / "facts.toml", "--json"),
        4, "a-file")
locked = folder.path / "locked"
locked.mkdir(mode=0o500)
root = os.geteuid() == 0
if root and run("mount", "-t", "tmpfs", "-o", "ro", "tmpfs", locked).returncode != 0:
    print("skipped: a folder without leave to write, because root may write everywhere and nothing can be mounted")
else:
    try:
        problem(Folder(path=locked).run("job", "new", "--checklist", "kit", "--facts", folder.path / "facts.toml", "--json"), 4,
                "locked")
    finally:
        if root:
            run("umount", locked)


# ---- a journal that is torn, or somebody else's
def copied(change):
    other = Folder()
    shutil.copytree(folder.data, other.data)
    journal = other.data / "journal.db"
    for beside in other.data.glob("journal.db-*"):
        beside.unlink()
    change(journal)
    return other, journal


# The write-ahead log is folded in when the last one closes; the copy below must hold the entries by itself.
run("/usr/bin/python3", "-c", "import sqlite3,sys; c=sqlite3.connect(sys.argv[1]); c.execute('pragma wal_checkpoint(truncate)')",
    folder.data / "journal.db")
size = (folder.data / "journal.db").stat().st_size
for name, change in [("words", lambda j: j.write_text("these are no entries at all\n" * 300)),
                     ("a picture", lambda j: shutil.copy(photo, j)),
                     ("half", lambda j: os.truncate(j, size // 2 + 17)),
                     ("a head only", lambda j: os.truncate(j, 60))]:
    other, journal = copied(change)
    before = journal.read_bytes()
    answer = other.run("enter", job, "tank-level", "0.3°", "--json")
    must(answer.code in (3, 4), f"{name}: exit {answer.code}\n{answer.out}{answer.err}")
    problem(answer, answer.code, "journal.db")
    must(journal.read_bytes() == before, f"{name}: the evidence was changed")
foreign, journal = copied(lambda j: j.unlink())
run("/usr/bin/python3", "-c", "import sqlite3,sys; c=sqlite3.connect(sys.argv[1]); c.execute('create table birds(name)'); c.commit()",
    journal)
problem(foreign.run("job", "list", "--json"), 3, "journal.db")
# One byte of an entry: it is named, the rest is still there, and nothing is genuine any more.
other, journal = copied(lambda j: None)
run("/usr/bin/python3", "-c",
    "import sqlite3,sys; c=sqlite3.connect(sys.argv[1]); c.execute(\"update entry set body=replace(body,'35°','36°')\"); c.commit()",
    journal)
attested = other.run("attest", "--journal", "--json")
must(attested.code == 1 and not attested.json["genuine"] and attested.json["reasons"], attested.out)
must(any(c["readings"] == [] for c in other.json("job", "show", job)["checks"] if c["id"] == "coll-tilt"),
     "a changed entry is shown as if it were sound")

# ---- a full disk
if os.geteuid() == 0:
    place = pathlib.Path(tempfile.mkdtemp())
    if run("mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", place).returncode != 0:
        print("skipped: the full disk, because nothing can be mounted here")
    else:
        try:
            small = Folder(path=place)
            filled = small.json("job", "new", "--checklist", "commissioning", "--facts", folder.path / "facts.toml")["job"]
            stored = 0
            ballast = os.open(place / "ballast", os.O_WRONLY | os.O_CREAT)
            for size in (4096, 512, 1):
                try:
                    while os.write(ballast, b"x" * size):
                        pass
                except OSError:
                    pass
            os.close(ballast)
            answer = small.run("enter", filled, "coll-tilt", "35°", "--json")
            for text in ("35.1°", "35.2°", "35.3°", "35.4°", "35.5°", "35.6°", "35.7°", "35.8°"):
                if answer.code != 0:
                    break
                stored += 1
                answer = small.run("enter", filled, "coll-tilt", text, "--json")
            problem(answer, 4)
            os.unlink(place / "ballast")
            shown = small.json("job", "show", filled)
            readings = next(c["readings"] for c in shown["checks"] if c["id"] == "coll-tilt")
            must(len(readings) == stored, f"{stored} were acknowledged, {len(readings)} are there")
            must(small.run("enter", filled, "coll-tilt", "35.9°").code == 0, "room was made, but nothing can be stored")
            must(small.json("attest", "--journal")["genuine"], "the journal does not verify after a full disk")
        finally:
            run("umount", place)
            place.rmdir()
else:
    print("skipped: the full disk, because only root can mount a small one")

whole()
print("every fault was told with what, where and what to do; the journal verifies")
