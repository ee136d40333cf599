"""The table of hazards in DEVELOPERS.md holds: its checks, cautions and tests are there, and nothing that can hurt is missing.

Each check named exists; the cautions beside a row are those the checklists show with its checks; every check of severity H
stands in some row; each test named is the beginning of a test in its file, and that file speaks of the row's checks.
"""
import pathlib, re, tomllib

from program import ROOT, must

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


known = checks()
rows = rows_in((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))
must(not (faults := faults_of(rows, known)), "\n".join(faults))
# A table with a fault is caught: a row less, another caution, a test that is not there, a check that is not there.
spoilt = [rows[1:], [[rows[0][0], rows[0][1], "C-FIRE", rows[0][3]], *rows[1:]], [[*rows[0][:3], "a test that nobody wrote …"], *rows[1:]],
          [[rows[0][0], rows[0][1] + ", `no-such-check`", *rows[0][2:]], *rows[1:]]]
must(all(faults_of(table, known) for table in spoilt), "a spoilt table of hazards is taken for a sound one")
hurting = sum(any(c.get("severity") == "H" for c in all_of) for all_of in known.values())
print(f"{len(rows)} hazards; each of {hurting} checks that can hurt someone stands against one, with caution and test")
