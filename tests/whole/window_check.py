"""A job done in the real window with clicks and keys leaves the same record as the same job done by the command line."""
import os, pathlib, re, subprocess, tempfile, time, zlib

from program import PROGRAM, ROOT, Folder, facts, must

DEADLINE_S = 20
SCALE = 2.0  # pixels per millimetre, written into the settings of the window; few pixels are soon drawn
WIDTH, HEIGHT = 740, 550


def sizes():
    """The finger sizes of the theme in millimetres, from its header, so that they are stated once."""
    text = (ROOT / "src/screens/theme.hpp").read_text(encoding="utf-8")
    return {name: float(mm) for name, mm in re.findall(r"constexpr float (\w+)_mm = ([\d.]+)F", text)}


MM = sizes()
KEY, STRONG, GAP, EDGE = MM["key"], MM["strong_key"], MM["gap"], MM["edge"]
LEFT, RIGHT, BOTTOM = EDGE, WIDTH / SCALE - EDGE, HEIGHT / SCALE - EDGE
# Under the header, its status line and on the screen of a check the row of stages.
TOP = EDGE + KEY + 1 + 6 + 1
PANEL_TOP, PANEL_BOTTOM = TOP + KEY + GAP, BOTTOM - KEY - GAP
# The drawing and the list take the left 37 %.
PANEL_LEFT = LEFT + (RIGHT - LEFT) * 0.37 + 5


def columns(left, right, count, index):
    width = (right - left - GAP * (count - 1)) / count
    return left + index * (width + GAP) + width / 2


def spot(name):
    """Where a key of the wide arrangement lies, in millimetres from the upper left corner."""
    if name == "the job":
        return (LEFT + RIGHT) / 2, TOP + KEY + GAP + 9 + (KEY + 3) / 2
    if name in ("yes", "no"):
        return columns(PANEL_LEFT, RIGHT, 2, ("yes", "no").index(name)), PANEL_BOTTOM - (STRONG + 8) / 2
    if name in ("corrected", "more"):
        # A check that does not conform has one more key in its lowest row.
        return columns(LEFT, RIGHT, *((6, 2) if name == "corrected" else (5, 2))), BOTTOM - KEY / 2
    if name == "what was done":
        return PANEL_LEFT + 20, PANEL_TOP + KEY + 8 + GAP + KEY / 2
    if name == "put off":
        return (PANEL_LEFT + RIGHT) / 2, PANEL_TOP + 9 + STRONG / 2
    if name.startswith("stage "):
        index, count = map(int, re.findall(r"\d+", name))
        return columns(LEFT, RIGHT, count, index - 1), TOP + KEY / 2
    column, row = {"7": (0, 0), "8": (1, 0), "9": (2, 0), "4": (0, 1), "5": (1, 1), "6": (2, 1), "1": (0, 2), "2": (1, 2),
                   "3": (2, 2), "0": (0, 3), ".": (1, 3), ",": (2, 3), "save": (3, 2.5)}[name]
    left, top = RIGHT - 4 * STRONG - 3 * GAP, PANEL_BOTTOM - 4 * STRONG - 3 * GAP
    return left + column * (STRONG + GAP) + STRONG / 2, top + row * (STRONG + GAP) + STRONG / 2


class Screen:
    """A display of its own, whose pixels lie in a file."""

    def __init__(self, folder):
        self.pixels = folder / "Xvfb_screen0"
        number, told = os.pipe()
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(told), "-screen", "0", f"{WIDTH}x{HEIGHT}x24", "-dpi", "96", "-noreset",
             "-fbdir", str(folder)],
            pass_fds=[told], stderr=subprocess.DEVNULL)
        os.close(told)
        with os.fdopen(number) as line:
            self.name = ":" + line.readline().strip()
        self.env = {**os.environ, "DISPLAY": self.name}
        # A held key repeats by itself only if the display says so.
        subprocess.run(["xset", "r", "off"], env=self.env, check=True)

    def picture(self):
        return zlib.crc32(self.pixels.read_bytes())

    def end(self):
        self.server.terminate()
        self.server.wait()


def until(condition, words):
    deadline = time.monotonic() + DEADLINE_S
    while not condition():
        must(time.monotonic() < deadline, words() if callable(words) else words)
        time.sleep(0.01)


class Window:
    def __init__(self, screen, folder):
        self.screen = screen
        (folder.data / "window.toml").write_text(f"[window]\npx_per_mm = {SCALE}\n", encoding="utf-8")
        self.hands = subprocess.Popen(["xdotool", "-"], env=screen.env, stdin=subprocess.PIPE, text=True)
        empty = screen.picture()
        self.program = subprocess.Popen([PROGRAM, "window", "--size", f"{WIDTH}x{HEIGHT}", "--data", folder.data, "--at",
                                         folder.now()], env=screen.env)
        until(lambda: self.program.poll() is not None or screen.picture() != empty, "no window came up")
        must(self.program.poll() is None, "the window ended at once")

    def hand(self, *words):
        self.hands.stdin.write(" ".join(map(str, words)) + "\n")
        self.hands.stdin.flush()

    def threads(self):
        """What each thread of the window has done so far, and whether any is at work now."""
        done, working = [], False
        for thread in pathlib.Path(f"/proc/{self.program.pid}/task").iterdir():
            try:
                state = (thread / "stat").read_text().rsplit(")", 1)[1].split()
                switches = re.findall(r"ctxt_switches:\s*(\d+)", (thread / "status").read_text())
            except FileNotFoundError:
                continue
            working |= state[0] != "S"
            done.append((thread.name, state[11:13], switches))
        return done, working

    def rest(self):
        """Waits until every thread sleeps and none has run for a while: the window has shown all it knows."""
        same = []
        def at_rest():
            must(self.program.poll() is None, "the window ended by itself")
            done, working = self.threads()
            if working or (same and same[-1] != done):
                same.clear()
            same.append(done)
            return len(same) > 5
        until(at_rest, "the window never rests")

    def seen(self, deed, what):
        """Does something that must show on the screen."""
        self.rest()
        before = self.screen.picture()
        deed()
        until(lambda: self.screen.picture() != before, f"nothing shows after {what}")

    def click(self, *names):
        for name in names:
            x, y = (round(mm * SCALE) for mm in spot(name))
            self.hand("mousemove", x, y)
            self.seen(lambda: self.hand("click", 1), f"a click on {name}")
        return self

    def press(self, *keys):
        """Each key stays down until something shows: one that is let go before the window looks is never seen. Let go at once
        then: one that stays down begins to repeat."""
        for key in keys:
            self.seen(lambda: self.hand("keydown", key), f"the key {key}")
            self.hand("keyup", key)
        return self

    def chord(self, holder, key):
        self.hand("keydown", holder)
        self.press(key)
        self.hand("keyup", holder)
        return self

    def write(self, text):
        for letter in text:
            self.press({" ": "space", ".": "period", ",": "comma"}.get(letter, letter))
        return self

    def end(self):
        self.hands.stdin.close()
        self.hands.wait()
        self.program.terminate()
        self.program.wait()


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
    """The stage key of a check, and how often to go on from the check that this key opens: the first open one."""
    stages = list(dict.fromkeys(c["stage"] for c in shown["checks"]))
    stage = next(c["stage"] for c in shown["checks"] if c["id"] == name)
    here = [c for c in shown["checks"] if c["stage"] == stage and c["outcome"] != "not applicable"]
    first = next((c["id"] for c in here if c["outcome"] == "open"), here[0]["id"])
    ids = [c["id"] for c in here]
    return f"stage {stages.index(stage) + 1} of {len(stages)}", ids.index(name) - ids.index(first)


def put_off(w):
    """Backward through the form from the end of the screen: to the crew, the day, the reason; then on to the deed."""
    w.click("more", "put off")
    for back in (9, 2, 2):
        for _ in range(back):
            w.chord("shift", "Tab")
        w.press("space")
    w.press(*["Tab"] * 6, "Return")


# What the hands do at a check, and the same in words of the command line. Without a check they stay where they are.
STEPS = [
    (None, lambda w: w.click("the job", "3", "save"), ["enter", "site-weather", "3"]),
    (None, lambda w: w.press("Right", "y", "Return"), ["enter", "site-weather", "yes", "--place", "dry"]),
    (None, lambda w: w.press("y", "Return"), ["enter", "site-weather", "yes", "--place", "no ice"]),
    ("fall-protection", lambda w: w.click("yes"), ["enter", "fall-protection", "yes"]),
    ("ladder-set", lambda w: w.write("70,5").press("Return"), ["enter", "ladder-set", "70,5"]),
    (None, lambda w: w.press("Right", "n", "Return"), ["enter", "ladder-set", "no", "--place", "tied"]),
    # A slip, taken back.
    ("collector-covered", lambda w: w.click("no"), ["enter", "collector-covered", "no"]),
    (None, lambda w: w.chord("ctrl", "z"), ["undo"]),
    (None, lambda w: w.press("y", "Return"), ["enter", "collector-covered", "yes"]),
    ("roof-as-surveyed", lambda w: w.press("1", "Return"), ["enter", "roof-as-surveyed", "same"]),
    # Out of level: as 0.24 would fit, it is asked about before it is saved; it does not conform, is put right and read again.
    ("tank-level", lambda w: w.click("2", ".", "4", "save", "save"), ["enter", "tank-level", "2.4"]),
    (None, lambda w: w.click("corrected", "what was done").write("packed the left foot").press("Return").write("0.4")
     .press("Return"), ["correct", "tank-level", "0.4", "--done", "packed the left foot"]),
    # The heater is cold.
    ("outlet-temp", put_off, ["defer", "outlet-temp", "--until", "2026-11-26", "--owner", "Tindo Quellaby", "--why",
                              "heater not hot yet"]),
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
