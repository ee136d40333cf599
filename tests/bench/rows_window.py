"""The window as a program: start, memory and rest beside an empty one; what a whole job costs the battery."""
import contextlib, os, pathlib, statistics, struct, subprocess, tempfile, time

from rows_base import BUILD, QUICK, ROOT, against, folder, many, NOTHING


@contextlib.contextmanager
def display():
    read, write = os.pipe()
    server = subprocess.Popen(["Xvfb", "-displayfd", str(write), "-screen", "0", "1600x1000x24", "-dpi", "96", "-noreset", "-nolisten", "tcp"],
                              pass_fds=[write], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    os.close(write)
    try:
        yield ":" + os.read(read, 16).decode().strip()
    finally:
        server.terminate()
        server.wait()
        os.close(read)


def started(words, screen, frames, **more):
    preload = {"DISPLAY": screen, "LD_PRELOAD": str(BUILD / "libcount_frames.so"), "WM_FRAMES": str(frames), **more}
    return subprocess.Popen(list(map(str, words)), env={**os.environ, **preload}, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def first_frame_ns(words, screen):
    with tempfile.TemporaryDirectory() as place:
        before = time.perf_counter_ns()
        started(words, screen, pathlib.Path(place) / "frames", WM_FRAMES_END="1").wait()
        return time.perf_counter_ns() - before


def drawn(frames):
    return struct.unpack("Q", frames.read_bytes())[0] if frames.exists() else 0


def wake_ups(pid):
    """How often any thread of the process went to sleep by itself, which is how often it was woken."""
    total = 0
    for task in pathlib.Path(f"/proc/{pid}/task").iterdir():
        total += sum(int(line.split()[1]) for line in (task / "status").read_text().splitlines() if line.startswith("voluntary_ctxt"))
    return total


def processor_ticks(pid):
    fields = pathlib.Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return int(fields[11]) + int(fields[12])


def memory_mb(pid):
    """All that lies in memory for it, libraries and the driver too, whoever else uses them."""
    for line in pathlib.Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
        if line.startswith("Rss:"):
            return int(line.split()[1]) / 1024
    return NOTHING


def at_rest(words, screen, seconds):
    """Memory, frames and wake-ups a second of a window that nobody touches."""
    with tempfile.TemporaryDirectory() as place:
        frames = pathlib.Path(place) / "frames"
        window = started(words, screen, frames)
        try:
            last, quiet = None, 0
            for _ in range(1200):  # until what it reads at its start is read and shown
                time.sleep(0.1)
                now = drawn(frames), processor_ticks(window.pid)
                quiet = quiet + 1 if now == last and now[0] > 0 else 0
                last = now
                if quiet >= 20:
                    break
            before, woken = drawn(frames), wake_ups(window.pid)
            time.sleep(seconds)
            return memory_mb(window.pid), (drawn(frames) - before) / seconds, (wake_ups(window.pid) - woken) / seconds
        finally:
            window.terminate()
            window.wait()


def window():
    ours, empty = [BUILD / "witnessmark", "window", "--data", many()[0]], [BUILD / "empty_window"]
    with display() as screen:
        first_frame_ns(ours, screen), first_frame_ns(empty, screen)  # the page cache is warm for both
        pairs = [(first_frame_ns(ours, screen), first_frame_ns(empty, screen)) for _ in range(5 if QUICK else 15)]
        start, other = (statistics.median(side) for side in zip(*pairs))
        mb, frames, woken = at_rest(ours, screen, 3 if QUICK else 20)
        empty_mb, _, empty_woken = at_rest(empty, screen, 3 if QUICK else 20)
    return [against("start to the first frame, 10,000 jobs", "1.3 × an empty GLFW + ImGui window", start, other, 1.3),
            ("memory at rest, 10,000 jobs", "1.2 × the empty window's", f"{mb:.0f} MB ({mb - empty_mb:+.0f} MB)", f"{empty_mb:.0f} MB", mb / empty_mb, 1.2),
            ("frames a second at rest", "0", f"{frames:.2g}", "0", frames, 0.0),
            ("wake-ups a second at rest", "an empty window's", f"{woken:.2g}", f"{empty_woken:.2g}", NOTHING, None)]


def hand():
    """A whole job by one finger in a headless window with its desk: all that its processor does but for the painting of pixels."""
    child = subprocess.Popen([BUILD / "by_hand", "one finger, 1280"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=ROOT)
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = status
    if status != 0:
        return [("processor time of a job of two hours", "–", "the hand could not finish it", "–", NOTHING, None)]
    cpu = usage.ru_utime + usage.ru_stime
    return [("processor time of a job of two hours, one finger, without painting", "–", f"{cpu:.3g} s", "7200 s", cpu / 7200, None)]
