"""The report of a survey, from the checks to the words on the paper: not suited, suited with conditions, and what the sun may bring."""
import re

from program import Folder, must, run
from survey_made import HORIZON, answer_all, opened, signed

folder = Folder()


def printed(pdf):
    return " ".join(run("pdftotext", "-layout", pdf, "-").stdout.split())


def says(text, *wanted):
    for words in wanted:
        must(words in text, f"the paper does not say \"{words}\":\n{text}")


# ---- while a check is open there is no report
job = opened(folder)
early = folder.run("survey-report", job, "--out", folder.path / "early.pdf", expect=1)
must("The survey is not finished" in early.err and not (folder.path / "early.pdf").exists(), early.err)

# ---- not suited: what stands in the way, what would cure it, and no date
signed(folder, job, "customer")
answer_all(folder, job, {"lift-plan": "carried on a ladder", "heater-relief": "blocked", "sun-pitch": "7.5°"})
draft = folder.path / "draft.pdf"
folder.run("survey-report", job, "--out", draft, expect=0)
says(printed(draft), "DRAFT: nobody has signed this yet.")
must(folder.run("attest", draft).code == 1, "a draft is attested")
signed(folder, job, "crew")
paper = folder.path / "not-suited.pdf"
told = folder.json("survey-report", job, "--out", paper)
must(told["verdict"] == "not suited" and {row["check"] for row in told["blocking"]} == {"lift-plan", "heater-relief"}, told)
must("sun-pitch" in {row["check"] for row in told["conditions"]}, told["conditions"])
text = printed(paper)
says(text, "Not suited as it is now", "We may not set a date yet.", "We hire a lift.", "Leave the heater off until it is put right.",
     "We plan a frame that leans as it should.", "What happens next?", "14 Dovetail Steps, Ostervaun", "Piet-Anouk Harrowell")
must("DRAFT" not in text and "agree on a day" not in text, text)
must(run("pdfinfo", paper).stdout.count("Pages:") == 1, "pdfinfo cannot read the paper")
must(int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", paper).stdout)[1]) <= 2, "more than two pages")
must(run("qpdf", "--check", paper).returncode == 0, "qpdf finds a fault")
must(folder.run("attest", paper).code == 0, "the paper is not genuine")
spoilt = bytearray(paper.read_bytes())
spoilt[len(spoilt) // 3] ^= 1
(folder.path / "spoilt.pdf").write_bytes(bytes(spoilt))
must(folder.run("attest", folder.path / "spoilt.pdf").code == 1, "a changed byte was not noticed")
day = folder.run("job", "new", "--checklist", "commissioning", "--after", job, "--facts", folder.write("day.toml", "[job]\ndate = 2027-03-20\n"))
must(day.code == 1 and "No day is set for this house yet. Not suited" in day.err, f"a day was set: {day.out}{day.err}")

# ---- without a horizon line the shade of the worst month counts, and there is no chart
must(told["shade"] == [] and told["shade_read"] == 4, told)
says(text, "4 of 100 parts of this place lie in it")
must(told["sun_in_a_year"] and told["sun_in_a_year"] in text and "no promise" in text, told["sun_in_a_year"])

# ---- with conditions, and with the line of hills and trees: shade by month, and less sun
second = opened(folder, site__horizon=HORIZON)
signed(folder, second, "customer")
answer_all(folder, second, {"sun-pitch": "7.5°"})
signed(folder, second, "crew")
hilly = folder.json("survey-report", second, "--out", folder.path / "hilly.pdf")
must(hilly["verdict"] == "suited with conditions" and not hilly["blocking"], hilly)
shares = {row["month"]: row["share"] for row in hilly["shade"]}
must(len(shares) == 12 and all(0 < share < 1 for share in shares.values()), shares)
# The sun of December rises later and lower than that of June: behind the same ridge it loses a larger share.
must(shares["Dec"] > shares["Jun"], shares)
high = lambda report: sum(row["high_kwh"] for row in report["months"])
must(high(hilly) < high(told), "the ridge takes no sun")
text = printed(folder.path / "hilly.pdf")
says(text, "Suited, with conditions", "A date can be set.", "The chart shows what hills, trees and houses take")
for month in ("Jan", "Jun", "Dec"):
    says(text, month)
folder.run("job", "new", "--checklist", "commissioning", "--after", second, "--facts", folder.path / "day.toml", expect=0)

# ---- a line that is none is refused, and one can be stated later
bad = folder.run("job", "facts", second, "--set", "site.horizon=90-12", expect=3)
must("is no pair" in bad.err, bad.err)
print("a survey report: two verdicts, draft and seal, 12 months of shade, and no date where something blocks")
