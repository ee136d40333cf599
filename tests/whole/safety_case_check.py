"""The table of hazards in DEVELOPERS.md holds, and the checklists demand what safety_rules.toml says.

Each check named exists; the cautions beside a row are those the checklists show with its checks; every check of severity H
stands in some row; each test named is the beginning of a test in its file, and that file speaks of the row's checks. Then each check
of severity H is held to its row of safety_rules.toml, by safety_rules.py.

    safety_case_check.py [FOLDER]   the lists of another folder instead of checklists/
    safety_case_check.py --prove    only plants each weakening below in a copy of the lists and expects it to be named
"""
import pathlib, re, shutil, sys, tempfile, tomllib

from program import ROOT, must
from safety_rules import Lists, faults_of as faults_of_lists, rules

USUAL = "tests/checklist/wrong_installation_test.cpp"
# These go through every check of severity H, whatever its name.
ALL_OF_H = "no check that can hurt someone is passed"


def checks():
    found = {}
    for file in sorted(ROOT.glob("checklists/*.toml")):
        for check in tomllib.loads(file.read_text(encoding="utf-8")).get("check", []):
            found.setdefault(check["id"], []).append(check)
    return found


def rows_in(text):
    part = text.split("\n## Hazards\n")[1].split("\n## ")[0]
    lines = [line for line in part.splitlines() if line.startswith("|")][2:]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def faults_of(rows, known):
    """What is wrong with the table, as sentences."""
    faults, named = [], set()
    for hazard, stands, cautions, tests in rows:
        words = re.findall(r"`([^`]+)`", stands)
        ids = [word for word in words if word in known]
        faults += [f"{hazard}: no check is called {word}" for word in words if word not in known and "-" in word]
        named |= set(ids)
        shown = sorted({c for i in ids for check in known[i] for c in check.get("caution", [])})
        if re.findall(r"C-[A-Z]+", cautions) != shown:
            faults.append(f"{hazard}: the cautions of its checks are {', '.join(shown) or '–'}")
        of_row = ""
        for name, file in re.findall(r"([^;(]+?) …(?: \(`([^`]+)`\))?(?:;|$)", tests):
            text = (ROOT / (file or USUAL)).read_text(encoding="utf-8") if (ROOT / (file or USUAL)).exists() else ""
            begins = re.search(r'TEST_CASE\("' + re.escape(name.strip()), text)
            if not begins:
                faults.append(f"{hazard}: no test of {file or USUAL} begins with \"{name.strip()}\"")
            of_row += ALL_OF_H if name.strip().startswith(ALL_OF_H) else text
        if not re.search(r"…", tests):
            faults.append(f"{hazard}: no test is named")
        for each in ids:
            if each not in of_row and not (ALL_OF_H in of_row and any(c.get("severity") == "H" for c in known[each])):
                faults.append(f"{hazard}: its tests never speak of {each}")
    missing = sorted(i for i, all_of in known.items() if any(c.get("severity") == "H" for c in all_of) and i not in named)
    faults += [f"{i} can hurt someone and stands against no hazard" for i in missing]
    return faults


def of_hazards():
    known = checks()
    rows = rows_in((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))
    must(not (faults := faults_of(rows, known)), "\n".join(faults))
    # A table with a fault is caught: a row less, another caution, a test that is not there, a check that is not there.
    spoilt = [rows[1:], [[rows[0][0], rows[0][1], "C-FIRE", rows[0][3]], *rows[1:]],
              [[*rows[0][:3], "a test that nobody wrote …"], *rows[1:]],
              [[rows[0][0], rows[0][1] + ", `no-such-check`", *rows[0][2:]], *rows[1:]]]
    must(all(faults_of(table, known) for table in spoilt), "a spoilt table of hazards is taken for a sound one")
    hurting = sum(any(c.get("severity") == "H" for c in all_of) for all_of in known.values())
    print(f"{len(rows)} hazards; each of {hurting} checks that can hurt someone stands against one, with caution and test")


def of_rules(folder):
    table = rules()
    must(not (faults := list(faults_of_lists(Lists(folder), table))), "\n".join(faults))
    print(f"{len(table['check'])} checks that can hurt someone and {len(table['wait'])} that wait for them demand what their rows say")


# Each a weakening of the lists: file, check (or setting), what stands there, what is planted, and the sentence that must name it.
PLANTED = [
    ("commissioning", "fall-protection", 'hold = true\nseverity = "H"', 'hold = false\nseverity = "D"', "has severity D"),
    ("commissioning", "fall-protection", "hold = true", "hold = false", "is no hold point"),
    ("commissioning", "tempering-fitted", 'accept = [', 'accept = ["can be skipped", ', 'lets the answer "can be skipped" conform'),
    ("commissioning", "tap-retest", "at most d.outlet_max_c", "at most d.outlet_max_c + 6 K", "takes 50.1 °C"),
    ("commissioning", "test-pressure", 'after = ["relief-lever"]\nactivity = "the pressure test"\n', "",
     'no longer waits for "relief-lever"'),
    ("commissioning", "outlet-temp", '"tempering-fitted", ', "", 'no longer waits for "tempering-fitted"'),
    ("commissioning", "outlet-temp", "restricts = true\n", "", "no longer restricts the handover"),
    ("commissioning", "fall-protection", "photo =", 'applies = "roof.eaves_m more than 2 m"\nphoto =',
     'is asked of "roof.eaves_m more than 2 m"'),
    ("commissioning", "fall-protection", "photo =", 'defer_reasons = ["short of time"]\nphoto =',
     'may be put off because of "short of time"'),
    ("commissioning", "anchor-torque", "within 10 %", "within 12 %", "takes 17.9 N·m"),
    ("commissioning", "members-found", 'places_from = "sys.anchor_n"', 'places = ["1"]', 'cannot be asked about "yes"'),
    ("commissioning", "earth-loop", "required = true\n", "", 'takes nothing for "polarity"'),
    ("commissioning", "site-weather", 'said = "no ice on it"\n', "", 'keeps no word of "no ice" with its reading'),
    ("commissioning", "thermostat-60", 'after = ["power-locked"]\n', "", 'no longer waits for "power-locked"'),
    ("kit", "kit-relief", "required = true\n", "", 'takes nothing for "set pressure"'),
    ("commissioning", "insulation-res", "at least 1 MΩ", "at least 0.98 MΩ", "takes 0.99 MΩ"),
    ("commissioning", "flush-fill", '"anchor-torque", ', "", 'no longer waits for "anchor-torque"'),
    ("commissioning", "customer-shown", "core = true\n", "", "is no longer in the fast run"),
    ("commissioning", "tank-level", 'severity = "P"', 'severity = "H"', "can hurt someone and has no row"),
    ("instruments", "rcd-trip", 'name = "trip_time"\nvalue = 300', 'name = "trip_time"\nvalue = 500', "takes 301 ms"),
    ("survey", "roof-load", "d.point_kn at most roof.point_ok_kn", "d.point_kn at most 1.1 * roof.point_ok_kn", "takes 1.047 kN"),
    ("survey", "elec-ready", '"no earth", ', "", 'no longer refuses the answer "no earth"'),
    ("survey", "lift-plan", 'id = "lift-plan"', 'id = "lift-by-hand"', "is gone, and its row still stands"),
    ("kit", "kit-ready", 'rule = "kit-ready"', 'rule = "crew-licences"', "is decided by the rule crew-licences"),
    ("service", "svc-outlet-temp", 'instrument = "two-channel thermometer"\n', "", "is read with no instrument"),
]


def weakened(text, check, old, new):
    """The list with this planted at its check; a setting stands in a file without checks."""
    at = text.find(f'\nid = "{check}"\n') if "[[check]]" in text else 0
    place = text.find(old, max(at, 0))
    must(at >= 0 and place >= 0 and "[[check]]" not in text[at:place],
         f'{check}: "{old}" does not stand there. Plant another weakening in PLANTED.')
    return text[:place] + new + text[place + len(old):]


def prove():
    table = rules()
    for file, check, old, new, sentence in PLANTED:
        with tempfile.TemporaryDirectory() as kept:
            folder = pathlib.Path(kept) / "checklists"
            shutil.copytree(ROOT / "checklists", folder, ignore=shutil.ignore_patterns("pins"))
            path = folder / f"{file}.toml"
            path.write_text(weakened(path.read_text(encoding="utf-8"), check, old, new), encoding="utf-8")
            asked = [file] if file != "instruments" else ["commissioning"]
            must(any(f'"{check}" {sentence}' in fault for fault in faults_of_lists(Lists(folder), table, asked)),
                 f"{file}.toml: {new!r} was planted for {old!r} at {check}, and no fault says: \"{check}\" {sentence}. "
                 "Let safety_rules.py find it, or take it out of PLANTED.")
    print(f"{len(PLANTED)} planted weakenings, each refused by a sentence that names it")


words = [word for word in sys.argv[1:] if not word.startswith("--")]
if "--prove" not in sys.argv:
    of_hazards()
    of_rules(words[0] if words else ROOT / "checklists")
prove()
