"""Touches that come faster than the window draws are each taken up where they were: no digit is lost and none stands for another."""
import os, pathlib, signal, tempfile, time

from hands import SCALE, Screen, Window, spot, until
from program import Folder, facts, must

DIGITS = "7913468250"


def typed(folder):
    file = folder.data / "half-typed.txt"
    fields = file.read_text(encoding="utf-8").split("\t") if file.exists() else []
    return fields[3] if len(fields) > 3 else ""


with tempfile.TemporaryDirectory() as place:
    screen = Screen(pathlib.Path(place))
    try:
        folder = Folder()
        folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))
        window = Window(screen, folder)
        try:
            window.click("the job")
            words = []
            for digit in DIGITS:
                x, y = (round(mm * SCALE) for mm in spot(digit))
                words += ["mousemove", x, y, "click", 1]
            # As long as a slow frame takes the window looks at nothing; then all of it falls into one frame.
            window.rest()
            os.kill(window.program.pid, signal.SIGSTOP)
            window.hand(*words)
            time.sleep(0.5)
            os.kill(window.program.pid, signal.SIGCONT)
            until(lambda: len(typed(folder)) >= len(DIGITS), lambda: f"of {DIGITS} only {typed(folder)!r} was taken")
            must(typed(folder) == DIGITS, f"{DIGITS} became {typed(folder)}")
        finally:
            window.end()
    finally:
        screen.end()
print(f"{len(DIGITS)} digits touched in one breath stand as they were touched")
