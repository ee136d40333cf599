"""The schemas hold of what the program writes and refuse what it does not; the views of assets/sql say what `job show` says, and
leave the journal untouched."""
import copy, hashlib, json, sqlite3

import jsonschema

from program import Crew, Folder, ROOT, facts, must

schemas = {name: json.loads((ROOT / f"assets/schemas/{name}.schema.json").read_text(encoding="utf-8")) for name in ("job", "check-up", "entry")}
judges = {}
for name, schema in schemas.items():
    jsonschema.Draft202012Validator.check_schema(schema)
    judges[name] = jsonschema.Draft202012Validator(schema)


def holds(name, document):
    faults = list(judges[name].iter_errors(document))
    must(not faults, f"{name}: {[(list(fault.path), fault.message) for fault in faults[:3]]}")


def refuses(name, document, spoil):
    wrong = copy.deepcopy(document)
    spoil(wrong)
    must(list(judges[name].iter_errors(wrong)), f"the schema of {name} lets anything pass")


folder = Folder()
folder.run("demo", "--into", folder.data, expect=0)
job = folder.json("job", "list")["jobs"][0]["job"]
new = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
crew = Crew(folder, new)
folder.json("enter", new, "anchor-torque", "25 N·m", "--place", "1", "--instrument", "TW-1", expect=1)
folder.json("correct", new, "anchor-torque", "20 N·m", "--place", "1", "--instrument", "TW-1", "--done", "turned back")
folder.json("enter", new, "water-off", "yes")
folder.run("undo", new, expect=0)
shown = {number: folder.json("job", "show", number) for number in (job, new)}
for document in shown.values():
    holds("job", document)
refuses("job", shown[job], lambda d: d["checks"][3].update(outcome="passed"))
refuses("job", shown[job], lambda d: d["checks"][0].pop("why"))
refuses("job", shown[job], lambda d: d.update(state="done"))
checked = folder.json("check-up")
holds("check-up", checked)
refuses("check-up", checked, lambda d: d["findings"][0].update(state="wrong", what_to_do=""))

journal = folder.data / "journal.db"
before = hashlib.sha256(journal.read_bytes()).hexdigest()
database = sqlite3.connect(f"file:{journal}?mode=ro", uri=True)
database.executescript((ROOT / "assets/sql/views.sql").read_text(encoding="utf-8"))
bodies = [json.loads(body) for (body,) in database.execute("SELECT body FROM entries")]
for body in bodies:
    holds("entry", body)
reading = next(body for body in bodies if body["kind"] == "reading-taken")
refuses("entry", reading, lambda d: d["judged"].update(outcome="good"))
refuses("entry", next(b for b in bodies if b["kind"] == "signed"), lambda d: d.update(name="Ansa Velmorrin"))

compared = 0
for number, document in shown.items():
    told = {r["entry"]: (check["id"], r["place"] or "", r["text"], r["instrument"] or "", r["corrects"] or "")
            for check in document["checks"] for r in check["readings"] if not r["undone"]}
    rows = {entry: (check, place, value, instrument or "", corrects or "") for entry, check, place, value, instrument, corrects in
            database.execute('SELECT entry, "check", place, value, instrument, corrects FROM readings WHERE job = ? AND NOT taken_back',
                             (number,))}
    must(set(told) == set(rows), f"{number}: {len(told)} readings in job show, {len(rows)} in the view")
    for entry, row in rows.items():
        must(row[2] is None or row == told[entry], f"{number}: the view says {row}, job show {told[entry]}")
        compared += 1
must(database.execute("SELECT count(*) FROM readings WHERE taken_back").fetchone() == (1,), "what was taken back is not marked")
failed = database.execute('SELECT outcome, low, high, unit FROM readings WHERE job = ? AND value LIKE \'25%\'', (new,)).fetchone()
must(failed == ("does not conform", 18.0, 22.0, "N·m"), failed)
must(database.execute("SELECT count(*) FROM jobs").fetchone() == (2,), "jobs")
must(database.execute("SELECT state FROM handovers WHERE job = ?", (job,)).fetchone()[0] == "restricted"
     or shown[job]["state"] == "handed over", "handovers")
must(database.execute("SELECT count(*) FROM deferrals WHERE job = ?", (job,)).fetchone()[0] > 0, "deferrals")
must(database.execute("SELECT due FROM instruments WHERE job = ? AND instrument = 'TW-1'", (new,)).fetchone() == ("2027-06-30",), "instruments")
try:
    database.execute("DELETE FROM entry")
    raise AssertionError("the journal can be written to")
except sqlite3.OperationalError as refusal:
    must("readonly" in str(refusal), refusal)
database.close()
must(hashlib.sha256(journal.read_bytes()).hexdigest() == before, "the journal was touched")
must(folder.json("attest", "--journal")["genuine"], "the journal does not verify any more")
print(f"{len(bodies)} entries and 2 jobs keep to their schemas; {compared} readings are the same in the views and in job show")
