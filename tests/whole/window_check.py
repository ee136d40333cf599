"""A job done in the real window with clicks and keys leaves the same record as the same job done by the command line."""
import pathlib, tempfile

from hands import Screen, Window, until
from program import Folder, facts, must

def record(folder, job):
    """What the journal says of a job, without what must differ: hashes, times, the number of the job."""
    shown = folder.json("job", "show", job)
    number = {}
    for check in shown["checks"]:
        for reading in check["readings"]:
            number[reading["entry"]] = f"{check['id']} {len(number)}"
    for check in shown["checks"]:
        for reading in check["readings"]:
            reading["corrects"] = number.get(reading["corrects"])
            del reading["entry"], reading["at"]
    del shown["job"], shown["head"]
    return shown


def difference(one, two, where=""):
    if isinstance(one, dict) and isinstance(two, dict):
        return [line for key in {**one, **two} for line in difference(one.get(key), two.get(key), f"{where}/{key}")]
    if isinstance(one, list) and isinstance(two, list) and len(one) == len(two):
        return [line for n, pair in enumerate(zip(one, two)) for line in difference(*pair, f"{where}[{n}]")]
    return [] if one == two else [f"{where}: window {one!r}, command line {two!r}"]


def way_to(shown, name):
    """The stage key of a check, and how often to go on from the check that this key opens: the first open one. Going on leads
    to the next that is open and waits for nothing."""
    stages = list(dict.fromkeys(c["stage"] for c in shown["checks"]))
    stage = next(c["stage"] for c in shown["checks"] if c["id"] == name)
    here = [c for c in shown["checks"] if c["stage"] == stage and c["outcome"] != "not applicable"]
    first = next((c["id"] for c in here if c["outcome"] == "open"), here[0]["id"])
    useful = [c["id"] for c in here if c["id"] == first or
              (c["outcome"] == "open" and not c["waits_for"] and c["kind"] not in ("computed", "signature"))]
    return f"stage {stages.index(stage) + 1} of {len(stages)}", useful.index(name) - useful.index(first)


def put_off(w):
    """Backward through the form from the end of the screen: to the crew, the day, the reason; then on to the deed."""
    w.click("more", "put off")
    for back in (11, 5, 2):
        for _ in range(back):
            w.chord("shift", "Tab")
        w.press("space")
    w.press(*["Tab"] * 9, "Return")


# What the hands do at a check, and the same in words of the command line. Without a check they stay where they are.
STEPS = [
    (None, lambda w: w.click("the job", "3", "save", "save"), ["enter", "site-weather", "3", "--said"]),
    (None, lambda w: w.press("Prior", "Right", "y", "Return"), ["enter", "site-weather", "yes", "--place", "dry"]),
    (None, lambda w: w.press("Prior", "Right", "Right", "y", "Return"), ["enter", "site-weather", "yes", "--place", "no ice"]),
    ("fall-protection", lambda w: w.click("yes"), ["enter", "fall-protection", "yes"]),
    ("ladder-set", lambda w: w.write("70,5").press("Return").press("Return"), ["enter", "ladder-set", "70,5", "--said"]),
    (None, lambda w: w.press("Prior", "Right", "n", "Return"), ["enter", "ladder-set", "no", "--place", "tied"]),
    # A slip, taken back.
    ("collector-covered", lambda w: w.click("no"), ["enter", "collector-covered", "no"]),
    (None, lambda w: w.chord("ctrl", "z"), ["undo"]),
    (None, lambda w: w.press("y", "Return"), ["enter", "collector-covered", "yes"]),
    ("roof-as-surveyed", lambda w: w.press("1", "Return"), ["enter", "roof-as-surveyed", "same"]),
    # Out of level: as 0.4 would be usual, it is asked about before it is saved; it does not conform, is put right and read again.
    ("tank-level", lambda w: w.click("2", ".", "4", "save", "save"), ["enter", "tank-level", "2.4"]),
    (None, lambda w: w.click("corrected", "what was done").write("packed the left foot").press("Return").write("0.4")
     .press("Return"), ["correct", "tank-level", "0.4", "--done", "packed the left foot"]),
    # The loop is cold.
    ("warm-leaks", put_off, ["defer", "warm-leaks", "--until", "2026-11-26", "--owner", "Tindo Quellaby", "--why", "not warm yet"]),
]


def the_same_both_ways(screen, there, here):
    """`there` is the folder of the window, `here` that of the command line."""
    jobs = {}
    for folder in (there, here):
        house = folder.write("facts.toml", facts())
        jobs[folder] = folder.json("job", "new", "--checklist", "commissioning", "--facts", house)["job"]
    window = Window(screen, there)
    try:
        for check, deed, (form, *rest) in STEPS:
            if check:
                stage, on = way_to(record(there, jobs[there]), check)
                window.click(stage).press(*["Next"] * on)
            deed(window)
            answer = here.run(form, jobs[here], *rest)
            must(answer.code in (0, 1), f"{form} {rest}: {answer.out}{answer.err}")
            wanted = record(here, jobs[here])
            until(lambda: record(there, jobs[there]) == wanted,
                  lambda: f"{form} {rest}:\n" + "\n".join(difference(record(there, jobs[there]), wanted)))
    finally:
        window.end()
    journals = [folder.json("attest", "--journal") for folder in (there, here)]
    must(all(journal["genuine"] for journal in journals), "a journal does not verify")
    counts = [journal["entries"] for journal in journals]
    must(counts[0] == counts[1], f"the window wrote {counts[0]} entries, the command line {counts[1]}")


with tempfile.TemporaryDirectory() as place:
    screen = Screen(pathlib.Path(place))
    try:
        the_same_both_ways(screen, Folder(), Folder())
    finally:
        screen.end()
print(f"{len(STEPS)} steps by click and key, the same record as by command")
