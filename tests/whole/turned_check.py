"""The window is turned and sized while a finger is down on it: nothing is pressed by that, and all lies as in a window opened so."""
import pathlib, random, tempfile, time

from hands import HEIGHT, SCALE, WIDTH, Screen, Window, spot, until
from program import Folder, facts, must

SIDE = max(WIDTH, HEIGHT)
TALL = HEIGHT, WIDTH
# A press that comes sooner after the last turn is not heard anyway (bounce_s), and would prove nothing.
NOT_DEAF_S = 0.45
dice = random.Random(31)


def entered(folder, job):
    return [reading["text"] for check in folder.json("job", "show", job)["checks"] for reading in check["readings"]]


# Many frames, on a busy machine too; with a finger down the window does not rest.
SEEN_S = 0.6


class Turned:
    """A window at a check, whose size is changed under a finger."""

    def __init__(self, screen, folder, job, check, size):
        self.screen, self.size = screen, size
        self.window = Window(screen, folder, more=["--job", job, "--check", check], size=size)
        self.rest_finger()

    def rest_finger(self):
        """Where no key is, so that pictures can be held against each other: the pointer is in them."""
        self.window.hand("mousemove", 1, 1)
        self.window.rest()

    def to(self, width, height, x, y):
        """Down at a place, another size, and up again, each after the window has seen what came before: a finger that comes and
        goes within one slow frame has touched its key, whatever the glass did meanwhile."""
        hand = self.window.hand
        hand("mousemove", x, y)
        self.window.rest()
        time.sleep(NOT_DEAF_S)
        hand("mousedown", 1)
        time.sleep(SEEN_S)
        hand("search", "--onlyvisible", "--name", "Witnessmark", "windowsize", width, height)
        time.sleep(SEEN_S)
        hand("mouseup", 1)
        self.rest_finger()
        self.size = width, height

    def picture(self):
        # Outside the window the screen may show what was there.
        width, height = self.size
        line = SIDE * 4
        pixels = self.screen.pixels.read_bytes()[-line * SIDE:]
        return b"".join(pixels[row * line:row * line + width * 4] for row in range(height))


def opened_so(screen, folder, job, check, size):
    fresh = Turned(screen, folder, job, check, size)
    try:
        return fresh.picture()
    finally:
        fresh.window.end()


with tempfile.TemporaryDirectory() as place:
    screen = Screen(pathlib.Path(place), SIDE, SIDE)
    folder = Folder()
    turns = 0
    try:
        # By a hair the same key stays under the finger: an answer, and a digit.
        for check, name in (("fall-protection", "yes"), ("ladder-set", "7")):
            job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
            lying, standing = (opened_so(screen, folder, job, check, size) for size in ((WIDTH, HEIGHT), TALL))
            must(lying != standing, "two sizes look the same: the picture shows nothing")
            turned = Turned(screen, folder, job, check, (WIDTH, HEIGHT))
            try:
                x, y = (round(mm * SCALE) for mm in spot(name))
                for size in ((WIDTH, HEIGHT - 2), (WIDTH, HEIGHT), (WIDTH - 2, HEIGHT), (WIDTH, HEIGHT)):
                    turned.to(*size, x, y)
                    turns += 1
                must(entered(folder, job) == [], f"{name} was pressed by sizing the window: {entered(folder, job)}")
                until(lambda: turned.picture() == lying, f"after {turns} sizes the window with {check} is not as it is opened")
                # And whatever comes to lie under it.
                for _ in range(4):
                    turned.to(*TALL, dice.randrange(20, HEIGHT - 20), dice.randrange(20, HEIGHT - 20))
                    until(lambda: turned.picture() == standing, f"turned under a finger the window with {check} is not as it is opened")
                    turned.to(WIDTH, HEIGHT, dice.randrange(20, HEIGHT - 20), dice.randrange(20, HEIGHT - 20))
                    until(lambda: turned.picture() == lying, f"turned back under a finger the window with {check} is not as it is opened")
                    turns += 2
                must(entered(folder, job) == [], f"turning the window entered {entered(folder, job)}")
                # It still hears: the finger that comes down and leaves on one and the same glass.
                if name == "yes":
                    turned.window.click(name)
                    until(lambda: entered(folder, job) == ["yes"], "after all the turns a key is dead")
            finally:
                turned.window.end()
    finally:
        screen.end()
print(f"{turns} times turned or sized under a finger: nothing is pressed, and the window lies as one that is opened so")
