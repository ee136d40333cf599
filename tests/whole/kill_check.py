"""The program is killed (SIGKILL) at random moments while it records: what it acknowledged is there, the chain is whole.

This proves the death of the program, not a loss of power: what the kernel holds survives it. For that see
tests/desk/power_loss_test.cpp. WM_KILLS sets the number of kills; scripts/soak kills runs 2000.
"""
import json, os, random, subprocess, time

from program import PROGRAM, Folder, facts, must

kills = int(os.environ.get("WM_KILLS", "60"))
dice = random.Random(9)
folder = Folder()
job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
# The smallest picture there is a decoder for.
photo = folder.path / "photo.ppm"
photo.write_bytes(b"P6 16 12 255\n" + bytes(i * 7 % 251 for i in range(16 * 12 * 3)))
picture = folder.path / "photo.jpg"
subprocess.run(["convert", str(photo), str(picture)], check=True)


def command(number):
    words = [PROGRAM, "enter", job, "ladder-set", f"70.{number:05}°", "--json", "--data", str(folder.data)]
    return words + (["--photo", str(picture)] if number % 3 == 0 else [])


def readings():
    shown = folder.json("job", "show", job)
    return {r["text"] for check in shown["checks"] for r in check["readings"] if r["text"].startswith("70.")}


acknowledged, times = set(), []
for number in range(7):
    began = time.monotonic()
    must(subprocess.run(command(number), capture_output=True).returncode == 0, "a reading undisturbed")
    times.append(time.monotonic() - began)
    acknowledged.add(f"70.{number:05}°")
took = sorted(times)[3]
unknown, killed = set(), 0
while killed < kills:
    number += 1
    run = subprocess.Popen(command(number), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    time.sleep((0.3 + dice.random()) * took)
    run.kill()
    out = run.communicate()[0]
    text = f"70.{number:05}°"
    try:
        json.loads(out)
        acknowledged.add(text)
    except ValueError:
        unknown.add(text)
    killed += run.returncode == -9
    if killed % 25 == 0:
        there = readings()
        must(acknowledged <= there, f"lost after {killed} kills: {sorted(acknowledged - there)}")
        must(there <= acknowledged | unknown, f"never entered: {sorted(there - acknowledged - unknown)}")
there = readings()
must(acknowledged <= there, f"lost: {sorted(acknowledged - there)}")
report = folder.json("attest", "--journal")
must(report["genuine"] is True, f"{report}")
must(folder.run("enter", job, "ladder-set", "70.9°").code == 0, "written on after all the kills")
print(f"{killed} kills among {number} runs: {len(acknowledged)} readings acknowledged, all there; "
      f"{len(unknown & there)} more were stored before the kill; the chain is whole")
