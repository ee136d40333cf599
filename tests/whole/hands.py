"""Hands at the real window: a display of its own, clicks by the names of keys, strokes, and waiting for what must show."""
import os, pathlib, re, subprocess, time, zlib

from program import PROGRAM, ROOT, must

DEADLINE_S = 20
EYES_S = 0.75
# What is asked back is agreed to with the same key, which is deaf for 0.95 s so that the words are read.
AGREES_S = 1.2
DIGITS = set("0123456789.,") | {"period", "comma", "BackSpace"}
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
        return columns(LEFT, RIGHT, 7, 3 if name == "corrected" else 4), BOTTOM - KEY / 2
    if name == "what was done":
        return PANEL_LEFT + 20, PANEL_TOP + KEY + 8 + GAP + KEY / 2
    if name == "signer":
        return RIGHT - 8, TOP + KEY + 3 + GAP + KEY / 2
    if name == "pad":
        return (LEFT + RIGHT) * 0.75, TOP + 2 * KEY + 3 + 2 * GAP + 35
    if name == "put off":
        return columns(PANEL_LEFT, RIGHT, 2, 0), PANEL_TOP + 9 + STRONG / 2
    if name.startswith("stage "):
        index, count = map(int, re.findall(r"\d+", name))
        return columns(LEFT, RIGHT, count, index - 1), TOP + KEY / 2
    column, row = {"7": (0, 0), "8": (1, 0), "9": (2, 0), "4": (0, 1), "5": (1, 1), "6": (2, 1), "1": (0, 2), "2": (1, 2),
                   "3": (2, 2), "0": (0, 3), ".": (1, 3), ",": (2, 3), "save": (3, 2.5)}[name]
    left, top = RIGHT - 4 * STRONG - 3 * GAP, PANEL_BOTTOM - 4 * STRONG - 3 * GAP
    return left + column * (STRONG + GAP) + STRONG / 2, top + row * (STRONG + GAP) + STRONG / 2


class Screen:
    """A display of its own, whose pixels lie in a file."""

    def __init__(self, folder, width=WIDTH, height=HEIGHT):
        self.pixels = folder / "Xvfb_screen0"
        number, told = os.pipe()
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(told), "-screen", "0", f"{width}x{height}x24", "-dpi", "96", "-noreset",
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
    def __init__(self, screen, folder, env=None, more=(), size=(WIDTH, HEIGHT)):
        """`more` stands behind the command: where it opens, its theme."""
        self.screen = screen
        self.last = None
        (folder.data / "window.toml").write_text(f"[window]\npx_per_mm = {SCALE}\n", encoding="utf-8")
        self.hands = subprocess.Popen(["xdotool", "-"], env=screen.env, stdin=subprocess.PIPE, text=True)
        empty = screen.picture()
        self.program = subprocess.Popen([PROGRAM, "window", "--size", "{}x{}".format(*size), "--data", folder.data, "--at",
                                         folder.now(), *more], env={**screen.env, **(env or {})})
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

    def seen(self, deed, what, looks_s=EYES_S):
        """Does something that must show on the screen, after a look at what is there: what is pressed too soon after the run
        went on is taken for a bounce."""
        self.rest()
        time.sleep(looks_s)
        before = self.screen.picture()
        deed()
        until(lambda: self.screen.picture() != before, f"nothing shows after {what}")

    def looks(self, name, reads):
        agrees = name == self.last
        self.last = name
        return 0 if not reads else AGREES_S if agrees else EYES_S

    def click(self, *names):
        for name in names:
            x, y = (round(mm * SCALE) for mm in spot(name))
            self.hand("mousemove", x, y)
            self.seen(lambda: self.hand("click", 1), f"a click on {name}", self.looks(name, name not in DIGITS))
        return self

    def press(self, *keys):
        """Each key stays down until something shows: one that is let go before the window looks is never seen. Let go at once
        then: one that stays down begins to repeat."""
        for key in keys:
            self.seen(lambda: self.hand("keydown", key), f"the key {key}",
                      self.looks(key, len(key) > 1 and key not in DIGITS))
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
