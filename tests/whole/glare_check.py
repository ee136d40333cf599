"""What light leaves of the real pictures: full sun of the sun look, the shade of a roof of the day look, an attic of the night look.

Every tile of a picture that holds ink is measured: the mean of its darkest and of its lightest two-hundredth, under the haze
that the glass throws back, 2 % of the light: 0.02 x lux / pi. In full sun of 50,000 lx that is 318 cd/m²; black on the white of
a panel of 700 cd/m² keeps 3.2 to 1, and no pair of colours can do better. Source of the ratio: WCAG 2.1, relative luminance,
with this haze in place of its 0.05; 3 to 1 for large letters and graphics in 1.4.11 (letters by themselves are held to more by
tests/screens/light_test.cpp). Shade 10,000 lx; attic 300 lx and a panel turned down to 100 cd/m²: common practice, no source.
Thin lines and small letters are smoothed at their edges, so 2.6 is asked for here."""
import pathlib, subprocess, tempfile

import numpy
from PIL import Image

from hands import Screen
from program import INSTRUMENTS, PROGRAM, Folder, facts, must

TILE = 24  # pixels: 6.3 mm at 96 dots an inch, about one letter
WIDE, TALL = "1024x640", "640x1024"
LEAST = 2.6
# Of a look: lux, white of the panel in cd/m², and from which difference of luminance on something is ink and no ground beside a
# ground: keys of the day look are hardly lighter than its paper, and their edges say nothing.
LIGHTS = {"sun": (50_000, 700.0, 0.02), "day": (10_000, 700.0, 0.2), "night": (300, 100.0, 0.02)}
LINEAR = numpy.array([c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in (n / 255 for n in range(256))], dtype=numpy.float32)


def luminance(file):
    return LINEAR[numpy.asarray(Image.open(file).convert("RGB"))] @ numpy.array([0.2126, 0.7152, 0.0722], dtype=numpy.float32)


def tiles(picture, look):
    """Ratio under the haze of each tile that holds ink, with where it lies."""
    lux, white, ink = LIGHTS[look]
    haze = 0.02 * lux / numpy.pi
    rows, columns = picture.shape[0] // TILE, picture.shape[1] // TILE
    # A letter that only touches the tile is measured with its neighbourhood.
    half = TILE // 2
    near = numpy.pad(picture[:rows * TILE, :columns * TILE], half, mode="edge")
    near = numpy.lib.stride_tricks.sliding_window_view(near, (2 * TILE, 2 * TILE))[::TILE, ::TILE]
    inside = picture[:rows * TILE, :columns * TILE].reshape(rows, TILE, columns, TILE)
    inked = inside.max(axis=(1, 3)) - inside.min(axis=(1, 3)) > ink
    parts = near[inked].reshape(-1, 4 * TILE * TILE)
    few = parts.shape[1] // 200
    parts = numpy.partition(parts, (few - 1, parts.shape[1] - few), axis=1)
    ratios = (white * parts[:, -few:].mean(axis=1) + haze) / (white * parts[:, :few].mean(axis=1) + haze)
    return [(float(ratio), int(column) * TILE, int(row) * TILE) for ratio, (row, column) in zip(ratios, numpy.argwhere(inked))]


def shot(display, data, file, look, size, *more):
    subprocess.run([PROGRAM, "window", "--data", str(data), "--theme", look, "--size", size, "--picture", str(file), *more],
                   check=True, stdout=subprocess.DEVNULL, env=display.env)
    return luminance(file)


def job_with_every_outcome(folder):
    # An inclinometer too coarse for the tilt.
    coarse = [(name, kind, step, "3°" if kind == "inclinometer" else u) for name, kind, step, u in INSTRUMENTS]
    house = folder.write("facts.toml", facts(instruments=coarse))
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts", house)["job"]
    for check, text in (("fall-protection", "yes"), ("ladder-set", "70.5°"), ("collector-covered", "yes"), ("roof-as-surveyed", "same"),
                        ("tank-level", "9°"), ("coll-tilt", "37.9°")):
        must(folder.run("enter", job, check, text).code in (0, 1), f"{check} {text}")
    folder.run("defer", job, "outlet-temp", "--until", "2026-11-26", "--owner", "Tindo Quellaby", "--why", "heater not hot yet", expect=0)
    outcomes = {check["outcome"] for check in folder.json("job", "show", job)["checks"]}
    must({"open", "conforms", "does not conform", "inconclusive", "deferred"} <= outcomes, f"only {outcomes} are shown")
    return job


# What is shown: name, looks and sizes, what is half written there, and the words of the command. The half written words are
# those of src/app/half_typed.hpp: they lead to the forms of a check.
BOTH = (WIDE, TALL)
SHOTS = [
    ("a number", ("sun",), BOTH, "", ["--check", "anchor-torque"]),
    ("a number", ("day", "night"), (TALL,), "", ["--check", "anchor-torque"]),
    ("marks of the plant", ("sun", "day", "night"), (WIDE,), "", ["--check", "pressure-limit-set", "--show", "plant"]),
    ("why and how", ("sun",), (TALL,), "", ["--check", "anchor-torque", "--show", "how"]),
    ("correction", ("sun", "day", "night"), (TALL,), "tank-level\t\t0.4\t\tIN-1\tcorrecting\tdone\tpacked the left foot", ["--check", "tank-level"]),
    ("put off", ("sun",), (WIDE,), "warm-leaks\t\t\t\t\tdeferring\towner\tTindo Quellaby\twhy\tnot warm yet", ["--check", "warm-leaks"]),
    ("photo", ("sun",), (TALL,), "", ["--check", "covering-back"]),
    ("photo", ("day", "night"), (WIDE,), "", ["--check", "covering-back"]),
    ("sign-off", ("sun", "night"), (TALL,), "", ["--screen", "sign"]),
    ("jobs", ("sun",), (WIDE,), "", ["--screen", "jobs"]),
    ("settings", ("sun",), (TALL,), "", ["--screen", "settings"]),
    ("week", ("sun", "day"), (WIDE,), "", ["--screen", "week"]),
    ("lock", ("sun", "day", "night"), (TALL,), "", []),
]

with tempfile.TemporaryDirectory() as name:
    place = pathlib.Path(name)
    folder = Folder()
    job = job_with_every_outcome(folder)
    (folder.data / "photos").mkdir()
    subprocess.run(["convert", "-size", "640x480", "plasma:tan-sienna", "-seed", "7", folder.data / "photos/091.jpg"], check=True)
    locked = Folder()
    locked.run("access", "add", "Tindo Quellaby", "--new-pin-file", locked.write("pin", "482913\n"), expect=0)
    display, found = Screen(place, 1600, 1600), {look: [] for look in LIGHTS}
    try:
        for what, looks, sizes, half, more in SHOTS:
            data = folder.data if more else locked.data
            (data / "half-typed.txt").write_text(f"{job}\t{half}\n" if half else "", encoding="utf-8")
            named = ["--job", job] if more else []
            for look in looks:
                for size in sizes:
                    inked = tiles(shot(display, data, place / "picture.png", look, size, *named, *more), look)
                    must(len(inked) > 150, f"{what}, {look}, {size}: hardly anything is drawn")
                    faint = [tile for tile in inked if tile[0] < LEAST]
                    found[look].append((len(faint), len(inked)))
                    must(len(faint) <= 0.06 * len(inked), f"{what}, {look}, {size}: {len(faint)} of {len(inked)} tiles are faint: {faint}")
                    print(f"{what + ', ' + look + ', ' + size:<40} least {min(inked)[0]:.2f}, {len(faint)} of {len(inked)} tiles under {LEAST}",
                          faint[:6] if faint else "")
                    if (what, look) == ("a number", "night"):
                        night = tiles(luminance(place / "picture.png"), "sun")
    finally:
        display.end()
    shares = {look: sum(f for f, _ in counts) / sum(n for _, n in counts) for look, counts in found.items()}
    for look, share in shares.items():
        must(share <= 0.02, f"{share:.1%} of the tiles with ink of the {look} look are faint in its light")
    # The measure can fail: the night look is for attics.
    lost = sum(1 for tile in night if tile[0] < LEAST) / len(night)
    must(lost > 0.2, f"the night look seems readable in full sun ({lost:.0%} faint): the measure sees nothing")
    print(f"{sum(len(counts) for counts in found.values())} pictures, faint tiles: "
          + ", ".join(f"{share:.1%} of the {look} look" for look, share in shares.items()) + f"; of the night look in full sun {lost:.0%}")
