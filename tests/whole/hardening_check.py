"""The built program: where it can be attacked less. Read from the file itself with readelf and nm."""
import json, pathlib, re, subprocess, tempfile

from program import PROGRAM, ROOT, must, run


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
    # endbr64, where an indirect jump may land; orq $0, (%rsp), which touches each page of the stack.
    if code.count(b"\xf3\x0f\x1e\xfa") < 1000:
        found.append("indirect jumps may land anywhere")
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
    subprocess.run(["gcc", "-no-pie", "-fno-stack-protector", "-Wl,-z,norelro,-z,lazy,-z,execstack", str(source), "-o", str(weak)],
                   check=True, stderr=subprocess.DEVNULL)
    told = " ".join(faults(*looked_at(weak)) + faults_of_code(weak))
    for words in ("fixed address", "stay writable", "written and run", "no guard", "calls system", "C++ library checks", "the C library checks",
                  "may land anywhere", "jumped over"):
        must(words in told, f"the weak program was not caught: {words}; {told}")

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
    needs = run("dpkg-query", "-W", "-f=${Depends}", wanted).stdout
    stands = {wanted} | set(re.findall(r"[a-z0-9.+-]+", needs))
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
print(f"hardened; {len(needed)} libraries loaded directly, {len(names) - 1} parts listed")
