"""The parts of a house from the store to the roof: worked out, printed, ticked by the picture of a code, asked about, answered."""
import re

from program import Crew, Folder, facts, must, run

folder = Folder()
kit = folder.json("job", "new", "--checklist", "kit", "--facts", folder.write("facts.toml", facts()))["job"]
rows = {row["part"]: row for row in folder.json("parts", kit)["parts"]}
# Two runs of the loop, a tenth more and half a metre: by hand from the facts.
runs = [float(re.search(rf"^sys\.run_{end}_m = (.+)$", facts(), re.M)[1]) for end in ("hot", "cold")]
least = 1.1 * sum(runs) + 0.5
amount = float(rows["pipe-loop"]["amount"].split()[0])
must(least <= amount + 1e-9 and amount - least < 0.1, f"{amount} m of pipe for {least} m")
must(all(row["store"] is None and row["van"] is None and not row["in_doubt"] for row in rows.values()), "ticked before anybody ticked")

# The sheet: the code beside a part, found by the words of the part, as a telephone would take it.
sheet = folder.path / "sheet.pdf"
folder.run("parts", kit, "--out", sheet, expect=0)
WORDS_X_MM = 52.0


def code_picture(name):
    """A square around the code of the part whose name begins so; pdftotext says where its words stand."""
    pages = run("pdftotext", "-bbox", sheet, "-").stdout.split("<page ")[1:]
    for number, page in enumerate(pages, 1):
        words = [(float(x), float(y), text) for x, y, text in
                 re.findall(r'<word xMin="([\d.]+)" yMin="[\d.]+" xMax="[\d.]+" yMax="([\d.]+)">([^<]*)</word>', page)]
        for i, (x, y, _) in enumerate(words):
            if abs(x / 72 * 25.4 - WORDS_X_MM) < 1.0 and " ".join(w for _, _, w in words[i:i + len(name.split())]) == name:
                dots = 300 / 25.4
                middle_x, middle_y = (WORDS_X_MM - 9.5) * dots, (y / 72 * 25.4 + 1.0) * dots
                half = 10 * dots
                picture = folder.path / "code"
                made = run("pdftoppm", "-r", 300, "-f", number, "-l", number, "-x", int(middle_x - half), "-y", int(middle_y - half),
                           "-W", int(2 * half), "-H", int(2 * half), "-png", "-singlefile", sheet, picture)
                must(made.returncode == 0, made.stderr)
                return f"{picture}.png"
    raise AssertionError(f"{name} does not stand on the sheet")


for part, name in (("vacuum-break", "Vacuum break"), ("strainer", "Strainer"), ("pipe-loop", "Copper pipe of the loop,")):
    ticked = folder.json("parts", "tick", kit, "--photo", code_picture(name), "--place", "store")["ticked"]
    must([row["part"] for row in ticked] == [part] and ticked[0]["store"]["said"] == "there", f"{ticked} for the code of {part}")
# The code of another job's sheet ticks nothing here.
other = folder.json("job", "new", "--checklist", "kit", "--facts", folder.path / "facts.toml")["job"]
folder.run("parts", "tick", other, "--photo", code_picture("Strainer"), "--place", "store", expect=1)
must(all(row["store"] is None for row in folder.json("parts", other)["parts"]), "ticked by the code of another job")

# At the van: one is missing, one is another, one is short, the rest is there.
folder.run("parts", "tick", kit, "vacuum-break", "--place", "van", "--missing", "--why", "left on the bench", expect=1)
folder.run("parts", "tick", kit, "strainer", "--place", "van", "--changed", "one of a finer mesh", expect=1)
folder.run("parts", "tick", kit, "pipe-loop", "--place", "van", "--counted", f"{least / 2:.2f} m", expect=1)
must(folder.json("parts", "tick", kit, "all", "--place", "van")["ticked"], "nothing was left to tick")
folder.run("parts", kit, "--out", sheet, expect=0)
printed = " ".join(run("pdftotext", "-layout", sheet, "-").stdout.split())
must("left on the bench" in printed, "the sheet does not show what was ticked")

# On the roof: asked at the checks concerned, and only there.
roof = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.path / "facts.toml", "--after", kit)["job"]
crew = Crew(folder, roof)


def asked():
    """Which checks ask about a part."""
    return {check["id"] for check in crew.show()["checks"] for words in check["beforehand"]
            if re.search(r"missing at the van|something else came|counted at the van", words)}


concerned = {"vacuum-break", "valve-order", "loop-rise"}
must(asked() == concerned, f"asked at {asked()}")
must(len([q for q in crew.show()["questions"] if "at the van" in q]) == 3, "the questions of the job")
# It came after all, or the check was answered: then nobody asks.
folder.run("parts", "tick", roof, "pipe-loop", "--place", "van", expect=0)
must(asked() == concerned - {"loop-rise"}, f"asked at {asked()}")
check = crew.check("vacuum-break")
must(crew.enter(check, "", crew.value(check)).code == 0, "the vacuum break")
must(asked() == {"valve-order"}, f"asked at {asked()}")

# A batch that is put on hold later is asked about where it went.
folder.run("parts", "tick", roof, "relief", "--place", "van", "--batch", "RV-Q11", expect=0)
folder.run("trace", "--batch", "RV-Q11", "--record", "--why", "two of them leak", expect=0)
must(any("RV-Q11 is on hold" in words for words in crew.check("relief-rating")["beforehand"]), "the hold is not asked about")

# Nothing of this is a new kind of entry, and the chain holds.
must(folder.json("attest", "--journal")["genuine"] is True, "the journal")
print(f"{len(rows)} parts, 3 by the picture of their code; {len(concerned)} checks asked")
