"""A part whose plate names another article than the list of parts wants: said at once, and asked about on the roof until it is swapped."""
import os, shutil

from program import ROOT, Crew, Folder, facts, must

folder = Folder()
# The shipped list names no article: a company writes its own. The checklists lie beside it, and what else the program reads of its share folder.
share = folder.path / "share"
shutil.copytree(ROOT / "checklists", share / "checklists")
parts = share / "checklists/parts.toml"
text = parts.read_text(encoding="utf-8")
for part, wanted in (("store", '["TK 150", "09506000134352"]'), ("relief", '["RV 600"]')):
    row = f'id = "{part}"\n'
    must(text.count(row) == 1, f"no part {part}")
    text = text.replace(row, f"{row}article = {wanted}\n")
parts.write_text(text, encoding="utf-8")
os.environ["WITNESSMARK_SHARE"] = str(share)

job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
crew = Crew(folder, job)


def tick(part, *more, expect):
    return folder.json("parts", "tick", job, part, "--place", "van", *more, expect=expect)["ticked"][0]


def asked():
    return {check["id"] for check in crew.show()["checks"] if any("its plate says" in words for words in check["beforehand"])}


# ---- one that is wanted, by model in other letters or by number without the zero before it
must(tick("store", "--article", "tk 150", "--serial", "ST-1", expect=0)["van"]["said"] == "there", "the model is wanted")
must(tick("store", "--article", "9506000134352", expect=0)["van"]["said"] == "there", "the number is wanted")
must(not asked(), asked())

# ---- another: no tick makes it the wanted one
wrong = tick("store", "--article", "TK 200", expect=1)
must(wrong["van"]["said"] == "changed" and "its plate says TK 200, wanted is TK 150 or 09506000134352" in wrong["van"]["words"], wrong)
must(any("Does it fit here?" in words for words in wrong["in_doubt"]), wrong)
must(asked() == {"goods-scan", "tank-level"}, f"asked at {asked()}")
must(any("its plate says TK 200" in words for words in crew.show()["questions"]), "the questions of the job")

# ---- a part of which the list names no article takes any
must(tick("collector", "--article", "whatever", expect=0)["van"]["said"] == "there", "the list wants no article")

# ---- swapped: nobody asks any more, and both ticks stay on record
tick("store", "--article", "TK 150", expect=0)
must(not asked(), asked())
must(folder.json("attest", "--journal")["genuine"] is True, "the journal")

# ---- an article belongs to one part, and a list that names an empty one is refused
must(folder.run("parts", "tick", job, "store", "relief", "--place", "van", "--article", "TK 150").code == 2, "one article for two parts")
parts.write_text(text.replace('article = ["RV 600"]', 'article = [" "]'), encoding="utf-8")
empty = folder.run("parts", job)
must(empty.code == 3 and "names an article without a word" in empty.err, f"{empty.code} {empty.err}")
print("an article: two ways to name the wanted one, another one asked about at 2 checks until it was swapped")
