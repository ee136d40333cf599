"""What one would use instead, measured: paper and a spreadsheet, a generic form, scripts of one's own, each beside the program.

The same slips of the hand are made at every number of one commissioning job. What the program says is asked of the program. The
other ways are modelled, and the model errs to their side: a cell that holds both limits rightly says so at once and never goes
wrong, a form refuses letters in a field of numbers, a script holds what the cell holds. Time is the keystroke-level model of
tests/app/handling_time.hpp; a hand writes 22 words of five letters a minute (copying, from memory).

assets/guide/instead.md holds the table; `--table` prints it, and without it each row must stand there as it was measured.
"""
import csv, io, json, math, re, shutil, sqlite3, subprocess, sys, tempfile, pathlib

from program import PROGRAM, ROOT, Crew, Folder, facts, must, run

GUIDE = ROOT / "assets/guide/instead.md"

# The unit of the check, the unit that stands on many a scale beside it, and how many of these make one of ours: arithmetic of the
# unit definitions (a kgf is 9.80665 N, a lb 0.45359237 kg).
BESIDE = {"kPa": ("bar", 0.01), "mm": ("cm", 0.1), "m": ("cm", 100), "°C": ("°F", None), "L/min": ("L/h", 60), "N·m": ("kgf·m", 1 / 9.80665),
          "ms": ("s", 0.001), "s": ("min", 1 / 60), "MΩ": ("kΩ", 1000), "Ω": ("mΩ", 1000), "L": ("mL", 1000), "kg": ("lb", 1 / 0.45359237),
          "kN": ("kgf", 1000 / 9.80665), "m/s": ("km/h", 3.6), "°": ("mm/m", None), "min": ("s", 60), "W/m²": ("kW/m²", 0.001),
          "mm/m": ("%", 0.1), "K": ("°F", 1.8), "h": ("min", 60)}


def in_other(value, unit):
    name, factor = BESIDE[unit]
    if unit == "°C":
        return value * 1.8 + 32
    if unit == "°":
        return 1000 * math.tan(math.radians(value))
    return value * factor


def side(tolerance, key):
    return tolerance[key]["value"] if tolerance and tolerance[key] else None


class Slips:
    """Counts of one slip: how often it was made, and who noticed."""

    def __init__(self):
        self.made = self.noticed = self.cell = 0

    def count(self, noticed, cell):
        self.made, self.noticed, self.cell = self.made + 1, self.noticed + noticed, self.cell + cell


class SlippingCrew(Crew):
    def __init__(self, folder, job):
        super().__init__(folder, job)
        self.slips = {name: Slips() for name in ("ten up", "ten down", "other unit", "other quantity", "too near")}
        self.unnoticed = []

    def says(self, check, place, text):
        """Whether the program asks, refuses or judges; what it took is undone."""
        answer = self.enter(check, place, text)
        must(answer.code in (0, 1, 3), f"{check['id']} {text}: exit {answer.code} {answer.err}")
        if answer.code != 3:
            self.folder.run("undo", self.job, expect=0)
        return answer

    def slip(self, check, place, text):
        value, unit = float(re.match(r"[-\d.]+", text).group(0)), check["unit"]
        tolerance = check["tolerance"]
        low, high = side(tolerance, "low"), side(tolerance, "high")
        cell = lambda v: (low is not None and v < low) or (high is not None and v > high)
        if value == 0 or (low is None and high is None) or cell(value):
            return
        # A place of a list is complete only with the others; what it says of the number itself is in exit code and outcome all the same.
        if self.says(check, place, f"{value:.6g} {unit}").code != 0:
            return
        tries = [("ten up", f"{value * 10:.6g}", cell(value * 10)), ("ten down", f"{value / 10:.6g}", cell(value / 10))]
        if unit in BESIDE:
            bare = float(f"{in_other(value, unit):.4g}")
            tries.append(("other unit", f"{bare:.6g}", cell(bare)))
        tries.append(("other quantity", f"{value:.6g} {'°C' if unit not in ('°C', 'K') else 'kPa'}", None))
        accept = side(tolerance, "accept_high"), side(tolerance, "accept_low")
        for limit, edge in ((high, accept[0]), (low, accept[1])):
            if limit is not None and edge is not None and abs(limit - edge) > 1e-9:
                # The edge is that of the weakest tool of the kind; those of the job are up to three times finer.
                near = limit + 0.2 * (edge - limit)
                tries.append(("too near", f"{near:.8g} {unit}", cell(near)))
                break
        for kind, typed, cell_says in tries:
            answer = self.says(check, place, typed)
            noticed = answer.code != 0
            # A text in a cell of numbers: nothing is compared, and nothing is said.
            self.slips[kind].count(noticed, bool(cell_says))
            if not noticed:
                self.unnoticed.append((kind, check["id"], typed, tolerance["text"]))

    def do_all(self):
        for name in [c["id"] for c in self.show()["checks"]]:
            check = self.check(name)
            if check["outcome"] in ("not applicable", "conforms") or check["kind"] in ("computed", "signature"):
                continue
            entries = self.entries(check)
            place, text = entries[0]
            numbers = check["kind"] == "quantity" or (check["kind"] == "positions" and check["unit"])
            if numbers and check["tolerance"] and re.match(r"[-\d.]+ ", text):
                self.slip(check, place, text)
            if check["core"] or check["hold"]:
                for place, text in entries:
                    answer = self.enter(check, place, text)
                    must(answer.code == 0, f"{name} {place} {text}: {answer.out}{answer.err}")


def characters(crew):
    """What a hand writes at each core check: value alone, and with time, tool and initials, as the program keeps them by itself."""
    alone, whole, keys_alone, keys_whole = [], [], [], []
    for check in crew.show()["checks"]:
        if not check["core"] or check["outcome"] == "not applicable" or check["kind"] in ("computed", "signature", "photo"):
            continue
        text = "".join(value for _, value in crew.entries(check))
        tick = check["kind"] in ("confirm", "choice")
        signs = 1 if tick else len(re.sub(r"[^\d.]", "", text))
        tool = 4 if any(r["instrument"] for r in check["readings"]) else 0
        alone.append(signs)
        whole.append(signs + 5 + tool + 2)
        keys_alone.append(signs + 1)
        keys_whole.append(signs + 6 + (tool + 1 if tool else 0) + 3 + 1)
    prepare, stroke, letter = 1.35, 0.28, 60 / (22 * 5)
    mean = lambda signs, each: sum(prepare + each * n for n in signs) / len(signs)
    return len(alone), mean(alone, letter), mean(whole, letter), mean(keys_alone, stroke), mean(keys_whole, stroke)


def altered_figures(folder):
    """Figures of stored readings changed by hand in the journal, one at a time; and in the same readings as a table."""
    with sqlite3.connect(folder.data / "journal.db") as db:
        rows = [r for r in db.execute("select rowid, body from entry where body like '%\"text\"%' order by rowid") if re.search(r'"text":"\d', r[1])]
    told = tried = 0
    for rowid, body in rows[:: max(1, len(rows) // 20)][:20]:
        with tempfile.TemporaryDirectory() as place:
            copy = pathlib.Path(place) / "data"
            shutil.copytree(folder.data, copy)
            digit = re.search(r'"text":"(\d)', body).group(1)
            new = body.replace(f'"text":"{digit}', f'"text":"{(int(digit) + 1) % 10}', 1)
            with sqlite3.connect(copy / "journal.db") as db:
                db.execute("update entry set body=? where rowid=?", (new, rowid))
            tried += 1
            told += run(PROGRAM, "attest", "--journal", "--data", copy).returncode == 1
    return told, tried


def kilobytes(demo):
    """One job as it is kept here, and its readings as a table."""
    job = json.loads(run(PROGRAM, "job", "list", "--data", demo, "--json").stdout)["jobs"][0]["job"]
    out = io.StringIO()
    sheet = csv.writer(out)
    for check in json.loads(run(PROGRAM, "job", "show", job, "--data", demo, "--json").stdout)["checks"]:
        for r in check["readings"]:
            sheet.writerow([check["id"], r["place"], r["text"], r["instrument"], r["at"], r["by"], r["outcome"]])
    return {"journal": (demo / "journal.db").stat().st_size / 1000, "report": (demo / "report.pdf").stat().st_size / 1000,
            "table": len(out.getvalue().encode()) / 1000}


def handling():
    """Seconds a check of the core run, as by_hand found it and DEVELOPERS.md keeps it."""
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    seconds = re.search(r"\| one finger, 1280 × 800 \| \d+ \| \d+ s \| (\d+) s \|", told)
    return int(seconds.group(1)) / int(re.search(r"core run, (\d+) checks", told).group(1))


def addresses_asked(folder):
    """Calls for an internet address while a whole demo job is made, from facts to sealed report."""
    trace = folder.path / "trace"
    done = subprocess.run(["strace", "-f", "-qq", "-e", "trace=socket,connect,sendto", "-o", trace, PROGRAM, "demo", "--into", folder.path / "demo"],
                          capture_output=True, text=True, timeout=300)
    must(done.returncode == 0, done.stderr)
    return len(re.findall(r"AF_INET", trace.read_text()))


folder = Folder()
job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("house.toml", facts()))["job"]
crew = SlippingCrew(folder, job)
first = folder.json("sign", job, "--as", "crew", "--name", "Tindo Quellaby", expect=1)
left_out = {b["check"] for b in first["blockers"]}
owed = {c["id"] for c in crew.show()["checks"] if (c["core"] or c["hold"]) and c["outcome"] not in ("not applicable", "conforms") and c["kind"] not in ("signature", "computed")}
must(left_out == owed, f"signing names {sorted(left_out ^ owed)} otherwise than what is open")
crew.do_all()
noticed = crew.slips
told, tried = altered_figures(folder)
checks, paper, paper_whole, sheet, sheet_whole = characters(crew)
internet = addresses_asked(folder)
finger = handling()


def of(kind):
    s = noticed[kind]
    return f"{s.noticed} of {s.made} | 0 of {s.made} | {s.cell} of {s.made}"


MEASURED = [
    f"| a number ten times too large | {of('ten up')} |",
    f"| a number ten times too small | {of('ten down')} |",
    f"| the figure of a scale in another unit, typed alone | {of('other unit')} |",
    f"| another quantity, °C where kPa is asked | {of('other quantity')} |",
    f"| inside the limit, but nearer than the tool can tell, at a hold point | {of('too near')} |",
    f"| left out when it is signed | {len(left_out)} of {len(owed)} | 0 of {len(owed)} | {len(owed)} of {len(owed)}, where each field is demanded |",
    f"| a figure altered in the record afterwards | {told} of {tried} | 0 of {tried} | 0 of {tried}, unless a checksum lies elsewhere |",
    f"| addresses of the internet asked in a job, facts to sealed report | {internet} | 0 | 0, unless the form lives there |",
    f"| handling of a check, the value alone | {finger:.1f} s | {paper:.1f} s by pen | {sheet:.1f} s by keys |",
    f"| the same with time, tool and name, which every reading has here | {finger:.1f} s | {paper_whole:.1f} s by pen | {sheet_whole:.1f} s by keys |",
]
ABOUT = kilobytes(folder.path / "demo")

if "--table" in sys.argv:
    print("\n".join(MEASURED), "\n", {name: round(kb) for name, kb in ABOUT.items()}, f"{checks} core checks")
    for each in crew.unnoticed:
        print("not noticed:", *each)
    raise SystemExit(0)

guide = GUIDE.read_text(encoding="utf-8")
for row in MEASURED:
    must(row in guide, f"{GUIDE.name} has another row than this measured one:\n{row}")
for name, kb in ABOUT.items():
    kept = re.search(rf"{name} (\d+) kB", guide)
    must(kept and abs(int(kept.group(1)) - kb) <= 0.2 * kb, f"{GUIDE.name} says otherwise than {name} {kb:.0f} kB")
print(f"{len(MEASURED)} rows of what one would use instead stand as measured, over {sum(s.made for s in noticed.values())} slips")
