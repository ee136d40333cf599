"""Every command in the guides and on the first page runs, and prints what the guide says ("#>" below it). The hand calculation of
outcomes.md is done again here, with the error function of Python's own library."""
import math, os, pathlib, re, shlex, subprocess, tempfile

from program import PROGRAM, ROOT, must

# What is said to be run as root, or takes longer and is run by another check of the suite.
ELSEWHERE = {"demo --into build/season --weeks 26 --seed 319": "season_check.py", "week 2026-W53 --data build/season": "season_check.py"}
SHARE = str(ROOT)


def run(line, place):
    words = [word.replace("$SHARE", SHARE) for word in shlex.split(line, comments=True)]
    must(words[0] == "witnessmark", f"the guide has a command of another program: {line}")
    environment = dict(os.environ, HOME=str(place), XDG_DATA_HOME="", XDG_CONFIG_HOME="", XDG_STATE_HOME="", WITNESSMARK_SHARE=SHARE)
    done = subprocess.run([PROGRAM, *words[1:]], capture_output=True, text=True, timeout=120, cwd=place, env=environment)
    return done.returncode, done.stdout + done.stderr


def run_all(lines, name):
    commands = 0
    with tempfile.TemporaryDirectory() as place:
        said = ""
        for line in lines:
            if line.startswith("#> "):
                must(line[3:] in said, f"{name}: `{last}` does not print \"{line[3:]}\":\n{said[-1500:]}")
            elif line.strip():
                last = line
                code, said = run(line, pathlib.Path(place))
                must(code == 0, f"{name}: `{line}` ended with {code}:\n{said[-1500:]}")
                commands += 1
    return commands


total = 0
guides = sorted((ROOT / "assets/guide").glob("*.md"))
must(len(guides) == 9, guides)
for guide in guides:
    text = guide.read_text(encoding="utf-8")
    blocks = re.findall(r"^```sh\n(.*?)^```", text, re.M | re.S)
    must(blocks, f"{guide.name} has no command")
    total += run_all("".join(blocks).splitlines(), guide.name)
    for picture in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", text):
        must((guide.parent / picture).exists(), f"{guide.name} shows {picture}, which is not there")
    # A command inside a sentence is at least a form of the program.
    for form in re.findall(r"`witnessmark ([a-z-]+)[^`]*`", text):
        must(subprocess.run([PROGRAM, form, "--help"], capture_output=True).returncode == 0, f"{guide.name}: there is no {form}")
readme = (ROOT / "README.md").read_text(encoding="utf-8")
lines = [line.strip() for line in re.findall(r"^    (witnessmark .*)$", readme, re.M)]
must(len(lines) >= 6, lines)
total += run_all([line for line in lines if re.split(r"\s+#", line)[0].split("witnessmark ")[1].strip() not in ELSEWHERE], "README.md")

# outcomes.md by hand: limit 45.0 °C, U 0.6 K, reading 44.2 °C. Normal distribution by erf; JCGM 106:2012, clause 7.
must(abs(45.0 - 0.6 - 44.4) < 1e-9, "the limit by hand")
by_hand = 0.5 * (1 + math.erf((45.0 - 44.2) / 0.3 / math.sqrt(2)))
must(f"{by_hand:.4f}" in (ROOT / "assets/guide/outcomes.md").read_text(encoding="utf-8"), f"outcomes.md says another probability than {by_hand}")
must(round(1000 * (1 - by_hand)) == 4, by_hand)
print(f"{total} commands of {len(guides)} guides and the first page ran")
