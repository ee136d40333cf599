"""Several programs at once on one data folder: every reading that was acknowledged is there, every wrong PIN counted."""
import fcntl, json, subprocess, time

from program import PROGRAM, Folder, facts, must

folder = Folder()
job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]


def begun(*words):
    return subprocess.Popen([PROGRAM, *words, "--data", str(folder.data), "--at", folder.now()],
                            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def readings():
    shown = folder.json("job", "show", job)
    return [r["text"] for c in shown["checks"] if c["id"] == "ladder-set" for r in c["readings"]]


wanted = [f"70.{n:02}°" for n in range(24)]
running = [begun("enter", job, "ladder-set", text) for text in wanted]
looking = [begun("job", "show", job, "--json") for _ in range(4)]
done = [(text, run.communicate(), run.returncode) for text, run in zip(wanted, running)]
for look in looking:
    out, err = look.communicate()
    must(look.returncode == 0 and json.loads(out)["job"] == job, err)
refused = [err for _, (_, err), code in done if code != 0]
must(not refused, f"{len(refused)} of {len(done)} readings at once were refused: {refused[:1]}")
must(sorted(readings()) == wanted, f"{sorted(readings())}")
must(folder.json("attest", "--journal")["genuine"], "the chain of readings at once is not whole")

# A program that keeps the folder, as the window does: the other one says so in time, and nothing is half written.
holder = open(folder.data / "writer.lock")
fcntl.flock(holder, fcntl.LOCK_EX)
before = time.monotonic()
late = folder.run("enter", job, "ladder-set", "71°")
waited = time.monotonic() - before
holder.close()
must(late.code == 4 and "Another window or program" in late.err, f"exit {late.code}\n{late.err}")
must(4 < waited < 60, f"it asked again for {waited:.1f} s")
must(sorted(readings()) == wanted, "a refused reading was stored")

# Wrong PINs at once: each is counted, whoever comes first.
pin, wrong = folder.write("pin", "482913\n"), folder.write("wrong", "604417\n")
folder.run("access", "add", "Ilka Marrowby", "--new-pin-file", pin, expect=0)
asked = ("job", "list", "--person", "Ilka Marrowby", "--pin-file")
tries = [begun(*asked, str(wrong)) for _ in range(6)]
told = [run.communicate()[1] for run in tries]
must(all(run.returncode == 1 for run in tries), f"{told}")
must(sum("This is not the PIN" in err for err in told) == 3 and sum("After 3 wrong PINs" in err for err in told) == 3, f"{told}")
kept = json.loads((folder.data / "keys/tries.json").read_text())["tries"]
must([t["wrong"] for t in kept] == [3], f"{kept}")
folder.minutes += 2
must(folder.run(*asked, pin).code == 1, "--at cut the wait short")
folder.end_the_wait()
rights = [begun(*asked, str(pin)) for _ in range(6)]
told = [run.communicate()[1] for run in rights]
must(all(run.returncode == 0 for run in rights), f"{told}")
print(f"{len(wanted)} readings at once, all there; a folder that is held was refused after {waited:.1f} s; 3 of 6 wrong PINs at "
      "once were looked at, the others had to wait; 6 right ones at once came in")
