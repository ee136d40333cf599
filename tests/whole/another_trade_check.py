"""Another trade is content alone: the program as it is built leads a heat pump from its plate to the week by the files of
another_trade/, which know no solar word; then beside the shipped lists. The outcomes expected were worked out by hand from the
texts of the list, as its examples are."""
import json, os, pathlib, re, shutil, tempfile

from program import PROGRAM, ROOT, Folder, must, run

TRADE = ROOT / "tests/whole/another_trade"
LISTS = TRADE / "checklists"
WEEK = "2026-W48"

# Only what this house and this trade have: no roof, no collector, no store of the shipped trade.
FACTS = {
    "job.kind": '"new"', "customer.name": '"Ansa Velmorrin"', "customer.email": '"ansa@example.org"', "customer.vulnerable": "false",
    "customer.photo_leave": "false", "site.address": '"14 Dovetail Steps"', "site.street": '"Dovetail Steps"', "house.taps": "2",
    "elec.rcd_ma": "30", "crew.lead": '"Tindo Quellaby"', "crew.members": '"Tindo Quellaby, Ode Brannick"',
}
TOOLS = [("PG-1", "pressure gauge", "2 kPa", "4 kPa"), ("TH-1", "two-channel thermometer", "0.1 K", "0.6 K"),
         ("FM-1", "flow meter", "0.1 L/min", "0.5 L/min"), ("TP-1", "tape", "1 mm", "1 mm"), ("PC-1", "precharge gauge", "5 kPa", "10 kPa"),
         ("ET-2", "insulation tester", "0.1 MΩ", "10 %"), ("ET-3", "rcd tester", "1 ms", "10 ms")]

FALLS = "0 min=300 kPa; 10 min=297; 20 min=295; 30 min=292"
HOLDS = "0 min=300 kPa; 10 min=299; 20 min=299; 30 min=298"
SPREAD = "0 min: flow=25 °C, return=24 °C; 5 min: flow=30, return=26; 10 min: flow=33, return=28; 15 min: flow=34, return=29; 20 min: flow=35, return=30"
# Check, what is entered, exit code, outcome.
DAY = [
    ("pump-refrigerant", ["A3"], 0, "conforms"),
    ("pump-openings", ["600 mm"], 1, "does not conform"),
    ("pump-flow-least", ["18 L/min"], 0, "conforms"),
    ("pump-hold", [FALLS], 1, "inconclusive"),
    ("pump-hold", [HOLDS], 0, "conforms"),
    ("pump-height", ["5 m"], 0, "conforms"),
    ("pump-vessel", ["75 kPa"], 0, "conforms"),
    ("pump-insulation", ["1.05 MΩ"], 1, "inconclusive"),
    ("pump-insulation", ["60 MΩ"], 0, "conforms"),
    ("pump-rcd", ["28 ms"], 0, "conforms"),
    ("pump-flow", ["12 L/min"], 1, "does not conform"),
    ("pump-spread", [SPREAD], 0, "conforms"),
    ("pump-tap", ["46.5 °C", "--place", "1"], 0, "open"),
    ("pump-tap", ["47 °C", "--place", "2"], 0, "conforms"),
    ("pump-shown", ["all five"], 0, "conforms"),
]


def facts(**changes):
    table = FACTS | {key.replace("__", "."): value for key, value in changes.items()}
    return "".join(f"{key} = {value}\n" for key, value in table.items()) + "".join(
        f'[[inst]]\nid = "{name}"\ntype = "{kind}"\nres = "{res}"\nu = "{u}"\ncal_date = 2026-06-30\ncal_due = 2027-06-30\n'
        for name, kind, res, u in TOOLS)


def linted(folder):
    for name in ("heat-pump", "cautions", "instruments"):
        done = run(PROGRAM, "lint", folder / f"{name}.toml", "--json")
        report = json.loads(done.stdout)["files"][0]
        must(done.returncode == 0 and not report["findings"], f"{name}: {report['findings']}")


def check_of(folder, job, name):
    return next(c for c in folder.json("job", "show", job)["checks"] if c["id"] == name)


def worked_through(folder, job):
    for name, words, code, outcome in DAY:
        folder.minutes += 3
        answer = folder.run("enter", job, name, *words, "--json")
        must(answer.code == code and answer.json["outcome"] == outcome, f"{name} {words}: exit {answer.code}\n{answer.out}{answer.err}")


# What keeps the two trades apart: no word of the shipped one in these files.
for file in LISTS.iterdir():
    strange = re.findall(r"(?i)\b(?:solar|collector|thermosiphon|roof tank)\w*", file.read_text(encoding="utf-8"))
    must(not strange, f"{file.name} speaks of the shipped trade: {strange}")

os.environ["WITNESSMARK_SHARE"] = str(TRADE)
linted(LISTS)
folder = Folder()
job = folder.json("job", "new", "--checklist", "heat-pump", "--facts", folder.write("house.toml", facts()))["job"]

# What a slip is, this list says too: too large to be true is asked about, another quantity is refused.
for name, words, says in (("pump-flow-least", "180 L/min", "outside what is plausible"), ("pump-vessel", "75 °C", "pressure")):
    slip = folder.run("enter", job, name, words, "--json", expect=3)
    must(says in slip.json["problem"]["what"], slip.out)
early = check_of(folder, job, "pump-flow")
must(early["outcome"] == "open" and early["tolerance"]["low"] is None, f"judged by a flow nobody has read: {early}")

worked_through(folder, job)
must(check_of(folder, job, "pump-flow")["tolerance"]["low"]["value"] == 18, "the value of another check is not the limit")
refused = folder.json("sign", job, "--as", "crew", "--name", "Tindo Quellaby", expect=1)
blockers = {b["check"]: b["outcome"] for b in refused["blockers"]}
must(blockers == {"pump-openings": "does not conform", "pump-flow": "does not conform"}, blockers)
must(folder.run("concede", job, "pump-openings", "--by", "Odrun Vassamy", "--why", "no").code == 1, "a concession where gas can gather")
for name, value, done in (("pump-openings", "1400 mm", "Moved the unit along the wall"), ("pump-flow", "21.5 L/min", "Cleaned the filter")):
    folder.minutes += 5
    must(folder.json("correct", job, name, value, "--done", done)["outcome"] == "conforms", name)
for role, name in (("crew", "Tindo Quellaby"), ("customer", "Ansa Velmorrin")):
    folder.run("sign", job, "--as", role, "--name", name, expect=0)
report = folder.path / "report.pdf"
must(folder.json("handover", job, "--out", report)["state"] == "full", "not handed over in full")

seen = folder.json("attest", report)
must(seen["genuine"] and seen["in_journal"], seen)
must("Signature is Valid" in run("pdfsig", report).stdout, "the seal of the report")
altered = bytearray(report.read_bytes())
altered[len(altered) // 2] ^= 1
must(folder.run("attest", folder.write("altered.pdf", ""), "--json").code != 0, "an empty file is genuine")
(folder.path / "altered.pdf").write_bytes(altered)
must(folder.run("attest", folder.path / "altered.pdf").code == 1, "an altered report is genuine")
text = re.sub(r"\s+", " ", run("pdftotext", "-layout", report, "-").stdout)
for wanted in ("600 mm", "Moved the unit along the wall", "12 L/min", "Cleaned the filter", "Distance to openings", "1.05 MΩ", "Gas that burns",
               "ISO 817", "flow meter"):
    must(wanted in text, f"the report hides \"{wanted}\"")

week = folder.json("week", WEEK)
failed = {row["check"]: (row["failed"], row["tries"]) for row in week["failed"] if row["failed"]}
must(week["jobs"] == 1 and failed == {"pump-openings": (1, 1), "pump-flow": (1, 1)}, week["failed"])
severe = {(row["check"], row["corrected"]) for row in week["severe"]}
must(severe == {("pump-openings", True), ("pump-insulation", True)}, week["severe"])

# A gas that does not burn asks for no distance: the answer of one check decides whether another is asked.
second = folder.json("job", "new", "--checklist", "heat-pump", "--facts", folder.write("second.toml", facts(elec__rcd_ma="0")))["job"]
must(check_of(folder, second, "pump-openings")["outcome"] == "open", "asked for before the gas is known")
folder.run("enter", second, "pump-refrigerant", "A1", expect=0)
for name in ("pump-openings", "pump-rcd"):
    must(check_of(folder, second, name)["outcome"] == "not applicable", name)

# The list travels with its job: a desk of the shipped trade alone shows it and judges by it.
bundle = folder.path / "monday.bundle"
folder.json("pack", bundle)
os.environ["WITNESSMARK_SHARE"] = str(ROOT)
office = Folder(start="2026-11-26T09:00:00+05:00")
office.json("unpack", bundle)
must(office.json("job", "show", job)["state"] == "handed over", "the job did not travel")
answer = office.run("enter", second, "pump-flow-least", "18 L/min", "--json")
must(answer.code == 0 and answer.json["outcome"] == "conforms", answer.out + answer.err)

# Beside the shipped lists, with cautions, tools and sources put together in their two files.
with tempfile.TemporaryDirectory() as share:
    both = pathlib.Path(share) / "checklists"
    shutil.copytree(ROOT / "checklists", both)
    shutil.copytree(ROOT / "assets", pathlib.Path(share) / "assets", ignore=shutil.ignore_patterns("*.png"))
    shutil.copy(LISTS / "heat-pump.toml", both)
    for name, key in (("cautions.toml", "id"), ("instruments.toml", "(?:id|mark|name)")):
        there = (both / name).read_text(encoding="utf-8")
        blocks = re.split(r"(?m)^(?=\[\[)", (LISTS / name).read_text(encoding="utf-8"))[1:]
        new = [b for b in blocks if re.search(rf'(?m)^{key} = ".*"$', b).group(0) not in there]
        must(new, f"nothing of {name} is new")
        (both / name).write_text(there + "\n" + "".join(new), encoding="utf-8")
    os.environ["WITNESSMARK_SHARE"] = share
    linted(both)
    for name in ("survey", "kit", "commissioning", "service"):
        done = run(PROGRAM, "lint", both / f"{name}.toml")
        must(done.returncode == 0, f"{name} beside another trade: {done.stdout}")
    firm = Folder()
    one = firm.json("job", "new", "--checklist", "heat-pump", "--facts", firm.write("house.toml", facts()))["job"]
    worked_through(firm, one)
    other = firm.json("job", "new", "--checklist", "commissioning", "--facts", firm.path / "house.toml")["job"]
    firm.run("enter", other, "fall-protection", "yes", expect=0)
    week = firm.json("week", WEEK)
    must(week["jobs"] == 2, f"the two trades are not in one week: {week['jobs']}")
print("another trade is led, judged, signed, sealed and counted by its content alone, also beside the shipped lists")
