"""What full sun leaves of the real pictures of the sun look: 50,000 lx on a panel of 700 cd/m² that throws back 2 %.

Every tile of a picture that holds ink is measured: the mean of its darkest and of its lightest two-hundredth, under the haze. The
haze is 0.02 x 50,000 / pi = 318 cd/m²; black on white keeps 3.2 to 1, and no pair of colours can do better. Source of the
ratio: WCAG 2.1, relative luminance, with this haze in place of its 0.05; 3 to 1 for large letters and graphics, 1.4.3 and
1.4.11 there. Thin lines and small letters are smoothed at their edges, so 2.6 is asked for here."""
import pathlib, subprocess, sys, tempfile

import numpy
from PIL import Image

from hands import Screen
from program import PROGRAM, ROOT, must

WHITE, HAZE = 700.0, 0.02 * 50_000 / numpy.pi
TILE = 24  # pixels: 6.3 mm at 96 dots an inch, about one letter


def luminance(file):
    rgb = numpy.asarray(Image.open(file).convert("RGB")).astype(float) / 255
    linear = numpy.where(rgb <= 0.03928, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    return linear @ numpy.array([0.2126, 0.7152, 0.0722])


def under_haze(light, dark):
    return (WHITE * light + HAZE) / (WHITE * dark + HAZE)


def tiles(picture):
    """Ratio under the haze of each tile that holds ink, with where it lies."""
    found = []
    for top in range(0, picture.shape[0] - TILE + 1, TILE):
        for left in range(0, picture.shape[1] - TILE + 1, TILE):
            inside = picture[top:top + TILE, left:left + TILE]
            if inside.max() - inside.min() <= 0.02:
                continue
            # A letter that only touches the tile is measured with its neighbourhood.
            half = TILE // 2
            part = numpy.sort(picture[max(0, top - half):top + TILE + half, max(0, left - half):left + TILE + half], axis=None)
            few = max(4, part.size // 200)
            found.append((under_haze(part[-few:].mean(), part[:few].mean()), left, top))
    return found


def shot(display, data, screen, theme, file, *more):
    subprocess.run([PROGRAM, "window", "--data", str(data), "--screen", screen, "--theme", theme, "--size", "1280x800", "--picture", str(file),
                    *more], check=True, stdout=subprocess.DEVNULL, env=display.env)
    return luminance(file)


with tempfile.TemporaryDirectory() as name:
    place = pathlib.Path(name)
    made = subprocess.run([sys.executable, ROOT / "tests/whole/half_done.py", place / "half"], check=True, capture_output=True, text=True)
    job, data = made.stdout.strip(), place / "half/data"
    display, worst = Screen(place, 1600, 1600), {}
    for screen, more in (("run", ["--check", "anchor-torque"]), ("run", ["--check", "tank-level"]), ("run", ["--check", "pressure-limit-set"]),
                         ("run", ["--check", "anchor-torque", "--show", "how"]), ("sign", []), ("jobs", []), ("settings", [])):
        picture = shot(display, data, screen, "sun", place / "picture.png", "--job", job, *more)
        found = tiles(picture)
        must(len(found) > 200, f"{screen}: hardly anything is drawn")
        faint = [tile for tile in found if tile[0] < 2.6]
        worst[" ".join([screen, *more])] = (min(found)[0], len(faint), len(found), faint[:6])
    for what, (least, faint, count, where) in worst.items():
        print(f"{what:<46} least {least:.2f}, {faint} of {count} tiles under 2.6", where if faint else "")
    share = sum(w[1] for w in worst.values()) / sum(w[2] for w in worst.values())
    must(share <= 0.02, f"{share:.1%} of the tiles with ink are faint in full sun")
    # The measure can fail: the night look is for attics.
    night = tiles(shot(display, data, "run", "night", place / "night.png", "--job", job, "--check", "anchor-torque"))
    display.end()
    lost = sum(1 for tile in night if tile[0] < 2.6) / len(night)
    must(lost > 0.2, f"the night look seems readable in full sun ({lost:.0%} faint): the measure sees nothing")
    print(f"in full sun {share:.1%} of the tiles with ink are faint; of the night look {lost:.0%}")
