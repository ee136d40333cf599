"""A direct set on slate for a vulnerable household: refused with exactly its faults, corrected, handed over restricted."""
from program import Crew, Folder, INSTRUMENTS, facts, must, run

folder = Folder()
coarse = [(n, k, r, "6 kPa" if n == "PG-1" else u) for n, k, r, u in INSTRUMENTS]
coarse.append(("PG-9", "pressure gauge", "20 kPa", "40 kPa"))
coarse.append(("TW-9", "torque wrench", "0.1 N·m", "0.5 N·m"))
text = facts(coarse, due={"TW-9": "2026-11-01"}, sys__kind='"direct"', roof__covering='"slate"', customer__vulnerable="true",
             site__frost_class='"none"', site__t_min_c="4", sys__jacket_l=None, sys__jacket_max_kpa=None,
             sys__jacket_relief_kpa=None, sys__fluid=None)
job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", text))["job"]
crew = Crew(folder, job)

wrong = {"tank-level": "2.4°", "coll-tilt": "41°", "valve-order": "other", "ins-uv": "no"}
special = ("test-pressure", "anchor-torque", "outlet-temp", "coll-clamps", *wrong)


def answers(name, text, *more):
    return crew.enter(crew.check(name), "", text, *more)


# Several instruments of one type: each reading names its own.
crew.do_all(skip=special + ("pressure-limit-set", "test-hold", "members-found", "nut-marks"))
for name, value in wrong.items():
    must(answers(name, value).code == 1, f"{name} {value} should not conform")
limit = crew.check("pressure-limit-set")
must(answers("pressure-limit-set", crew.value(limit), "--instrument", "PG-1").code == 0, "pressure-limit-set")
for place, value in crew.entries(crew.check("members-found")):
    crew.enter(crew.check("members-found"), place, value)
crew.enter(crew.check("nut-marks"), "", "yes")

# Coarse: inside the tolerance, but this gauge cannot tell.
high = crew.check("test-pressure")["tolerance"]["high"]["value"]
answer = answers("test-pressure", f"{high - 10:.0f} kPa", "--instrument", "PG-9")
must(answer.code == 1 and answer.json["outcome"] == "inconclusive", answer.out)
answer = answers("test-hold", Crew.SPECIAL["test-hold"], "--instrument", "PG-1")
# Past its date: no evidence, the check stays open.
for place in "1234":
    answer = crew.enter(crew.check("anchor-torque"), place, "20.1 N·m", "--instrument", "TW-9")
    must(answer.code == 1 and answer.json["outcome"] == "open", answer.out)
for place in "1234":
    must(crew.enter(crew.check("coll-clamps"), place, "12.1 N·m", "--instrument", "TW-1").code == 0, "coll-clamps")
# Deferred without an owner: blocks.
folder.run("defer", job, "outlet-temp", "--until", "2026-11-26", "--owner", "", "--why", "the heater is not hot yet", expect=0)

refusal = folder.run("sign", job, "--as", "crew", "--name", "Tindo Quellaby", "--json", expect=1)
blockers = {b["check"]: b["outcome"] for b in refusal.json["blockers"]}
expected = {"tank-level": "does not conform", "coll-tilt": "does not conform", "valve-order": "does not conform",
            "ins-uv": "does not conform", "test-pressure": "inconclusive", "anchor-torque": "open", "outlet-temp": "deferred",
            "instruments-due": "does not conform"}
must(blockers == expected, f"blockers\n{blockers}\nexpected\n{expected}")

right = {"tank-level": "0.4°", "coll-tilt": "35.5°", "valve-order": "in this order", "ins-uv": "yes"}
for name, value in right.items():
    answer = folder.run("correct", job, name, value, "--done", f"put {name} right", "--json")
    must(answer.code == 0 and answer.json["outcome"] == "conforms", answer.out + answer.err)
middle = crew.fine(crew.check("test-pressure")["tolerance"])
must(answers("test-pressure", f"{middle:.0f} kPa", "--instrument", "PG-1").json["outcome"] == "conforms", "test-pressure")
for place in "1234":
    crew.enter(crew.check("anchor-torque"), place, "20.1 N·m", "--instrument", "TW-1")
must(crew.check("anchor-torque")["outcome"] == "conforms", "anchor-torque")
folder.run("defer", job, "outlet-temp", "--until", "2026-11-26", "--owner", "Ode Brannick", "--why", "the heater is not hot yet",
           expect=0)
show = crew.show()
must(show["blockers"] == [], f"still: {show['blockers']}")
must(folder.run("concede", job, "valve-order", "--by", "Odrun Vassamy", "--why", "no").code == 1, "a concession for severity H")
folder.run("sign", job, "--as", "crew", "--name", "Tindo Quellaby", expect=0)
must(folder.run("handover", job).code == 1, "handed over without the customer's signature")
folder.run("sign", job, "--as", "customer", "--name", "Ansa Velmorrin", expect=0)
report = folder.path / "report.pdf"
handed = folder.json("handover", job, "--out", report)
must(handed["state"] == "restricted", handed)
must(crew.show()["state"] == "restricted", crew.show()["state"])
page = run("pdftotext", "-layout", "-l", "1", report, "-").stdout
must("restriction" in page and "2026-11-26" in page, "page one does not say what is restricted\n" + page)
everything = run("pdftotext", "-layout", report, "-").stdout
for wanted in ("41°", "put coll-tilt right", "2.4°", "PG-9"):
    must(wanted in everything, f"the report hides \"{wanted}\"")
print("refused with exactly its faults, corrected, handed over restricted")

# The day after: what was put off is read, and a supplement makes the handover full.
folder.start, folder.minutes = "2026-11-26T15:00:00+05:00", 0
due = folder.json("due")["due"]
must([(d["job"], d["check"], d["until"], d["owner"]) for d in due] == [(job, "outlet-temp", "2026-11-26", "Ode Brannick")], due)
must(folder.json("job", "list")["jobs"][0]["due"] == "2026-11-26", "the list does not say what is due")
late = folder.run("enter", job, "coll-tilt", "35°", "--json", expect=1)
must("nothing can be entered now" in late.json["problem"]["what"], late.out)
outlet = crew.check("outlet-temp")
first_place, text = crew.entries(outlet)[0]
must(crew.enter(outlet, first_place, "58 °C").code == 1, "a tap of 58 °C conforms")
must(folder.run("handover", job).code == 1, "a supplement although a tap scalds")
answer = folder.run("correct", job, "outlet-temp", text, "--done", "Turned the mixing valve down", *(["--place", first_place] if first_place else []))
must(answer.code == 0, answer.out + answer.err)
for place, value in crew.entries(outlet)[1:]:
    must(crew.enter(outlet, place, value).code == 0, f"outlet-temp {place}")
supplement = folder.path / "supplement.pdf"
handed_again = folder.json("handover", job, "--out", supplement)
must(handed_again["state"] == "full" and handed_again["supplement"] == 1, handed_again)
must(crew.show()["state"] == "handed over", crew.show()["state"])
must(folder.json("due")["due"] == [], "still due")
must("Signature is Valid" in run("pdfsig", supplement).stdout, "the seal of the supplement")
words = run("pdftotext", "-layout", supplement, "-").stdout
for wanted in ("supplement 1", handed["sha256"], "Turned the mixing valve down", "58 °C"):
    must(wanted in words, f"the supplement hides \"{wanted}\"\n{words}")
for file in (report, supplement):
    seen = folder.json("attest", file)
    must(seen["genuine"] and seen["in_journal"], seen)
again = folder.path / "again.pdf"
folder.run("job", "report", job, "--issue", "1", "--out", again, expect=0)
must(again.read_bytes() == report.read_bytes(), "the first report is not kept as it was")
must(folder.run("handover", job).code == 1, "handed over without news")
mail = folder.json("post", "list")["messages"]
must(len(mail) == 2 and "Supplement 1" in mail[1]["subject"], mail)
print("read on its day, and full by a supplement")
