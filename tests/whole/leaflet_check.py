"""The leaflet for the household, from the readings of a job to the words that a reader of PDFs finds on the paper."""
import re

from program import Crew, Folder, facts, must, run

folder = Folder()


def opened(**more):
    return folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("house.toml", facts(**more)))["job"]


def printed(pdf):
    return " ".join(run("pdftotext", "-raw", pdf, "-").stdout.split())


def says(text, *wanted):
    for words in wanted:
        must(words in text, f"the paper does not say \"{words}\":\n{text}")


def silent(text, *unwanted):
    for words in unwanted:
        must(words not in text, f"the paper says \"{words}\":\n{text}")


def one_sheet(pdf):
    must(int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", pdf).stdout)[1]) <= 2, f"{pdf} is more than one sheet")
    must(run("qpdf", "--check", pdf).returncode == 0, f"qpdf finds a fault in {pdf}")


# ---- an indirect set under mains pressure: a draft first, then as it was read
job = opened()
draft = folder.path / "draft.pdf"
folder.run("leaflet", job, "--out", draft, expect=0)
one_sheet(draft)
says(printed(draft), "Draft: not finished yet", "not on record", "Nobody has measured your taps.", "Nobody has noted that you were shown all seven things yet.")

crew = Crew(folder, job)
crew.do_all(skip=("thermostat-60",))
crew.enter(crew.check("thermostat-60"), "", "62.5 °C")
crew.enter(crew.check("pressure-limit-set"), "", "350 kPa")
crew.enter(crew.check("expansion-room"), "", "relief drip to a seen drain")
crew.enter(crew.check("customer-said"), "", "The red tap under the stairs is the water.")
for role, name in (("crew", "Tindo Quellaby"), ("customer", "Ansa Velmorrin")):
    folder.run("sign", job, "--as", role, "--name", name, expect=0)
paper = folder.path / "leaflet.pdf"
told = folder.json("leaflet", job, "--out", paper)
one_sheet(paper)
text = printed(paper)
says(text, "How to live with your set", "62.5 °C", "350 kPa (3.5 bar)", "600 kPa (6 bar)", "A few drops at the safety pipe while the sun heats.",
     "The red tap under the stairs is the water.", "Never refill the loop yourself.", "We showed you how to shut the water and the power",
     "Only a person with a licence", "DANGER", "WARNING", "The coldest air here in 20 years was -13 °C.")
silent(text, "open pipe", "small box", "Nobody has", "Draft", "not on record", "guarantee")
values = {row["what"]: row["value"] for row in told["settings"]}
must(values["Electric heater"] == "62.5 °C" and values["Water pressure"] == "350 kPa (3.5 bar)", values)
for row in told["settings"]:
    says(text, row["value"])
freezes = next(r["text"] for r in crew.check("loop-freeze-point")["readings"])
must(values["The fluid freezes at"].split()[0].replace("−", "-") in freezes, f"{values} {freezes}")
again = folder.path / "again.pdf"
folder.run("leaflet", job, "--out", again, expect=0)
must(printed(again) == text, "the same record gives other words")

# ---- a direct, vented set with a clock, where it does not freeze
other = opened(sys__kind='"direct"', sys__feed='"vented"', sys__controller='"temperature-and-timer"', site__frost_class='"none"',
               customer__vulnerable="true")
direct = folder.path / "direct.pdf"
folder.run("leaflet", other, "--out", direct, expect=0)
one_sheet(direct)
text = printed(direct)
says(text, "gets warm in the glass box itself", "Never close the open pipe.", "after the hours of sun", "Frost is not usual here.",
     "Hot water burns the young and the old")
silent(text, "fluid", "safety pipe", "Water pressure")
print("a leaflet: two kinds of set on one sheet each, with what was read and what the household said")
