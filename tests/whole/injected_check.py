"""The shipped program under strace: one call to the kernel fails, once, in whatever a person does by command line.

The same as tests/desk/fallible_calls_test.cpp does in memory, but with the program, the libraries and the kernel as they
are; memory that is refused and a network that fails belong to it. Afterwards nothing acknowledged is lost, the chain is
whole, the next reading is taken, the exit code is one of the contract, and a refusal says what and what to do.

A sample in the suite. WM_INJECTIONS=N lets N calls of each kind in each operation fail, each in one way (scripts/soak injected).
"""
import collections, json, os, pathlib, random, re, resource, shutil, socket, subprocess, tempfile, threading

from program import PROGRAM, Folder, facts, must, run

# What the kernel may answer; EINTR must be borne, and so must what is only looked at.
ANSWERS = {
    "openat": ("EACCES", "EMFILE", "EIO"), "read": ("EIO", "EINTR"), "pread64": ("EIO", "EINTR"), "write": ("ENOSPC", "EIO", "EINTR"),
    "pwrite64": ("ENOSPC", "EIO", "EINTR"), "fsync": ("EIO", "ENOSPC"), "fdatasync": ("EIO", "ENOSPC"), "rename": ("EACCES", "EROFS"),
    "unlink": ("EACCES", "EROFS"), "mkdir": ("EACCES", "ENOSPC"), "ftruncate": ("EIO",), "fcntl": ("EIO", "ENOLCK"), "flock": ("EIO",),
    "newfstatat": ("EACCES", "EIO"), "getrandom": ("EINTR",), "mmap": ("ENOMEM",),
    "getdents64": ("EIO",), "clone3": ("EAGAIN",), "clone": ("EAGAIN",), "socket": ("EMFILE", "EACCES"), "connect": ("ECONNREFUSED", "ETIMEDOUT"),
    "sendto": ("ECONNRESET", "EPIPE"), "recvfrom": ("ECONNRESET", "ETIMEDOUT"), "poll": ("EINTR",), "sendmsg": ("ECONNRESET",),
}
AT = "2026-11-25T09:30:00+05:00"
dice = random.Random(9)


def words_of(data, *words):
    return [PROGRAM, *map(str, words), "--data", str(data), "--at", AT]


def traced(data, words, *options):
    return subprocess.run(["strace", "-f", "-qq", *options, *words_of(data, *words)], capture_output=True, text=True, timeout=120)


class Place:
    """A data folder to begin from, and how to tell what it holds."""

    def __init__(self, folder, job):
        self.kept, self.job = folder.data, job

    def copy(self, to):
        shutil.rmtree(to, ignore_errors=True)
        shutil.copytree(self.kept, to)
        return to


def asked(data, *words):
    return subprocess.run(words_of(data, *words, "--json"), capture_output=True, text=True, timeout=60)


def held(data):
    """What must not get less: readings, signatures, jobs, messages; and whether the chain is whole."""
    found, jobs = set(), json.loads(asked(data, "job", "list").stdout)["jobs"]
    for job in jobs:
        shown = json.loads(asked(data, "job", "show", job["job"]).stdout)
        found |= {("job", job["job"])} | {(job["job"], r["entry"]) for c in shown["checks"] for r in c["readings"]}
        found |= {(job["job"], s["role"]) for s in shown["signatures"]}
    whole = json.loads(asked(data, "attest", "--journal").stdout)
    return found, whole["genuine"], whole.get("reasons")


def calls_of(place, words, scratch):
    """How often the program makes each call, and how many of them its loader makes before its own first one."""
    trace = scratch / "trace"
    done = traced(place.copy(scratch / "data"), words, "-o", trace)
    before, all_calls, own = collections.Counter(), collections.Counter(), False
    for line in trace.read_text(errors="replace").splitlines():
        call = re.match(r"\d+\s+(\w+)\(", line)
        if not call:
            continue
        own = own or "/share/" in line and "locale" in line or str(scratch / "data") in line and "execve" not in line
        all_calls[call[1]] += 1
        before[call[1]] += not own
    return {name: (before[name], all_calls[name]) for name in all_calls if name in ANSWERS}, done


def told_well(done, what):
    if done.returncode == 1:
        return  # the answer is no: said on stdout
    lines = [line for line in (done.stderr or "").splitlines() if line.strip()]
    must(lines and len(lines[0]) > 20, f"{what}: it does not say what went wrong: {done.stderr!r}")


def tried(place, name, words, call, error, when, scratch, before, takes_back):
    what = f"{name}: call {when} of {call} fails with {error}"
    data = place.copy(scratch / "data")
    trace = scratch / "trace"
    done = traced(data, words, "-o", trace, "-e", f"trace={call}", "-e", f"inject={call}:error={error}:when={when}")
    must(done.returncode in (0, 1, 3, 4), f"{what}: exit {done.returncode}\n{done.stdout[-500:]}\n{done.stderr[-1500:]}")
    must("Traceback" not in done.stderr and "terminate" not in done.stderr, f"{what}: {done.stderr}")
    # What goes to standard error itself cannot be told there.
    if done.returncode and not re.search(r"write\(2,.*INJECTED", trace.read_text(errors="replace")):
        told_well(done, what)
    now, genuine, reasons = held(data)
    must(genuine, f"{what}: the chain is no longer whole: {reasons}")
    must(takes_back or before <= now, f"{what}: lost {sorted(before - now)[:3]}")
    if done.returncode == 0 and words[0] == "enter":
        must(len(now) > len(before), f"{what}: acknowledged and not there")
    again = subprocess.run(words_of(data, "job", "new", "--checklist", "kit", "--no-facts"), capture_output=True, text=True)
    must(again.returncode == 0, f"{what}: afterwards nothing can be written: {again.stderr}")
    return done.returncode


def limited(place, words, kilobytes, scratch):
    """The program with no more address space than that: every request beyond is refused by the kernel."""
    limit = (kilobytes * 1024, kilobytes * 1024)
    return subprocess.run(words_of(place.copy(scratch / "data"), *words), capture_output=True, text=True, timeout=120,
                          preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, limit))


def least(goes):
    """The least address space, in kilobytes, with which it goes."""
    low, high = 10_000, 4_000_000
    while high - low > 128:
        middle = (low + high) // 2
        low, high = (low, middle) if goes(middle) else (middle, high)
    return high


def short_of_memory(place, name, words, steps, scratch):
    """Between what the program needs to start at all and what the work needs, memory ends somewhere in the work."""
    starts = least(lambda kilobytes: limited(place, ("--help",), kilobytes, scratch).returncode == 0)
    ends = least(lambda kilobytes: limited(place, words, kilobytes, scratch).returncode == 0)
    before, told = held(place.kept)[0], 0
    for step in range(steps):
        kilobytes = starts + 64 + (ends - starts) * step // steps
        done = limited(place, words, kilobytes, scratch)
        what = f"{name} with {kilobytes} kB of address space, {starts} to start and {ends} to do it"
        must(done.returncode in (0, 3, 4), f"{what}: exit {done.returncode} {done.stderr[-300:]}")
        if done.returncode:
            told_well(done, what)
        told += "not enough memory" in done.stderr
        now, genuine, reasons = held(scratch / "data")
        must(genuine and before <= now, f"{what}: {reasons}")
        must(done.returncode != 0 or words[0] != "enter" or len(now) > len(before), f"{what}: acknowledged and not there")
    return told


class Server:
    """Takes mail on loopback without TLS: the program must refuse that, after it has spoken to it."""

    def __init__(self):
        self.socket = socket.create_server(("127.0.0.1", 0))
        self.port = self.socket.getsockname()[1]
        threading.Thread(target=self.serve, daemon=True).start()

    def serve(self):
        while True:
            try:
                one, _ = self.socket.accept()
                with one:
                    one.sendall(b"220 here\r\n")
                    while one.recv(1000):
                        one.sendall(b"250 here\r\n")
            except OSError:
                pass


def prepared(scratch):
    folder = Folder(path=scratch / "crew")
    folder.path.mkdir()
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
    folder.run("near-miss", job, "--why", "A box fell.", expect=0)
    run("convert", "-size", "48x36", "gradient:tan-sienna", folder.path / "photo.jpg")
    password = folder.write("password", "six lanterns\n")
    folder.run("pack", folder.path / "own.bundle", "--password-file", password, expect=0)
    other = Folder(path=scratch / "other")
    other.path.mkdir()
    other.run("unpack", folder.path / "own.bundle", "--password-file", password, expect=0)
    other.run("enter", job, "ladder-set", "71°", expect=0)
    other.run("pack", scratch / "other.bundle", "--password-file", password, expect=0)
    return folder, job, password


def handed_over(scratch):
    """The demo's job: a report and a message that waits."""
    folder = Folder(path=scratch / "demo")
    folder.path.mkdir()
    run(PROGRAM, "demo", "--into", folder.data)
    return folder, folder.json("job", "list")["jobs"][0]["job"]


def main():
    wanted = int(os.environ.get("WM_INJECTIONS", "0"))
    faults = []
    scratch = pathlib.Path(tempfile.mkdtemp())
    folder, job, password = prepared(scratch)
    demo, demo_job = handed_over(scratch)
    begun, done_with = Place(folder, job), Place(demo, demo_job)
    facts_file, photo, out = folder.path / "facts.toml", folder.path / "photo.jpg", scratch / "out"
    server = Server()
    operations = [
        ("a reading", begun, ("enter", job, "ladder-set", "70°")),
        ("a reading with a photo", begun, ("enter", job, "ladder-set", "70°", "--photo", photo)),
        ("a job", begun, ("job", "new", "--checklist", "kit", "--facts", facts_file)),
        ("facts", begun, ("job", "facts", job, "--set", "site.t_min_c=-15")),
        ("a bundle made", begun, ("pack", out, "--password-file", password)),
        ("a bundle taken in", begun, ("unpack", scratch / "other.bundle", "--password-file", password)),
        ("a backup", begun, ("backup",)),
        ("a customer erased", begun, ("erase-customer", job)),
        ("the report again", done_with, ("job", "report", demo_job, "--out", out)),
        ("a message sent", done_with, ("post", "send", "--server", f"smtp://127.0.0.1:{server.port}")),
        ("the week", done_with, ("week", "2026-W36")),
        ("the journal verified", done_with, ("attest", "--journal")),
    ]
    codes, points, seen = collections.Counter(), 0, collections.Counter()
    try:
        for name, place, words in operations:
            calls, sound = calls_of(place, words, scratch)
            must(sound.returncode in (0, 4 if "sent" in name else 0), f"{name}: exit {sound.returncode} undisturbed\n{sound.stderr}")
            before = held(place.kept)[0]
            for call, (loader, count) in sorted(calls.items()):
                whens = range(loader + 1, count + 1)
                some = wanted if wanted else dice.random() < 0.2
                for when in sorted(dice.sample(whens, min(some, len(whens)))):
                    points, seen[call] = points + 1, seen[call] + 1
                    try:
                        codes[tried(place, name, words, call, dice.choice(ANSWERS[call]), when, scratch, before, "erased" in name)] += 1
                    except (AssertionError, ValueError) as fault:
                        faults.append(str(fault))
        steps = max(5, 2 * wanted)
        told = sum(short_of_memory(place, name, words, steps, scratch) for name, place, words in operations[:1] + operations[-2:-1])
        must(told > 0, "memory was never short")
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    must(not faults, f"{points} calls failed, {len(faults)} of them not borne:\n" + "\n".join(faults))
    print(f"{points} calls of {len(seen)} kinds failed in {len(operations)} operations: exit codes {dict(sorted(codes.items()))}; "
          f"memory ended in {2 * steps} runs, {told} said so; nothing acknowledged was lost, the chain is whole")


if __name__ == "__main__":
    main()
