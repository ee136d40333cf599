"""The built program: where it can be attacked less. Read from the file itself with readelf and nm, and from it while it runs."""
import json, os, pathlib, re, subprocess, tempfile

from hands import Screen, Window
from program import PROGRAM, ROOT, Folder, must, run


def faults(header, segments, dynamic, symbols):
    """Sentences on what is missing, from what the tools print."""
    found = []
    if not re.search(r"Type:\s+DYN", header):
        found.append("the program lies at a fixed address")
    if not any("GNU_RELRO" in line for line in segments.splitlines()) or "NOW" not in dynamic:
        found.append("the tables of addresses stay writable")
    for line in segments.splitlines():
        flags = re.search(r"\s([R ][W ][E ])\s+0x[0-9a-f]+$", line.rstrip())
        if flags and "W" in flags.group(1) and "E" in flags.group(1):
            found.append(f"memory that is written and run: {line.split()[0]}")
    if not any("GNU_STACK" in line for line in segments.splitlines()):
        found.append("nothing says that the stack is not run")
    if "__stack_chk_fail" not in symbols:
        found.append("no guard on the stack")
    for name in ("system", "popen", "execl", "execle", "execlp", "execv", "execve", "execvp", "execvpe", "posix_spawn",
                 "posix_spawnp", "fork", "vfork", "mprotect"):
        if re.search(rf"\bU {name}(@|$)", symbols, re.MULTILINE):
            found.append(f"the program calls {name}")
    if "__glibcxx_assert_fail" not in symbols:
        found.append("the C++ library checks no bounds")
    if not re.search(r"__\w+_chk(@|$)", symbols, re.MULTILINE):
        found.append("the C library checks no bounds")
    return found


def faults_of_code(program):
    """What the compiler put into the functions, counted in the bytes that are run."""
    sections = run("readelf", "-SW", program).stdout
    at, size = (int(number, 16) for number in re.search(r"\.text\s+PROGBITS\s+\w+\s+(\w+)\s+(\w+)", sections).groups())
    code = pathlib.Path(program).read_bytes()[at:at + size]
    found = []
    # endbr64, where an indirect jump may land, is heeded only where the file says that it has them everywhere; the linker drops
    # that note where one part has none, and the start files of Debian's C library have none. So the marks alone promise nothing.
    if "IBT" in run("readelf", "-nW", program).stdout and code.count(b"\xf3\x0f\x1e\xfa") < 1000:
        found.append("says where indirect jumps land, and they may land anywhere")
    # orq $0, (%rsp), which touches each page of the stack.
    if code.count(b"\x48\x83\x0c\x24\x00") < 10:
        found.append("the stack may be jumped over")
    return found


def looked_at(program):
    return [run("readelf", *words, program).stdout for words in (["-hW"], ["-lW"], ["-dW"])] + \
           [run("nm", "-D", "--undefined-only", program).stdout]


missing = faults(*looked_at(PROGRAM)) + faults_of_code(PROGRAM)
must(not missing, f"{PROGRAM}: {missing}")

# A program built the wrong way is told by each of its faults.
with tempfile.TemporaryDirectory() as folder:
    source, weak = pathlib.Path(folder) / "weak.c", pathlib.Path(folder) / "weak"
    source.write_text("#include <stdlib.h>\nint main(void) { return system(\"true\"); }\n")
    subprocess.run(["gcc", "-no-pie", "-fno-stack-protector", "-Wl,-z,norelro,-z,lazy,-z,execstack,-z,ibt", str(source), "-o", str(weak)],
                   check=True, stderr=subprocess.DEVNULL)
    told = " ".join(faults(*looked_at(weak)) + faults_of_code(weak))
    for words in ("fixed address", "stay writable", "written and run", "no guard", "calls system", "C++ library checks", "the C library checks",
                  "may land anywhere", "jumped over"):
        must(words in told, f"the weak program was not caught: {words}; {told}")


def written_and_run(maps):
    """The sizes of what may be written and run at once, in a process as /proc tells it (proc(5)), and what file each is of."""
    found = []
    for line in maps.splitlines():
        span, rights, _, _, _, *name = line.split(maxsplit=5)
        start, end = (int(number, 16) for number in span.split("-"))
        if "w" in rights and "x" in rights:
            found.append((end - start, *name))
    return sorted(found)


def maps_of(process):
    return pathlib.Path(f"/proc/{process.pid}/maps").read_text()


BARE = """
#include <GLFW/glfw3.h>
#include <stdio.h>
#include <unistd.h>
int main(void) {
    GLFWwindow* window = glfwInit() ? glfwCreateWindow(200, 200, "", 0, 0) : 0;
    if (!window) return 1;
    glfwMakeContextCurrent(window);
    glBegin(GL_TRIANGLES);
    glVertex2f(-1, -1), glVertex2f(1, -1), glVertex2f(0, 1);
    glEnd();
    glfwSwapBuffers(window);
    puts("shown"), fflush(stdout);
    return pause();
}
"""


def looked_at_a_command():
    """A command at work, here a whole job with photos, journal, report and seal, has no memory that is both written and run."""
    with tempfile.TemporaryDirectory() as folder:
        at_work = subprocess.Popen([PROGRAM, "demo", "--into", f"{folder}/demo"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        looks = 0
        while at_work.poll() is None:
            try:
                maps = maps_of(at_work)
            except (ProcessLookupError, FileNotFoundError):
                continue
            own = str(pathlib.Path(PROGRAM).resolve()) in maps
            looks += own
            must(not own or not written_and_run(maps), f"a command writes and runs memory: {written_and_run(maps)}")
        must(at_work.returncode == 0 and looks > 20, f"exit {at_work.returncode}, {looks} looks")
    return looks


def of_driver_and_window():
    """What the driver of software OpenGL takes for code it makes while it draws: in a window of GLFW alone, and in ours."""
    with tempfile.TemporaryDirectory() as place:
        place = pathlib.Path(place)
        (place / "bare.c").write_text(BARE)
        subprocess.run(["gcc", place / "bare.c", "-o", place / "bare", "-lglfw", "-lGL"], check=True)
        screen = Screen(place)
        try:
            bare = subprocess.Popen([place / "bare"], env=screen.env, stdout=subprocess.PIPE, text=True)
            must(bare.stdout.readline() == "shown\n", "no bare window came up")
            alone = written_and_run(maps_of(bare))
            bare.terminate()
            bare.wait()
            folder = Folder()
            folder.run("job", "new", "--checklist", "kit", "--no-facts", expect=0)
            window = Window(screen, folder)
            try:
                window.rest()
                return alone, written_and_run(maps_of(window.program))
            finally:
                window.end()
        finally:
            screen.end()


# The way of looking is proved: a program that asks for such memory is seen with it.
asks = "import mmap; kept = mmap.mmap(-1, 12288, prot=7, flags=mmap.MAP_PRIVATE | mmap.MAP_ANONYMOUS); print(flush=True); input()"
asking = subprocess.Popen(["/usr/bin/python3", "-c", asks], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
asking.stdout.readline()
must(written_and_run(maps_of(asking)) == [(12288,)], f"memory written and run is not seen: {written_and_run(maps_of(asking))}")
asking.communicate(b"\n")
# The program lets nobody look into it but root.
running = "not looked at while it runs, which only root may"
if os.geteuid() == 0:
    alone, ours = of_driver_and_window()
    must(alone, "the driver runs nothing that it writes any more: say so in DEVELOPERS.md, and hold the window to none")
    must(ours == alone, f"written and run by the window {ours}, by the driver alone {alone}")
    running = (f"no memory written and run by a command in {looked_at_a_command()} looks, by a window {len(ours)} pieces of "
               f"{sum(size for size, *_ in ours) // 1024} kB, all of the driver")

# No core is written and no other program reads along, before any key is opened.
with tempfile.TemporaryDirectory() as folder:
    run(PROGRAM, "job", "new", "--checklist", "kit", "--no-facts", "--data", folder, "--at", "2026-11-25T09:00:00+05:00")
    trace = pathlib.Path(folder) / "trace"
    run("strace", "-f", "-o", trace, "-e", "trace=prctl,prlimit64,setrlimit,openat", PROGRAM, "job", "list", "--data", folder,
        "--at", "2026-11-25T09:01:00+05:00")
    lines = trace.read_text(errors="replace").splitlines()
    place = lambda words: next((i for i, line in enumerate(lines) if words in line), None)
    key = place("/keys/")
    for words in ("RLIMIT_CORE, {rlim_cur=0", "PR_SET_DUMPABLE, SUID_DUMP_DISABLE"):
        must(key is not None and place(words) is not None and place(words) < key, f"keys are opened before {words}")

# Every library that is loaded stands in the list of parts, with a version.
parts = json.loads(run(ROOT / "scripts/sbom", PROGRAM).stdout)
names = {p["name"]: p for p in parts["packages"]}
must(parts["spdxVersion"] == "SPDX-2.3" and all(p["versionInfo"] for p in parts["packages"]), "the list of parts")
needed = re.findall(r"NEEDED.*\[(lib[^\]]+)\]", run("readelf", "-dW", PROGRAM).stdout)
ids = {p["SPDXID"] for p in parts["packages"]}
must({r["relatedSpdxElement"] for r in parts["relationships"]} == ids, "every part is named by a relation")
# SPDX 2.3, what its JSON form demands (clauses 6 and 7, from memory).
must(parts["dataLicense"] == "CC0-1.0" and parts["SPDXID"] == "SPDXRef-DOCUMENT", "the head of the list of parts")
must(re.fullmatch(r"https?://[^#\s]+", parts["documentNamespace"]), "the name of the list of parts")
must(re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", parts["creationInfo"]["created"]) and parts["creationInfo"]["creators"], "who made it, and when")
must(len(ids) == len(parts["packages"]), "two parts have one id")
for part in parts["packages"]:
    must(re.fullmatch(r"SPDXRef-[A-Za-z0-9.-]+", part["SPDXID"]) and part["name"] and part["downloadLocation"], f"{part}")
    must(part["filesAnalyzed"] is False and "packageVerificationCode" not in part, f"{part['name']}: files that were not analysed")
    must(re.match(r"https?://", part.get("homepage", "http://")), f"{part['name']}: homepage")
    for reference in part.get("externalRefs", []):
        must(re.fullmatch(r"pkg:deb/debian/[a-z0-9.+-]+@[A-Za-z0-9.%~_-]+\?arch=[a-z0-9]+", reference["referenceLocator"]),
             f"{part['name']}: {reference['referenceLocator']}")
# Each library that the project is built with stands in it, as itself or as what it makes the program load.
for wanted in re.findall(r"\blib\S+-dev\b|\bnlohmann\S+-dev\b|\bfonts-\S+", re.search(r'build="(.*?)"', (ROOT / "scripts/deps").read_text(), re.S)[1]):
    # Some name the package of a version, and that the library.
    stands, ask = {wanted}, [wanted]
    for _ in range(2):
        needs = run("dpkg-query", "-W", "-f=${Depends} ", *ask).stdout
        ask = [name for name in re.findall(r"[a-z0-9.+-]+", needs) if name.endswith("-dev")] or ["dpkg"]
        stands |= set(re.findall(r"[a-z0-9.+-]+", needs))
    must(stands & set(names), f"{wanted} of scripts/deps is missing in the list of parts")
# RFC 9116: whom to write to and until when that holds; it is not out of date when the release is made.
security = (ROOT / "assets/security.txt").read_text()
fields = dict(re.findall(r"^([A-Z][A-Za-z-]+): (\S+)$", security, re.M))
must(re.match(r"mailto:|https://|tel:", fields.get("Contact", "")), "security.txt names nobody")
must(fields["Expires"] > parts["creationInfo"]["created"], "security.txt has expired")
must(f"{fields['Policy']}".startswith("https://") and "mailto" in fields["Contact"], "security.txt is not in its form")
for library, package in {"libsqlite3": "libsqlite3-0", "libcrypto": "libssl3", "libsodium": "libsodium23", "libcurl": "libcurl4",
                         "libqpdf": "libqpdf29", "libgmime": "libgmime-3.0-0", "libglfw": "libglfw3"}.items():
    must(any(n.startswith(library) for n in needed), f"{library} is no longer loaded; adjust this list")
    must(package in names, f"{package} is missing in the list of parts")
print(f"hardened; {running}; {len(needed)} libraries loaded directly, {len(names) - 1} parts listed")
