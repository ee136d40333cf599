"""Plants each bug of bugs.toml in a copy of the project and demands that its test program goes red.

    bite.py COPY [WORDS…]    COPY is a copy of the project with build/checked configured; it is changed and mended again.
                             With WORDS only the bugs whose names hold one of them.

A program that does not build, or stays green, fails the run.
"""
import pathlib, subprocess, sys, tomllib

copy = pathlib.Path(sys.argv[1])
bugs = tomllib.loads((pathlib.Path(__file__).parent / "bugs.toml").read_text(encoding="utf-8"))["bug"]
if sys.argv[2:]:
    bugs = [bug for bug in bugs if any(word in bug["name"] for word in sys.argv[2:])]
build = copy / "build/checked"
toothless = []


def made(room):
    return subprocess.run(["ninja", "-C", build, f"test_{room}"], capture_output=True, text=True)


def verdict(bug):
    """The exit code of the bug's test program and how many checks it found broken."""
    only = [f"--source-file={bug['only']}"] if "only" in bug else []
    ran = subprocess.run([build / f"test_{bug['test']}", *only], capture_output=True, text=True, cwd=copy)
    return ran.returncode, ran.stdout.count("ERROR: "), "test cases: 0 " not in " ".join(ran.stdout.split())


for bug in {(bug["test"], bug.get("only")): bug for bug in bugs}.values():
    done = made(bug["test"])
    code, _, any_ran = verdict(bug) if done.returncode == 0 else (1, 0, False)
    if code != 0 or not any_ran:
        sys.exit(f"test_{bug['test']} is not green before anything is planted\n{done.stdout[-2000:]}")

for bug in bugs:
    file = copy / bug["file"]
    sound = file.read_text(encoding="utf-8")
    if sound.count(bug["old"]) != 1:
        toothless.append(f"{bug['name']}: its place in {bug['file']} is not there just once")
        continue
    file.write_text(sound.replace(bug["old"], bug["new"]), encoding="utf-8")
    done = made(bug["test"])
    code, broken, _ = verdict(bug) if done.returncode == 0 else (0, 0, True)
    file.write_text(sound, encoding="utf-8")
    if done.returncode != 0:
        toothless.append(f"{bug['name']}: does not build\n{done.stdout[-1500:]}")
    elif code == 0:
        toothless.append(f"{bug['name']}: test_{bug['test']} stayed green")
    else:
        print(f"{bug['name']}: test_{bug['test']} went red, {broken} checks", flush=True)

print(f"{len(bugs) - len(toothless)} of {len(bugs)} planted bugs were noticed")
if toothless:
    sys.exit("\n".join(toothless))
