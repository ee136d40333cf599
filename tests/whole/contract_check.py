"""Every form, field, exit code and error shape that outside scripts may count on."""
import json, pathlib, sqlite3

from contract import Contract, one_document
from program import PROGRAM, ROOT, Crew, Folder, facts, must, run

contract = Contract()
codes = {}  # exit code to the forms that gave it


def asked(folder, *words, code=0, document=None):
    """Runs a form with --json and holds what it prints against the contract."""
    answer = folder.run(*words, "--json", expect=code)
    codes.setdefault(code, set()).add(" ".join(map(str, words[:2] if words[0] in ("job", "post") else words[:1])))
    told = one_document(answer.out)
    if "problem" in told:
        must(code != 0, f"{words}: a problem with exit 0")
        must(answer.err.strip(), f"{words}: nothing on stderr")
        contract.fits("problem", told)
    if document:
        contract.fits(document, told)
    else:
        must(code == 0 or "problem" in told, f"{words}: exit {code} without a problem\n{answer.out}")
    return told


def refused(folder, code, *words, says=()):
    told = asked(folder, *words, code=code)["problem"]
    for word in says:
        must(word in " ".join(told.values()), f"{words}: \"{word}\" is missing in {told}")


def shown(folder, job):
    return asked(folder, "job", "show", job, document="job show")


def check_of(folder, job, name):
    return next(c for c in shown(folder, job)["checks"] if c["id"] == name)


def state_of(folder, job):
    rows = {row["job"]: row["state"] for row in asked(folder, "job", "list", document="job list")["jobs"]}
    must(shown(folder, job)["state"] == rows[job], f"list and show disagree on {job}")
    return rows[job]


def new_job(folder, text, checklist="commissioning"):
    file = folder.write("house.toml", text)
    return asked(folder, "job", "new", "--checklist", checklist, "--facts", file, document="job new")["job"]


def in_tables(text):
    """The same facts, written as [site], [roof] and so on."""
    head, instruments = text.split("[[inst]]", 1)
    tables = {}
    for line in head.splitlines():
        table, rest = line.split(".", 1)
        tables.setdefault(table, []).append(rest)
    return "".join(f"[{name}]\n" + "\n".join(lines) + "\n" for name, lines in tables.items()) + "[[inst]]" + instruments


def entries_file(folder, rows):
    text = lambda value: json.dumps(str(value), ensure_ascii=False)
    return folder.write("entries.toml", "".join(
        "[[enter]]\n" + "".join(f"{key} = {text(value)}\n" for key, value in row.items()) for row in rows))


def whole_day(crew, skip=()):
    """Every core check and hold point of a job, as rows of an entries file."""
    rows = []
    for check in crew.show()["checks"]:
        if check["id"] in skip or check["outcome"] in ("not applicable", "conforms") or not (check["core"] or check["hold"]):
            continue
        if check["kind"] in ("computed", "signature"):
            continue
        for place, text in crew.entries(check):
            row = {"check": check["id"], "value": text}
            row |= {"place": place} if place else {}
            rows.append(row | ({"photo": crew.photo()} if check["kind"] == "photo" else {}))
    return rows


# ---- general: the folder is made when something is written, options stand on either side, errors go to stderr
folder = Folder()
must(asked(folder, "job", "list", document="job list") == {"jobs": []}, "a new folder has jobs")
job = new_job(folder, facts())
must(folder.data.is_dir(), "the data folder was not made")
for words in (["job", "list"], ["job", "show", job], ["attest", "--journal"], ["work-out", "--list"]):
    after = folder.run(*words, "--json", expect=0).out
    before = run(PROGRAM, "--json", "--at", folder.now(), "--data", folder.data, *words)
    must(before.returncode == 0 and before.stdout == after, f"{words}: options before the form give something else")
plain = folder.run("job", "new", "--checklist", "kit", "--facts", folder.path / "house.toml", expect=0)
must(plain.out.splitlines()[0] in [row["job"] for row in asked(folder, "job", "list", document="job list")["jobs"]],
     f"the first line is not the job number alone: {plain.out}")
for words in (["job", "show", "J-NONE-1"], ["lint", folder.path / "none.toml"]):
    wrong = folder.run(*words, expect=3)
    must(wrong.out == "" and wrong.err.strip(), f"{words}: an error without --json belongs on stderr alone: {wrong.out}")
survey = asked(folder, "job", "new", "--checklist", "survey", "--after", job, document="job new")["job"]
asked(folder, "job", "new", "--checklist", "service", "--after", job, document="job new")

# ---- facts: written with units, in tables and with a comma, they give the same tolerances
with_units = facts(site__t_min_c='"-13 degC"', heater__max_inlet_c='"90 °C"', water__static_kpa='"4.2 bar"',
                   sys__limit_set_kpa='"350 kPa"', site__snow_kpa='"0,4 kPa"', heater__power_w='"2 kW"',
                   heater__voltage_v='"230 V"', elec__breaker_a='"16 A"', roof__spacing_mm='"0.6 m"',
                   sys__pipe_od_mm='"22 mm"', sys__tank_l='"150 L"', sys__tank_dry_kg='"60 kg"', sys__anchor_nm='"20 N·m"',
                   sys__clamp_nm='"12 N m"', roof__pitch_deg='"30°"', sys__tilt_target='"35 deg"',
                   roof__point_ok_kn='"2.5 kN"', water__hardness_mgl='"120 mg/L"')
other = new_job(folder, in_tables(with_units))
limits = lambda name: [(c["id"], c["tolerance"], c["outcome"]) for c in shown(folder, name)["checks"]]
for one, two in zip(limits(job), limits(other), strict=True):
    must(one == two, f"facts with units give another tolerance\n{one}\n{two}")
must(all((c["tolerance"] is not None) == (c["kind"] in ("quantity", "positions", "series", "computed"))
         for c in shown(folder, job)["checks"]), "tolerance stands with the quantity kinds and no other")
for line, where in (("site.latitud = 3", ":1:1"), ("customer.vulnerable = 7", ":1:"), ('water.static_kpa = "3 degC"', ":1:20")):
    refused(folder, 3, "job", "new", "--checklist", "kit", "--facts", folder.write("bad.toml", line + "\n"),
            says=["bad.toml" + where])
less = new_job(folder, facts(sys__tilt_target=None))
tilt = check_of(folder, less, "coll-tilt")
must(tilt["outcome"] == "open" and tilt["missing_facts"] == ["sys.tilt_target"], f"the missing fact is not named: {tilt}")
before = asked(folder, "attest", "--journal", document="attest --journal")["entries"]
asked(folder, "job", "facts", less, "--set", "sys.tilt_target=35", "--set", "wx.day_mj=18 MJ/m²")
must(asked(folder, "attest", "--journal", document="attest --journal")["entries"] > before, "facts made no entry")
must(check_of(folder, less, "coll-tilt")["missing_facts"] == [], "the fact is still missing")
refused(folder, 2, "job", "facts", less, "--set", "sys.tilt_target")
refused(folder, 3, "job", "facts", less, "--set", "sys.tilt_target=35 kPa", says=["pressure"])

# ---- enter: each kind in each way of writing it
high = check_of(folder, job, "test-pressure")["tolerance"]["high"]["value"]
folder.minutes = 12
ENTRIES = [
    # check, words, exit code, outcome
    ("fall-protection", ["yes"], 0, "conforms"),
    ("ins-uv", ["no"], 1, "does not conform"),
    ("roof-as-surveyed", ["small change noted"], 0, "conforms"),
    ("valve-order", ["other"], 1, "does not conform"),
    ("coll-tilt", ["35.5°"], 0, "conforms"),
    ("coll-tilt", ["34,5"], 0, "conforms"),
    ("coll-tilt", ["89 deg", "--sure"], 1, "does not conform"),
    ("test-pressure", [f"{high:.0f} kPa"], 1, "inconclusive"),
    ("test-pressure", ["65 psi"], 0, "conforms"),
    ("test-pressure", ["4,5 bar", "--instrument", "PG-1"], 0, "conforms"),
    ("anchor-torque", ["23.5 N·m", "--place", "1"], 1, "does not conform"),
    ("anchor-torque", ["1=19.5; 2=20; 3=20.4; 4=20,1 N·m"], 0, "conforms"),
    ("coll-clamps", ["12.1 N m", "--place", "1"], 0, "open"),
    ("loop-rise", ["30 mm/m", "--place", "cold pipe"], 0, "open"),
    ("test-hold", ["0 min=480 kPa; 2 min=480; 4 min=479; 6 min=479; 8 min=479; 10 min=479; water start=18.2 °C; "
                   "water end=18.3 °C"], 0, "conforms"),
    ("sun-window", ["0 min=800 W/m²; 5 min=805 W/m2; 10 min=790; 15 min=810; 20 min=800"], 0, "conforms"),
    ("temp-rise", [Crew.SPECIAL["temp-rise"]], 0, "conforms"),
    ("goods-scan", ["ST-1, SC-1, all as on the list"], 0, "conforms"),
    ("nut-marks", ["--photo", Crew(folder, job).photo(), "--caption", "all painted"], 0, "conforms"),
    ("earth-continuity", ["0.05 Ohm"], 0, "conforms"),
    ("insulation-res", ["60 MOhm"], 0, "conforms"),
    ("insulation-res", ["60 MΩ"], 0, "conforms"),
    ("air-purged", ["2 min"], 0, "conforms"),
    ("air-purged", ["0.02 h"], 0, "conforms"),
    ("coll-cross-rise", ["1 %"], 0, "conforms"),
    ("rcd-trip", ["30 ms"], 0, "conforms"),
    ("tank-level", ["2.4°"], 1, "does not conform"),
    ("loop-freeze-point", ["-18.5 °C"], 1, "inconclusive"),
]
given = 0
for check, words, code, outcome in ENTRIES:
    told = asked(folder, "enter", job, check, *words, code=code, document="enter")
    must((told["check"], told["outcome"]) == (check, outcome), f"{check} {words}: {told}")
    given += told["probability_conforming"] is not None
must(0 < given < len(ENTRIES), "a probability stands everywhere or nowhere")
must(check_of(folder, job, "test-pressure")["waits_for"] == ["relief-lever"], "nothing waits for the hold point before it")
tilts = check_of(folder, job, "coll-tilt")["readings"]
must([r["text"] for r in tilts] == ["35.5°", "34,5", "89 deg"] and [r["value"] for r in tilts] == [35.5, 34.5, 89],
     f"a reading is kept as it was entered: {tilts}")
must(all(r["at"] == folder.now() for r in tilts), f"the clock of a call is the one given: {tilts}")
for words in (["open-items", "yes"], ["crew-licences", "yes"]):
    refused(folder, 2, "enter", job, *words, says=["worked out by the tool"])
refused(folder, 2, "enter", job, "sign-crew", "Tindo Quellaby", says=["sign"])
for check, text, says in [("roof-as-surveyed", "perhaps", "same"), ("coll-tilt", "120°", "--sure"),
                          ("no-check", "yes", "no-check"), ("coll-tilt", "1,234.5", "1,234.5"), ("coll-tilt", "35 kPa", "kPa"),
                          ("anchor-torque", "20 N·m", "1, 2, 3")]:
    refused(folder, 3, "enter", job, check, text, says=[says])
refused(folder, 2, "enter", job, "coll-tilt")
must(len(check_of(folder, job, "coll-tilt")["readings"]) == 3, "something was stored that was refused")
late = asked(folder, "enter", job, "coll-tilt", "35.2", "--read-at", "2026-11-25T08:58:00+05:00", "--by", "Ode Brannick",
             document="enter")
reading = check_of(folder, job, "coll-tilt")["readings"][-1]
must((reading["entry"], reading["at"], reading["by"], reading["instrument"]) ==
     (late["entry"], "2026-11-25T08:58:00+05:00", "Ode Brannick", "IN-1"), f"{reading}")

# ---- enter --from: one line an outcome; it stops at what cannot be read and says how many it kept
rows = [{"check": "coll-azimuth", "value": "181°", "at": "2026-11-25T09:10:00+05:00"},
        {"check": "coll-clamps", "value": "12.1 N·m", "place": "2", "instrument": "TW-1"},
        {"check": "drain-low", "value": "no cock"}]
file = folder.run("enter", job, "--from", entries_file(folder, rows), expect=1)
must(len(file.out.splitlines()) == 3 and file.out.splitlines()[0].startswith("coll-azimuth: conforms"), file.out)
must(check_of(folder, job, "coll-azimuth")["readings"][0]["at"] == rows[0]["at"], "the time of a file's entry is lost")
halting = entries_file(folder, rows[:2] + [{"check": "coll-tilt", "value": "steep"}] + rows)
file = folder.run("enter", job, "--from", halting, expect=3)
must(len(file.out.splitlines()) == 2 and "2 of 6" in file.err and "entries.toml:" in file.err, file.out + file.err)
told = asked(folder, "enter", job, "--from", halting, code=3)
must(told["stored"] == 2, f"{told}")
must(asked(folder, "enter", job, "--from", entries_file(folder, rows[:2]))["stored"] == 2, "enter --from")

# ---- correct, defer, concede, undo
wrong = check_of(folder, job, "valve-order")["readings"][-1]["entry"]
told = asked(folder, "correct", job, "valve-order", "in this order", "--done", "turned the two valves", document="enter")
must(told["outcome"] == "conforms", f"{told}")
must(check_of(folder, job, "valve-order")["readings"][-1]["corrects"] == wrong, "a correction names what it corrects")
refused(folder, 2, "correct", job, "valve-order", "in this order", says=["--done"])
asked(folder, "concede", job, "tank-level", "--by", "Odrun Vassamy", "--why", "the roof sags; it drains all the same")
must("tank-level" not in [b["check"] for b in shown(folder, job)["blockers"]], "a concession still blocks")
refused(folder, 1, "concede", job, "relief-lever", "--by", "Odrun Vassamy", "--why", "no time")
refused(folder, 2, "concede", job, "tank-level", "--why", "no name")
deferral = ["--until", "2026-11-26", "--why", "the heater is cold"]
asked(folder, "defer", job, "outlet-temp", *deferral, "--owner", "")
must([b["outcome"] for b in shown(folder, job)["blockers"] if b["check"] == "outlet-temp"] == ["deferred"],
     "a deferral that nobody owns blocks")
asked(folder, "defer", job, "outlet-temp", *deferral, "--owner", "Ode Brannick")
must(check_of(folder, job, "outlet-temp")["outcome"] == "deferred", "outlet-temp is not deferred")
refused(folder, 1, "defer", job, "fall-protection", *deferral, "--owner", "Ode Brannick")
refused(folder, 3, "defer", job, "outlet-temp", "--until", "soon", "--why", "cold", "--owner", "Ode Brannick", says=["soon"])
asked(folder, "undo", job)
must([b["check"] for b in shown(folder, job)["blockers"]].count("outlet-temp") == 1, "the deferral was not taken back")

# ---- sign and handover: refused with the list, then in full, then restricted
blocked = asked(folder, "sign", job, "--as", "crew", "--name", "Tindo Quellaby", code=1)
must(blocked["blockers"] == shown(folder, job)["blockers"] and blocked["blockers"], "the refusal does not list what blocks")
refused(folder, 1, "handover", job)
refused(folder, 2, "sign", job, "--as", "neighbour", "--name", "Tindo Quellaby")
strokes = folder.write("strokes.svg", '<svg xmlns="http://www.w3.org/2000/svg"><polyline points="1,1 5,9 9,1"/></svg>')
folder.write("torn.svg", "no drawing")
refused(folder, 3, "sign", survey, "--as", "customer", "--name", "Ansa", "--strokes", folder.path / "torn.svg")
asked(folder, "sign", survey, "--as", "customer", "--name", "Ansa Velmorrin", "--refused", "not on my roof")
must(state_of(folder, survey) == "refused", "a refused survey is not refused")


def done(skip=(), then=()):
    """A whole job up to its handover: its number and what the handover says."""
    name = new_job(folder, facts())
    day = whole_day(Crew(folder, name), skip)
    must(asked(folder, "enter", name, "--from", entries_file(folder, day))["stored"] == len(day), "a day's entries")
    for words in then:
        asked(folder, words[0], name, *words[1:])
    must(state_of(folder, name) == "open", "signed without a signature")
    asked(folder, "sign", name, "--as", "crew", "--name", "Tindo Quellaby", "--strokes", strokes)
    refused(folder, 1, "handover", name, says=["sign"])
    asked(folder, "sign", name, "--as", "customer", "--name", "Ansa Velmorrin")
    must(state_of(folder, name) == "signed", "not signed")
    return name, asked(folder, "handover", name, "--out", folder.path / f"{name}.pdf", document="handover")


full, handed = done()
must(handed["state"] == "full" and state_of(folder, full) == "handed over", f"{handed}")
report = pathlib.Path(handed["report"])
must(run("sha256sum", report).stdout.split()[0] == handed["sha256"], "the hash is not that of the file")
part, held = done(["outlet-temp"], [["defer", "outlet-temp", *deferral, "--owner", "Ode Brannick"]])
must(held["state"] == "restricted" and state_of(folder, part) == "restricted", f"{held}")

# ---- post: what waits, a server that does not answer, messages as files
post = asked(folder, "post", "list", document="post list")["messages"]
must({m["message"] for m in post} == {handed["message"], held["message"]}, f"{post}")
must(all((m["state"], m["tries"], m["next_try"]) == ("waiting", 0, None) for m in post), f"{post}")
refused(folder, 2, "post", "send", says=["--server"])
# Port 1 on the loopback address answers nobody.
must(folder.run("post", "send", "--server", "smtp://127.0.0.1:1").code == 4, "a message was sent to nobody")
codes.setdefault(4, set()).add("post send")
post = asked(folder, "post", "list", document="post list")["messages"]
must(all(m["tries"] == 1 and m["next_try"] and m["last_answer"] for m in post), f"{post}")
asked(folder, "post", "save", folder.path / "mails")
must(len(list((folder.path / "mails").glob("*.eml"))) == 2, "post save")

# ---- attest: report, bundle and journal, as they were written and changed
told = asked(folder, "attest", report, document="attest")
must((told["genuine"], told["job"], told["in_journal"], told["signed_at"]) == (True, full, True, folder.now()), f"{told}")
must(asked(Folder(), "attest", report, document="attest")["in_journal"] is None, "in no journal, yet found there")
bundle = folder.path / "day.bundle"
packed = asked(folder, "pack", bundle, document="pack")
must(packed["bundle"] == str(bundle) and packed["attachments"] > 0, f"{packed}")
must(asked(folder, "attest", bundle, document="attest")["genuine"], "the bundle is not genuine")
for good in (report, bundle):
    spoilt = bytearray(good.read_bytes())
    spoilt[len(spoilt) // 2] ^= 1
    changed = folder.path / f"changed{good.suffix}"
    changed.write_bytes(spoilt)
    told = asked(folder, "attest", changed, code=1, document="attest")
    must(told["genuine"] is False and told["reasons"], f"{told}")
refused(folder, 3, "attest", folder.path / "none.pdf")
refused(folder, 2, "attest")

# ---- pack and unpack: new, known, incomplete, changed, in conflict
elsewhere = Folder()
told = asked(elsewhere, "unpack", bundle, document="unpack")
must((told["new_entries"], told["known_entries"]) == (packed["entries"], 0), f"{told}")
told = asked(elsewhere, "unpack", bundle, document="unpack")
must((told["new_entries"], told["known_entries"]) == (0, packed["entries"]), f"{told}")
head = asked(folder, "attest", "--journal", document="attest --journal")["devices"][0]["head"]
keep = asked(folder, "enter", less, "coll-tilt", "35", document="enter")["entry"]
asked(elsewhere, "enter", less, "coll-tilt", "41", code=1, document="enter")
asked(elsewhere, "pack", elsewhere.path / "there.bundle", document="pack")
told = asked(folder, "unpack", elsewhere.path / "there.bundle", document="unpack")
must([(c["job"], c["check"]) for c in told["conflicts"]] == [(less, "coll-tilt")], f"{told}")
must("coll-tilt" in [b["check"] for b in shown(folder, less)["blockers"]], "a conflict does not block")
asked(folder, "resolve", less, "coll-tilt", "--keep", keep)
must(check_of(folder, less, "coll-tilt")["outcome"] == "conforms", "the kept reading does not stand")
asked(folder, "pack", folder.path / "rest.bundle", "--since", head, document="pack")
asked(Folder(), "unpack", folder.path / "rest.bundle", code=1, document="unpack refused")
asked(Folder(), "unpack", folder.path / "changed.bundle", code=1, document="unpack refused")
refused(folder, 4, "pack", folder.path / "house.toml/day.bundle", says=["house.toml"])
broken = Folder()
new_job(broken, facts())
with sqlite3.connect(broken.data / "journal.db") as journal:
    journal.execute("update entry set body=replace(body,'clay-tile','slate')")
told = asked(broken, "attest", "--journal", code=1, document="attest --journal")
must(told["genuine"] is False and told["reasons"], f"{told}")

# ---- week: a crew that fails where another does not; fewer than eight jobs each are not compared
season = Folder()
for crew, tilt, batch in (("Jorvane Pellish", "41", "RV-K17"), ("Marrit Osseldane", "35", "RV-J04")):
    house = season.write("house.toml", facts(crew__lead=f'"{crew}"', batch__relief=f'"{batch}"'))
    for _ in range(8):
        name = season.json("job", "new", "--checklist", "commissioning", "--facts", house)["job"]
        lever = "drips" if tilt == "41" else "flows and closes"
        rows = [{"check": "coll-tilt", "value": tilt}, {"check": "relief-lever", "value": lever}]
        season.run("enter", name, "--from", entries_file(season, rows), expect=1 if tilt == "41" else 0)
        season.minutes += 1
week = asked(season, "week", "2026-W48", document="week")
must(week["week"] == "2026-W48" and week["jobs"] == 16 and week["results"] == 32, f"{week}")
named = [f["subject"] for f in week["findings"] if f["check"] == "coll-tilt" and f["kind"].startswith("crew")]
must(named == ["Jorvane Pellish"], f"{week['findings']}")
asked(season, "week", "2026-W52", document="week")
must(asked(season, "week", "--list") == {"weeks": ["2026-W48"]}, "week --list")
must(season.run("week", "--list", expect=0).out == "2026-W48\n", "week --list")
refused(season, 2, "week", "tuesday", says=["tuesday"])

# ---- lint
asked(folder, "lint", *sorted((ROOT / "checklists").glob("*.toml")), document="lint")
kit = (ROOT / "checklists/kit.toml").read_text(encoding="utf-8")
idle = folder.write("idle.toml", kit + '\n[[stage]]\nid = "K9"\ntitle = "Nothing"\nminutes = 1\n')
told = asked(folder, "lint", idle, document="lint")
must([f["severity"] for f in told["files"][0]["findings"]] == ["advice"], f"{told}")
told = asked(folder, "lint", ROOT / "checklists/kit.toml", folder.write("bad.toml", kit.replace("title =", "titel =", 1)), code=1,
             document="lint")
must(len(told["files"]) == 2 and told["files"][1]["findings"][0]["severity"] == "error", f"{told}")

# ---- work-out
told = asked(folder, "work-out", "mixing", "tm=45 degC", "th=60 °C", "tc=10 °C", document="work-out")
must(told["outputs"]["x"] == {"value": 0.7, "unit": ""} and told["inputs"]["tm"] == {"value": 45, "unit": "°C"}, f"{told}")
for words, value in (["air-test-temperature", "p1=1.5 bar(g)", "t1=20 °C", "t2=22 °C", "pa1=100 kPa", "pa2=100 kPa"],
                     ("p1", 150)), (["savings", "f=0.6", "L=3 kWh", "tariff=0.2 1/kWh", "C0=0", "n=10 a"], ("L", [1.08e7])):
    told = asked(folder, "work-out", *words, document="work-out")
    must(told["inputs"][value[0]]["value"] == value[1], f"{words}: {told}")
asked(folder, "work-out", "--list", document="work-out --list")
refused(folder, 2, "work-out", "mixing", "tm=45 °C", says=["th"])
refused(folder, 2, "work-out", "nothing")
refused(folder, 3, "work-out", "mixing", "tm=45 kPa", "th=60 °C", "tc=10 °C", says=["kPa"])

# ---- demo
demo = folder.path / "demo"
asked(folder, "demo", "--into", demo)
must(asked(folder, "attest", demo / "report.pdf", document="attest")["genuine"], "the demo's report")
must(b"application/pdf" in (demo / "message.eml").read_bytes(), "the demo's message")
refused(folder, 4, "demo", "--into", demo)
refused(folder, 2, "demo", "--weeks", "many", "--into", folder.path / "many")

# ---- a customer is forgotten: words go, what was read and how it was judged stay
taken = lambda: [(c["id"], c["outcome"]) for c in shown(folder, full)["checks"] if c["readings"]]
outcomes = taken()
asked(folder, "erase-customer", full)
must("Velmorrin" not in json.dumps(shown(folder, full)), "the customer's name is still shown")
must(taken() == outcomes, "outcomes went with the customer")
must(asked(folder, "attest", "--journal", document="attest --journal")["genuine"], "the journal no longer verifies")

# ---- wrong use
for words in (["job"], ["job", "lst"], ["brew"], ["job", "list", "--colour"], ["job", "list", "--at", "noon"],
              ["job", "new", "--checklist", "shed", "--facts", folder.path / "house.toml"]):
    refused(folder, 2, *words)

# ---- nothing of the contract went unseen, and the table notices what is left out or changed
must(contract.not_met() == [], f"never filled: {contract.not_met()}")
# The other states of a message need a server: the check of the mail has one.
missing = {row: words for row, words in contract.words_not_met().items() if not row.startswith("post list")}
must(missing == {}, f"listed words never met: {missing}")
must(contract.toothless() == [], f"unnoticed: {contract.toothless()}")
for code in range(5):
    must(len(codes.get(code, ())) >= 2, f"exit {code} was seen of {codes.get(code)}")
print(f"{len(contract.met)} fields, exit codes 0 to 4, all as the contract says")
