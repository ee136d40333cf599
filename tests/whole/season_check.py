"""A season of six crews with planted patterns: the week audit shows what was planted and accuses nobody else."""
import datetime, json, os, pathlib, tempfile

from program import PROGRAM, must, run

# The seed is pinned to a season in which chance hides none of what is planted.
SEED = 319
# What the demo plants, and the week by which it is to be found (the truth list of the demo: invented, no source).
# A finding or a question: kind, subject, check, week; an empty word is any.
PLANTED = (("P1", "crew and check", "Jorvane Pellish", "ins-ends", 16),
           ("P2", "instrument drift", "PG-4", "pressure-limit-set", 17),
           ("P3", "batch and check", "relief valve RV-K17", "relief-lever", 17),
           ("P4", "batch and check", "fluid PGC-0777", "loop-freeze-point", 21),
           ("P5 neighbours", "neighbours differ", "Millpond Hollow", "", 6),
           ("P5 burst", "complaint and survey", "Millpond Hollow", "", 15),
           ("P7", "crew, check and household", "Marrit Osseldane", "outlet-temp", 23),
           ("P8", "equal readings", "Ilka Trosmere", "anchor-torque", 13))
# Each week by which something is to be found, one before it for what is told in its week only, and the last; WM_ALL_WEEKS asks for
# every one.
ASKED = (2, 4, 6, 9, 12, 13, 14, 15, 16, 17, 21, 23, 24, 26)
# Crew 5 works on slate, where a cracked back is common for everybody; crew 1 does most jobs; one home was a bad delivery; in
# the festival week little was done.
DECOYS = ("covering-back", "hook-gap", "coll-cross-rise", "tank-level", "ins-wall", "air-purged", "element-res", "drain-low")


def name_of(number):
    """The ISO week of the season's week 1 to 26."""
    return f"{datetime.date(2026, 7, 6) + datetime.timedelta(weeks=number - 1):%G-W%V}"


with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder) / "season"
    made = run(PROGRAM, "demo", "--into", folder, "--weeks", 26, "--seed", SEED, "--json")
    must(made.returncode == 0, made.stderr)
    weeks = {}
    for number in range(1, 27) if os.environ.get("WM_ALL_WEEKS") else ASKED:
        told = run(PROGRAM, "week", name_of(number), "--data", folder, "--json")
        must(told.returncode == 0, told.stderr)
        weeks[number] = json.loads(told.stdout)
    found, others = {}, []
    for number, week in weeks.items():
        for said in week["findings"] + week["questions"]:
            for pattern, kind, subject, check, _ in PLANTED:
                if said["kind"] == kind and said["subject"] == subject and check in ("", said["check"]):
                    found.setdefault(pattern, number)
                    break
            else:
                others.append((number, said["kind"], said["subject"], said["check"], said["sentence"]))
        for call in week["complaints"]:
            if "frost-cold-feed" in [gap["check"] for gap in call["unproved"]]:
                found.setdefault("P6", number)
        if week["ageing"] and week["ageing"][0]["crew"] == "Wend Karradoc" and len(week["ageing"][0]["jobs"]) >= 3:
            found.setdefault("P9", number)
    for pattern, by in [(row[0], row[4]) for row in PLANTED] + [("P6", 24), ("P9", 9)]:
        must(found.get(pattern, 99) <= by, f"{pattern}: expected by week {by}, found in week {found.get(pattern)}: {found}")
    print("found in week:", found)

    # What else is said is planted too, in another view of it, or names nobody.
    same = {("crew and deferrals", "Wend Karradoc"), ("pace", "Ilka Trosmere"), ("one photo twice", "Ilka Trosmere"),
            ("crew and check", "Marrit Osseldane"), ("complaints and check", "")}
    for number, kind, subject, check, sentence in others:
        recent = kind == "recent weeks and check" and check == "loop-freeze-point"
        must((kind, subject) in same or recent, f"week {number}: {sentence}")
        # One photo under two jobs may stand under any check.
        must((check not in DECOYS or kind == "one photo twice") and subject != "Tindo Quellaby", f"a decoy was blamed in week {number}: {sentence}")

    last = weeks[26]
    findings = last["findings"]
    for hit in findings:
        if hit["kind"] not in ("instrument drift", "crew and deferrals", "complaints and check"):
            must(0 < hit["failed"] <= hit["tries"] and len(hit["jobs"]) == hit["failed"], f"{hit} does not add up")
        must(hit["q"] <= 0.02 and hit["what_to_do"], f"{hit}")
    for week in weeks.values():
        must(all(row["forgotten"] <= row["open"] <= row["put_off"] for row in week["ageing"]), f"ageing: {week['ageing']}")

    # What is to be done: each line with what it stands on, and named. Nothing is ordered held that is not in the findings of its week.
    for number, week in weeks.items():
        must(week["to_do"] == [line["words"] for line in week["to_do_items"]], f"week {number}: {week['to_do']} and its items differ")
        for line in week["to_do_items"]:
            # A question about a device need not have a job.
            must(line["jobs"] or line["kind"] in ("more", "question", "action"), f"week {number}: {line}")
            must(line["kind"] != "finding" or any(one["subject"] == line["subject"] and one["check"] == line["check"] for one in week["findings"]), f"{line}")
    must(any("Millpond Hollow" in line for line in weeks[found["P5 neighbours"]]["to_do"]), f"{weeks[found['P5 neighbours']]['to_do']}")

    # Complaints: some are closed, each by a check that was read since and stands as right; a burst where frost was ruled out waits
    # for a new survey.
    calls = json.loads(run(PROGRAM, "complaint", "list", "--data", folder, "--json").stdout)["complaints"]
    closed = [call for call in calls if not call["open"]]
    must(closed and len(closed) < len(calls), f"{len(closed)} of {len(calls)} complaints are closed")
    must(json.loads(made.stdout)["complaints_closed"] == len(closed), made.stdout)
    for call in closed:
        must(call["check"] and call["proved_in"] and call["cause"] and call["closed_at"] > call["told_at"], f"{call}")
        shown = json.loads(run(PROGRAM, "job", "show", call["job"], "--data", folder, "--json").stdout)
        check = next(one for one in shown["checks"] if one["id"] == call["check"])
        must(check["outcome"] == "conforms", f"{call['complaint']}: {check['outcome']}")
        must(any(reading["at"] > call["told_at"] for reading in check["readings"]), f"{call['complaint']} was closed by what was read before")

    # The letter of the week opens and says the same.
    letter = pathlib.Path(folder) / "week.pdf"
    done = run(PROGRAM, "week", name_of(26), "--data", folder, "--pdf", letter)
    must(done.returncode == 0, done.stderr)
    text = " ".join(run("pdftotext", "-layout", letter, "-").stdout.split())
    # By the figures of whichever finding stands first: its sentence is broken into lines there.
    first = findings[0]
    must(first["subject"] in text and f"in {first['failed']} of {first['tries']}" in text,
         f"the letter does not name the first finding, {first['sentence']}:\n" + text[:1500])
print("the planted season: nine patterns found in their weeks, no decoy blamed")
