"""The window is killed (SIGKILL) at random moments of writing: what stood on the glass a second before stands there again.

A number, the words of a correction, the name of a signer and the readings of a running series are written by key; after each
kill the window is started anew without a word of where it was, and what it took up is finished and looked for in the record.
A signature is drawn in one piece: of one that is half drawn no stroke is kept, and nobody has signed. This proves the death of
the program; for a loss of power see tests/desk/power_loss_test.cpp. WM_WINDOW_KILLS sets the kills of each of the four."""
import os, pathlib, random, subprocess, sys, tempfile, threading, time

from hands import AGREES_S, SCALE, Screen, Window, spot, until
from program import ROOT, Folder, facts, must

KILLS = int(os.environ.get("WM_WINDOW_KILLS", "1"))
KEPT_WITHIN_S = 1.0
dice = random.Random(23)
owed = []


class Writing:
    """Keys pressed one after another until the window is dead, and when each of them showed."""

    def __init__(self, window, within_s):
        self.window, self.shown, self.killed = window, [], None
        self.clock = threading.Timer(dice.uniform(0.1, within_s), self.kill)

    def kill(self):
        self.killed = time.monotonic()
        self.window.program.kill()

    def write(self, keys):
        """Gives how many of the keys had shown a second before the kill, and how many were pressed at all."""
        pressed = 0
        self.clock.start()
        try:
            for key in keys:
                pressed += 1
                self.window.press(key)
                self.shown.append(time.monotonic())
        except AssertionError:
            # Dead in the middle of a key. Another reason is none of ours.
            if self.killed is None:
                raise
            self.window.hand("keyup", key)
        self.clock.join()
        must(self.window.program.wait() == -9, "the window ended before it was killed")
        self.window.end()
        owed.append(sum(1 for at in self.shown if at <= self.killed - KEPT_WITHIN_S))
        return owed[-1], pressed


def keys_of(text):
    return [{" ": "space", ".": "period"}.get(letter, letter) for letter in text]


def new_job(folder):
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
    enter = lambda check, text, *more: must(folder.run("enter", job, check, text, *more).code in (0, 1), f"{check} {text}")
    enter("site-weather", "3", "--said")
    enter("fall-protection", "yes")
    return job, enter


def readings(folder, job, check):
    return next(c for c in folder.json("job", "show", job)["checks"] if c["id"] == check)["readings"]


def half_typed(folder, name):
    """The number, or what is written under a name, as the file keeps it: src/app/half_typed.hpp."""
    file = folder.data / "half-typed.txt"
    fields = file.read_text(encoding="utf-8").rstrip("\n").split("\t") if file.exists() else []
    if name == "number":
        return fields[3] if len(fields) > 3 else ""
    return dict(zip(fields[7::2], fields[8::2])).get(name, "")


def cut_of(text, least, pressed, found, what):
    """What was found is a beginning of what was typed, with all in it that had shown, and nothing that was not yet pressed."""
    must(text.startswith(found) and least <= len(found) <= pressed,
         f"{what}: of {text!r} {least} signs had shown a second before the kill and {pressed} were pressed, and {found!r} is left")


def number(screen, folder):
    job, _ = new_job(folder)
    begun = "70.1"
    window = Window(screen, folder, more=["--job", job, "--check", "ladder-set"])
    window.write(begun)
    text = begun + "".join(dice.choice("123456789") for _ in range(9))
    least, pressed = Writing(window, 2.5).write(text[len(begun):])
    kept = half_typed(folder, "number")
    cut_of(text, len(begun) + least, len(begun) + pressed, kept, "a number")
    window = Window(screen, folder)
    try:
        window.press("Return").press("Return")
        saved = lambda: [reading["text"] for reading in readings(folder, job, "ladder-set")]
        until(lambda: kept in " ".join(saved()), lambda: f"{kept} stood there before, and now it saves {saved()}")
    finally:
        window.end()
    return [(job, "ladder-set", kept)]


def words(screen, folder):
    job, enter = new_job(folder)
    for check, text in (("ladder-set", "70.5"), ("collector-covered", "yes"), ("roof-as-surveyed", "same"), ("tank-level", "2.4")):
        enter(check, text)
    begun, text = "packed the left ", "packed the left foot with two slates and a wedge"
    window = Window(screen, folder, more=["--job", job, "--check", "tank-level"])
    window.click("corrected", "what was done").write(begun)
    least, pressed = Writing(window, 3.5).write(keys_of(text[len(begun):]))
    kept = half_typed(folder, "done")
    cut_of(text, len(begun) + least, len(begun) + pressed, kept, "words")
    window = Window(screen, folder)
    try:
        window.press("0").write(".4").press("Return")
        done = lambda: [reading for reading in readings(folder, job, "tank-level") if reading["text"].startswith("0.4")]
        until(done, "the correction was not saved")
        said = str(folder.json("job", "show", job))
        must(kept.strip() in said, f"{kept!r} stood there before the kill and is not in the record: {done()}")
    finally:
        window.end()
    return [(job, "tank-level", "2.4"), (job, "tank-level", "0.4")]


def signature(screen, folder):
    job, _ = new_job(folder)
    begun, text = "tindo ", "tindo quellaby of the owlcroft crew"
    window = Window(screen, folder, more=["--job", job, "--screen", "sign"])
    window.click("signer").write(begun)
    if dice.random() < 0.5:
        least, pressed = Writing(window, 2.5).write(keys_of(text[len(begun):]))
    else:
        # In the middle of a stroke, with all of the name there.
        window.write(text[len(begun):])
        time.sleep(KEPT_WITHIN_S)
        least = pressed = len(text) - len(begun)
        x, y = (round(mm * SCALE) for mm in spot("pad"))
        window.hand("mousemove", x, y, "mousedown", 1)
        for step in range(dice.randint(3, 12)):
            window.hand("mousemove", x + 6 * step, y - 4 * (step % 3))
            time.sleep(0.02)
        window.program.kill()
        window.program.wait()
        window.hand("mouseup", 1)
        window.end()
    kept = half_typed(folder, "name")
    cut_of(text, len(begun) + least, len(begun) + pressed, kept, "the name of a signer")
    window = Window(screen, folder)
    try:
        # A letter more goes to what was taken up, and only there.
        window.click("signer").write("x")
        until(lambda: half_typed(folder, "name") == kept + "x", lambda: f"{kept!r} did not come back: {half_typed(folder, 'name')!r}")
    finally:
        window.end()
    must(folder.json("job", "show", job)["signatures"] == [], "half a signature was taken for one")
    return []


def series(screen, folder, job):
    """Readings of three digits, one after another: whole ones are rows, the last one is half typed."""
    started = int(subprocess.run(["date", "-d", folder.now(), "+%s"], check=True, capture_output=True, text=True).stdout) - 3000
    file = folder.data / "running-series.txt"
    head = f"run\t{job}\ttest-hold\tPressure holds ten minutes\t{started}\t120\t600\n"
    file.write_text(head + "row\t5\t478\nextra\twater start\t18.2\nextra\twater end\t\n", encoding="utf-8")
    (folder.data / "half-typed.txt").write_text("", encoding="utf-8")
    rows = [str(dice.randint(470, 479)) for _ in range(5)]
    keys = [key for row in rows for key in [*row, "Return"]]
    window = Window(screen, folder, more=["--job", job, "--check", "test-hold"])
    least, pressed = Writing(window, 7.0).write(keys)
    lines = lambda: [line.split("\t") for line in file.read_text(encoding="utf-8").splitlines()]
    kept = lambda: [line[-1] for line in lines() if line[0] == "row"]
    found = kept()
    must(found[0] == "478" and found[1:] == rows[:len(found) - 1], f"rows {rows} became {found}")
    must(least // 4 <= len(found) - 1 <= -(-pressed // 4), f"{least} keys had shown, {pressed} were pressed, and the rows are {found}")
    must(["extra", "water start", "18.2"] in lines(), f"what was read beside the series is gone: {lines()}")
    # The digits of the next one, which no row has yet: those that had shown, and as they were typed.
    digits = half_typed(folder, "channel 1")
    typing = rows[len(found) - 1] if len(found) <= len(rows) else ""
    if least > 4 * (len(found) - 1):
        cut_of(typing, least - 4 * (len(found) - 1), 3, digits, "a reading of a series")
    window = Window(screen, folder)
    try:
        # What is left of it is typed, and the row stands below those from before.
        for key in typing[len(digits):] if typing.startswith(digits) else "":
            window.press(key)
        if typing.startswith(digits) and typing:
            window.press("Return")
            until(lambda: kept() == found + [typing], lambda: f"{found} and {typing} became {kept()}")
    finally:
        window.end()
    return [(job, "", "")]


with tempfile.TemporaryDirectory() as place:
    made = subprocess.run([sys.executable, ROOT / "tests/whole/half_done.py", pathlib.Path(place) / "half"], check=True, capture_output=True, text=True)
    screen = Screen(pathlib.Path(place))
    half, half_job = Folder(path=pathlib.Path(place) / "half"), made.stdout.strip()
    half.minutes = 700
    folder, saved, kills = Folder(), [], 0
    try:
        for _ in range(KILLS):
            for deed in (number, words, signature):
                saved += deed(screen, folder)
                kills += 1
            series(screen, half, half_job)
            kills += 1
    finally:
        screen.end()
    for job, check, text in saved:
        must(any(reading["text"].startswith(text) for reading in readings(folder, job, check)), f"{text} of {check} in {job} is gone")
    for one in (folder, half):
        must(one.json("attest", "--journal")["genuine"] is True, "the chain is broken")
print(f"{kills} kills of the window while it was written into: the {sum(owed)} signs that had shown {KEPT_WITHIN_S:.0f} s before "
      f"stand there again, {len(saved)} saved entries are all kept, the chain is whole")
