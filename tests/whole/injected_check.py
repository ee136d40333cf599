"""The shipped program under strace: one call to the kernel fails, once, in whatever a person does by command line.

The same as tests/desk/fallible_calls_test.cpp does in memory, but with the program, the libraries and the kernel as they
are; memory that is refused and a network that fails belong to it. Afterwards nothing acknowledged is lost, the chain is
whole, the next reading is taken, the exit code is one of the contract, and a refusal says what, where and what to do.

A sample in the suite; what a mail must bear on its way is tried in each run (injected_mail.py). WM_INJECTIONS=N lets N calls of
each kind in each operation fail, each in one way (scripts/soak injected).
"""
import collections, json, os, pathlib, random, re, resource, shutil, signal, subprocess, tempfile

from injected_mail import Narrow, Post, forced, network_calls, short_counts
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
    return subprocess.run(["strace", "-f", "-qq", *options, *words_of(data, *words)], capture_output=True, text=True, timeout=300)


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
    """What must not get less: readings, signatures, jobs; and whether the chain is whole."""
    # Both only read; together they take the time of one.
    attest = subprocess.Popen(words_of(data, "attest", "--journal", "--json"), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    found, jobs = set(), json.loads(asked(data, "job", "list").stdout)["jobs"]
    for job in jobs:
        shown = json.loads(asked(data, "job", "show", job["job"]).stdout)
        found |= {("job", job["job"])} | {(job["job"], r["entry"]) for c in shown["checks"] for r in c["readings"]}
        found |= {(job["job"], s["role"]) for s in shown["signatures"]}
    whole = json.loads(attest.communicate(timeout=60)[0])
    return found, whole["genuine"], whole.get("reasons")


def calls_of(place, words, scratch):
    """How often the program makes each call, how many of them its loader makes before its own first one, and the trace.

    strace counts for each thread by itself, so it is asked for no call beyond those of the thread that makes the most."""
    trace = scratch / "trace"
    done = traced(place.copy(scratch / "data"), words, "-o", trace)
    before, all_calls, own = collections.Counter(), collections.Counter(), False
    lines = trace.read_text(errors="replace").splitlines()
    for line in lines:
        call = re.match(r"(\d+)\s+(\w+)\(", line)
        if not call:
            continue
        own = own or "/share/" in line and "locale" in line or str(scratch / "data") in line and "execve" not in line
        all_calls[call[2], call[1]] += 1
        before[call[2]] += not own
    most = collections.Counter()
    for (name, _), count in all_calls.items():
        most[name] = max(most[name], count)
    return {name: (before[name], count) for name, count in most.items() if name in ANSWERS}, done, lines


def told_well(done, what):
    if done.returncode == 1:
        return  # the answer is no: said on stdout
    lines = [line for line in (done.stderr or "").splitlines() if line.strip()]
    must(lines and len(lines[0]) > 20, f"{what}: it does not say what went wrong: {done.stderr!r}")
    must(len(lines) > 1 and any(re.search(r"\S: \S", line) for line in lines) and len(lines[-1]) > 10,
         f"{what}: it does not say where, and what to do: {done.stderr!r}")


def tried(place, name, words, call, how, when, scratch, before, takes_back, must_fail=False):
    """One run in which that call fails; its exit code, and whether the call was made at all."""
    what = f"{name}: call {when} of {call} fails with {how}"
    data = place.copy(scratch / "data")
    trace = scratch / "trace"
    done = traced(data, words, "-o", trace, "-e", f"trace={call}", "-e", f"inject={call}:{how}:when={when}")
    shown = trace.read_text(errors="replace")
    must("(INJECTED)" in shown or not must_fail, f"{what}: no such call was made")
    must(done.returncode in (0, 1, 3, 4), f"{what}: exit {done.returncode}\n{done.stdout[-500:]}\n{done.stderr[-1500:]}")
    must("Traceback" not in done.stderr and "terminate" not in done.stderr, f"{what}: {done.stderr}")
    # What goes to standard error itself cannot be told there.
    if done.returncode and not re.search(r"write\(2,.*INJECTED", shown):
        told_well(done, what)
    now, genuine, reasons = held(data)
    must(genuine, f"{what}: the chain is no longer whole: {reasons}")
    must(takes_back or before <= now, f"{what}: lost {sorted(before - now)[:3]}")
    if done.returncode == 0 and words[0] == "enter":
        must(len(now) > len(before), f"{what}: acknowledged and not there")
    again = subprocess.run(words_of(data, "job", "new", "--checklist", "kit", "--no-facts"), capture_output=True, text=True)
    must(again.returncode == 0, f"{what}: afterwards nothing can be written: {again.stderr}")
    return done, "(INJECTED)" in shown


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


def short_of_memory(place, name, words, starts, steps, scratch):
    """Between what the program needs to start at all and what the work needs, memory ends somewhere in the work."""
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


def cut_short(place, name, words, lines, steps, scratch):
    """Files may grow to the middle of one of the writes and no further: the kernel itself writes less than asked, then nothing.

    An injected short count would be a lie about bytes that no disk tells. Returns how many counts were short."""
    found = [re.search(r"pwrite64\(\d+, .*, (\d+), (\d+)\)\s+= \d+$", line) for line in lines]
    middles = sorted({int(w[2]) + int(w[1]) // 2 for w in found if w and int(w[1]) > 8})
    must(middles, f"{name}: nothing is written")
    before, short, trace = held(place.kept)[0], 0, scratch / "trace"
    for limit in dice.sample(middles, min(steps, len(middles))):
        what = f"{name} with files of at most {limit} bytes"
        data = place.copy(scratch / "data")
        # Unheeded, the signal would end the program before the answer of the kernel is seen.
        done = subprocess.run(["strace", "-f", "-qq", "-o", trace, "-e", "trace=write,pwrite64", "prlimit", f"--fsize={limit}", "--",
                               *words_of(data, *words)], capture_output=True, text=True, timeout=300,
                              preexec_fn=lambda: signal.signal(signal.SIGXFSZ, signal.SIG_IGN))
        must(done.returncode in (0, 3, 4), f"{what}: exit {done.returncode} {done.stderr[-300:]}")
        if done.returncode:
            told_well(done, what)
        now, genuine, reasons = held(data)
        must(genuine and before <= now, f"{what}: {reasons}, lost {sorted(before - now)[:3]}")
        must(done.returncode != 0 or words[0] != "enter" or len(now) > len(before), f"{what}: acknowledged and not there")
        counts = re.findall(r"write(?:64)?\(\d+, .*, (\d+)(?:, \d+)?\)\s+= (\d+)$", trace.read_text(errors="replace"), re.M)
        short += sum(int(wrote) < int(asked_for) for asked_for, wrote in counts)
    return short


class Mail:
    """The mail of the demo's job on its way, disturbed or not."""

    def __init__(self, post, place, scratch):
        self.post, self.place, self.scratch, self.lost = post, place, scratch, 0
        self.saved = (place.kept / "message.eml").read_bytes()

    def held_against(self, what, done, words):
        data = self.scratch / "data"
        lost = self.post.held_against(what, done, lambda: json.loads(asked(data, "post", "list").stdout)["messages"],
                                      lambda: subprocess.run(words_of(data, *words), capture_output=True, text=True, timeout=120), self.saved)
        self.lost += lost
        return lost

    def narrow(self):
        """Undisturbed, but little goes at once: sent all the same, in one try."""
        trace, way = self.scratch / "trace", Narrow(self.post.url)
        for _ in range(5):  # how much goes at once is up to the kernel
            self.post.begin()
            words = self.post.words(way.url)
            done = traced(self.place.copy(self.scratch / "data"), words, "-o", trace)
            what = "a narrow way to the server"
            must(done.returncode == 0 and self.post.box.kept == [self.saved], f"{what}: exit {done.returncode} {done.stderr}")
            self.held_against(what, done, words)
            sent, received = short_counts(network_calls(trace.read_text(errors="replace").splitlines()))
            if sent and received:
                return sent, received
        raise AssertionError(f"the way was not narrow: {sent} short counts sent, {received} received")


def main():
    wanted = int(os.environ.get("WM_INJECTIONS", "0"))
    faults = []
    scratch = pathlib.Path(tempfile.mkdtemp())
    folder, job, password = prepared(scratch)
    demo, demo_job = handed_over(scratch)
    begun, done_with = Place(folder, job), Place(demo, demo_job)
    facts_file, photo, out = folder.path / "facts.toml", folder.path / "photo.jpg", scratch / "out"
    codes, points, seen, traces = collections.Counter(), 0, collections.Counter(), {}
    steps = max(5, 2 * wanted)

    def one(name, place, words, call, how, when, before, mail=None, must_fail=False):
        """Returns whether the acknowledgement of a mail was lost on its way."""
        nonlocal points
        if mail:
            mail.post.begin()
        try:
            done, failed = tried(place, name, words, call, how, when, scratch, before, "erased" in name, must_fail)
            codes[done.returncode] += failed
            points, seen[call] = points + failed, seen[call] + failed
            return mail is not None and mail.held_against(f"{name}: call {when} of {call}, {how}", done, words)
        except (AssertionError, ValueError, subprocess.TimeoutExpired) as fault:
            faults.append(str(fault))
            return False

    try:
        with Post(scratch) as post:
            mail = Mail(post, done_with, scratch)
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
                ("a message sent", done_with, post.words()),
                ("the week", done_with, ("week", "2026-W36")),
                ("the journal verified", done_with, ("attest", "--journal")),
            ]
            for name, place, words in operations:
                sent = mail if words[0] == "post" else None
                post.begin()
                calls, sound, traces[name] = calls_of(place, words, scratch)
                must(sound.returncode == 0, f"{name}: exit {sound.returncode} undisturbed\n{sound.stderr}")
                must(not sent or post.box.kept == [mail.saved], f"{name}: undisturbed it did not arrive")
                before = held(place.kept)[0]
                for call, (loader, count) in sorted(calls.items()):
                    whens = range(loader + 1, count + 1)
                    some = wanted if wanted else dice.random() < 0.08
                    for when in sorted(dice.sample(whens, min(some, len(whens)))):
                        one(name, place, words, call, f"error={dice.choice(ANSWERS[call])}", when, before, sent)
                if not sent:
                    continue
                for stage, call, when, how in forced(network_calls(traces[name])):
                    one(f"{name}, {stage}", place, words, call, how, when, before, sent, must_fail=True)
                    # How many pieces an answer comes in is not the same in each run: look a little around it.
                    for beside in (1, 2, -1, 3, -2, 4) if "acknowledgement" in stage and not mail.lost else ():
                        if one(f"{name}, {stage}", place, words, call, how, when + beside, before, sent):
                            break
                must(mail.lost > 0, "no acknowledgement was lost on its way")
                narrow = mail.narrow()
        kinds = [call for call in seen if call in ("socket", "connect", "sendto", "sendmsg", "recvfrom", "recvmsg", "poll")]
        must(len(kinds) >= 5, f"of the network only {kinds} failed")
        short = sum(cut_short(place, name, words, traces[name], steps, scratch) for name, place, words in operations[:2])
        must(short > 0, "no write was cut short")
        starts = least(lambda kilobytes: limited(begun, ("--help",), kilobytes, scratch).returncode == 0)
        told = sum(short_of_memory(place, name, words, starts, steps, scratch) for name, place, words in operations[:1] + operations[-2:-1])
        must(told > 0, "memory was never short")
    except (AssertionError, ValueError, subprocess.TimeoutExpired) as fault:
        faults.append(str(fault))  # beside those before it
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    must(not faults, f"{points} calls failed, {len(faults)} of them not borne:\n" + "\n".join(faults))
    print(f"{points} calls of {len(seen)} kinds failed in {len(operations)} operations: exit codes {dict(sorted(codes.items()))}; "
          f"{mail.lost} acknowledgements of a mail were lost, {narrow[0]} sends and {narrow[1]} receives short; {short} writes cut short; "
          f"memory ended in {2 * steps} runs, {told} said so; nothing acknowledged was lost, the chain is whole")


if __name__ == "__main__":
    main()
