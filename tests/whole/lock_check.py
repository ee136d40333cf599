"""The real window with PINs: it starts locked, wrong PINs open nothing and are counted, the right one makes its person the one at work."""
import pathlib, tempfile

from hands import Screen, Window, until
from program import Folder, facts, must

folder = Folder()
job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
right, wrong = folder.write("right", "482913\n"), folder.write("wrong", "775021\n")
folder.run("access", "add", "Tindo Quellaby", "--new-pin-file", right, expect=0)
as_tindo = ["--person", "Tindo Quellaby", "--pin-file", right]


def readings():
    shown = folder.json("job", "show", job, *as_tindo)
    return [(reading["text"], reading["by"]) for check in shown["checks"] for reading in check["readings"]]


with tempfile.TemporaryDirectory() as place:
    screen = Screen(pathlib.Path(place))
    try:
        window = Window(screen, folder)
        try:
            # The keys of any screen do nothing while it is locked: these letters are a PIN, and no right one.
            window.write("y3").press("Return")
            must(readings() == [], "something was entered into a locked window")
            # Asking with the right one has set the count back.
            window.write("775021").press("Return")
            window.rest()
            window.write("775021").press("Return")
            window.rest()
            # The third wrong one, by command: it has to wait now, and so has the window.
            refused = folder.run("job", "list", "--person", "Tindo Quellaby", "--pin-file", wrong, expect=1)
            must("is not the PIN" in refused.err, refused.err)
            waiting = folder.run("job", "list", *as_tindo, expect=1)
            must("After 3 wrong PINs" in waiting.err, f"wrong PINs of window and command line do not count together: {waiting.err}")
            folder.end_the_wait()
        finally:
            window.end()
        window = Window(screen, folder)
        try:
            window.write("482913").press("Return")
            # The words that are said with the wind come first, then the wind.
            window.click("the job", "3", "save", "save")
            until(lambda: readings() == [("yes", "Tindo Quellaby")] * 3 + [("3", "Tindo Quellaby")], lambda: f"not entered by the person of the PIN: {readings()}")
        finally:
            window.end()
    finally:
        screen.end()
# Locked again at the next start: nothing of it lies in a file.
hits = [str(file) for file in folder.data.rglob("*") if file.is_file() and b"482913" in file.read_bytes()]
must(hits == [], f"the PIN lies in {hits}")
print("a window with PINs: locked at its start, three wrong ones counted with the command line's, then opened and worked in")
