"""Installed into a folder, the program finds its share folder, keeps to the XDG folders, and what comes with it is in order:
manual page, completions that complete, desktop entry, software data, bundle type. scripts/package --check does the rest."""
import pathlib, re, shlex, subprocess, tempfile

from program import PROGRAM, ROOT, facts, must

BUILD = pathlib.Path(PROGRAM).resolve().parent
APP = "example.witnessmark.Witnessmark"
temporary = tempfile.TemporaryDirectory()
place = pathlib.Path(temporary.name)
ENVIRONMENT = {"HOME": str(place / "home"), "PATH": f"{place}/usr/bin:/usr/bin:/bin", "LC_ALL": "C.UTF-8", "TERM": "dumb"}
(place / "home").mkdir()


def run(*words, expect=0, extra=None, **more):
    done = subprocess.run([str(w) for w in words], capture_output=True, text=True, timeout=120, cwd=place,
                          env=ENVIRONMENT | (extra or {}), **more)
    if expect is not None:
        must(done.returncode == expect, f"{words}: exit {done.returncode}\n{done.stdout[-2000:]}{done.stderr[-2000:]}")
    return done


def install():
    built = subprocess.run(["ninja", "-C", str(BUILD), "manuals"], capture_output=True, text=True)
    must(built.returncode == 0, built.stdout + built.stderr)
    run("cmake", "--install", BUILD, "--prefix", place / "usr")


def check_places():
    (place / "facts.toml").write_text(facts(), encoding="utf-8")
    job = run("witnessmark", "job", "new", "--checklist", "commissioning", "--facts", "facts.toml").stdout.split()[0]
    must((place / "home/.local/share/witnessmark/journal.db").exists(), "the data folder is not where XDG says")
    must((place / "home/.local/share/witnessmark").stat().st_mode & 0o077 == 0, "others may look into the data folder")
    elsewhere = {"XDG_DATA_HOME": str(place / "data"), "XDG_CONFIG_HOME": str(place / "config")}
    (place / "config/witnessmark").mkdir(parents=True)
    (place / "config/witnessmark/settings.toml").write_text('[mail]\nserver = "smtp://127.0.0.1:9"\n', encoding="utf-8")
    run("witnessmark", "job", "new", "--checklist", "commissioning", "--facts", "facts.toml", extra=elsewhere)
    must((place / "data/witnessmark/journal.db").exists(), "XDG_DATA_HOME is not followed")
    # Without a server named in the settings this would be wrong use.
    run("witnessmark", "post", "send", extra=elsewhere, expect=0)
    run("witnessmark", "post", "send", expect=2)
    # A data folder that is named keeps its settings itself, and a settings file in it goes before the other.
    run("witnessmark", "post", "send", "--data", place / "own", extra={"XDG_CONFIG_HOME": str(place / "config")}, expect=2)
    (place / "data/witnessmark/settings.toml").write_text("[mail]\n", encoding="utf-8")
    run("witnessmark", "post", "send", extra=elsewhere, expect=2)
    # A relative path is none (XDG base directory specification 0.8).
    run("witnessmark", "job", "list", extra={"XDG_DATA_HOME": "data"})
    must(job in run("witnessmark", "job", "list", extra={"XDG_DATA_HOME": "data"}).stdout, "a relative XDG_DATA_HOME is followed")
    return job


def check_data():
    share = place / "usr/share"
    entries = list((share / "applications").glob("*.desktop"))
    must(len(entries) == 2, entries)
    run("desktop-file-validate", *entries)
    run("appstreamcli", "validate", "--no-net", share / f"metainfo/{APP}.metainfo.xml")
    run("update-mime-database", share / "mime")
    must("application/x-witnessmark-bundle:*.bundle" in (share / "mime/globs2").read_text(), "bundles have no type")
    must(run("witnessmark", "--version").stdout.split()[1] in (share / f"metainfo/{APP}.metainfo.xml").read_text(),
         "the software data names another version")
    changelog = (ROOT / "assets/install/debian/changelog").read_text(encoding="utf-8")
    must(f"({run('witnessmark', '--version').stdout.split()[1]})" in changelog.splitlines()[0], "the changelog names another version")
    for side in 48, 256:
        icon = (share / f"icons/hicolor/{side}x{side}/apps/witnessmark.png").read_bytes()
        must(int.from_bytes(icon[16:20], "big") == side == int.from_bytes(icon[20:24], "big"), f"the icon of {side} is another size")


def check_manual():
    page = place / "usr/share/man/man1/witnessmark.1.gz"
    shown = run("man", "--warnings", "-E", "UTF-8", "-l", "-Tutf8", "-Z", page, extra={"MANROFFSEQ": ""})
    must(shown.stderr == "", f"man complains: {shown.stderr}")
    words = re.sub(r"\x1b\[[0-9;]*m|.\x08", "", run("man", "-l", page, extra={"MANWIDTH": "100", "MANPAGER": "cat"}).stdout)
    overview = run("witnessmark", "--help").stdout
    forms = set(re.findall(r"^witnessmark ([a-z-]+)", overview, re.M))
    must(len(forms) > 30, forms)
    for form in forms:
        must(re.search(rf"^ +{form}$", words, re.M), f"the manual page has no section on {form}")
        help_words = run("witnessmark", form, "--help").stdout
        for option in re.findall(r"^  (--[a-z-]+)", help_words, re.M):
            must(option in words, f"the manual page does not name {option} of {form}")
    return forms


def read_options():
    """What each form asks of its arguments, read out of the code, stands in its help: a hidden option helps nobody."""
    hidden = []
    table = (ROOT / "src/app/options.cpp").read_text(encoding="utf-8")
    named = set(re.findall(r'^        \{"([a-z-]+)", Value', table, re.M))
    all_help = run("witnessmark", "--help").stdout
    usage = set(re.findall(r"--([a-z-]+)", all_help)) | {"data", "at", "json", "help", "version", "person", "pin-file"}
    for option in named - usage:
        hidden.append(f"--{option} stands in no usage line")
    for file in sorted((ROOT / "src/app").glob("*.cpp")):
        for option in re.findall(r'arguments\.(?:has|value|values)\("([a-z-]+)"', file.read_text(encoding="utf-8")):
            if option not in named:
                hidden.append(f"{file.name} asks for --{option}, which no table has")
    for option in usage - named:
        hidden.append(f"--{option} is in a usage line and not in the table")
    must(not hidden, "\n".join(hidden))
    return len(named)


def bash(line):
    script = place / "usr/share/bash-completion/completions/witnessmark"
    # Words as readline parts them: "=" is one of its own.
    words = re.findall(r"=|[^\s=]+", line) + ([""] if line.endswith((" ", "=")) else [])
    return set(run("bash", "-c", f'compopt() {{ :; }}; source {script}; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _witnessmark; '
                   'printf "%s\\n" "${COMPREPLY[@]}"', "bash", *words).stdout.split())


def zsh_all(expected):
    """One shell at a terminal: types each line, asks for the list, reads until a wanted word is shown and it is quiet."""
    lines = [line for line, _, _ in expected]
    typed = "\n".join(f"ask {shlex.quote(line)} {shlex.quote(max(wanted, default=str()).strip('-/'))}" for line, wanted, _ in expected)
    script = f"""
zmodload zsh/zpty zsh/zselect
zpty -b z zsh -f -i
quiet() {{  # until nothing came for so many hundredths of a second
    local part calm=0
    shown=
    for ((n = 0; n < 400 && calm < $1; n++)); do
        if zpty -r -t z part; then shown+=$part; calm=0; else zselect -t 1; ((calm++)); fi
    done
}}
ask() {{
    zpty -n -w z $'\\x15'"$1"$'\\x19'
    local all= tries
    for ((tries = 0; tries < 16; tries++)); do
        quiet 50
        all+=$shown
        # The line itself is shown first; the word must come behind it.
        if [[ ${{all#*$1}} = *$2* ]]; then break; fi
    done
    print -r -- "$all"$'\\x1e'
}}
zpty -w z 'PS1=; PROMPT_EOL_MARK=; stty columns 300 rows 100; fpath=({place}/usr/share/zsh/vendor-completions $fpath); autoload -Uz compinit; compinit -D -u'
zpty -w z 'LISTMAX=1000; zle -C list-all list-choices _main_complete; bindkey "^Y" list-all; print READ""Y'
for ((tries = 0; tries < 60; tries++)); do
    quiet 50
    all+=$shown
    if [[ $all = *READY* ]]; then break; fi
done
{typed}
"""
    parts = run("zsh", "-f", "-c", script).stdout.split("\x1e")
    return {line: set(re.findall(r"[\w.-]+", re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", " ", part))) for line, part in zip(lines, parts)}


def fish(line):
    script = place / "usr/share/fish/vendor_completions.d/witnessmark.fish"
    return {row.split("\t")[0] for row in run("fish", "--no-config", "-c", f"source {script}; complete -C {line!r}").stdout.splitlines()}


def check_completions(forms, job):
    (place / "plan.toml").write_text("")
    (place / "folder").mkdir()
    data = f"{place}/home/.local/share/witnessmark"
    expected = [  # what is on the line, what must be offered, what must not
        ("witnessmark ", forms, {"night"}),
        ("witnessmark ha", {"handover"}, {"house"}),
        ("witnessmark job ", {"new", "list", "show", "facts", "instrument", "take-over", "report"}, {"handover"}),
        ("witnessmark job new --check", {"--checklist"}, {"--check", "--theme"}),
        ("witnessmark job new --checklist ", {"survey", "kit", "commissioning", "service"}, {"crew"}),
        ("witnessmark job new --checklist survey --facts p", {"plan.toml"}, {"survey"}),
        ("witnessmark window --theme ", {"day", "night", "sun"}, {"how"}),
        ("witnessmark job show ", {job}, {"list"}),
        ("witnessmark --json job show ", {job}, {"list"}),
        (f"witnessmark enter {job} site-w", {"site-weather"}, {"anchor-torque"}),
        (f"witnessmark job --data {data} show ", {job}, set()),
        (f"witnessmark job --data {place}/folder show ", set(), {job}),
        ("witnessmark demo --into fol", {"folder/"}, {"plan.toml"}),
        ("witnessmark lint p", {"plan.toml"}, {"folder"}),
        ("witnessmark manual ", {"page", "bash", "zsh", "fish"}, {job}),
        ("witnessmark post send --pass", {"--password-file"}, {"--server"}),
    ]
    shown = zsh_all(expected)

    def zsh(line):
        return shown[line]

    for shell in bash, zsh, fish:
        for line, wanted, unwanted in expected:
            # A list may be drawn so that the dashes or the stroke of a folder are apart.
            offered = {word.strip("-/") for word in shell(line)}
            missing = {word.strip("-/") for word in wanted} - offered
            must(not missing, f"{shell.__name__}: `{line}` does not offer {missing}: {sorted(offered)[:40]}")
            typed = set(re.findall(r"[\w.-]+", line))
            wrong = {word for word in unwanted if word.strip("-/") in offered and word not in typed}
            must(not wrong, f"{shell.__name__}: `{line}` offers {wrong}")
    return len(expected)


install()
job = check_places()
check_data()
forms = check_manual()
options = read_options()
lines = check_completions(forms, job)
print(f"installed: {len(forms)} forms and {options} options in help, manual page and completions; {lines} lines complete in three shells")
