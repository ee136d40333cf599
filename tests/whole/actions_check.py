"""Every action of the window has a form on the command line: the table of DEVELOPERS.md is made here, and held to the code."""
import re, sys

from program import ROOT, run, PROGRAM, must

# What a person asks for in the window (the alternatives of desk::Intent and screens::Request), and the form that does the same.
ACTIONS = {
    "OpenJob": ("start a job", "job new --checklist --facts --after --practice"),
    "StartJob": ("start a job from a facts file", "job new --checklist --facts --after --practice"),
    "StateFacts": ("state a missing fact", "job facts --set"),
    "TakeReading": ("answer a check, save a reading", "enter --place --instrument --sure --said"),
    "WithPhoto": ("put a picture to a reading", "enter --photo --caption"),
    "CorrectFault": ("correct what does not conform", "correct --done --place --instrument"),
    "DeferCheck": ("put a check off", "defer --until --owner --why"),
    "ConcedeCheck": ("accept as it is", "concede --by --why"),
    "UndoLast": ("undo the last entry", "undo"),
    "ResolveConflict": ("keep one of two readings", "resolve --keep --place"),
    "Sign": ("sign, or say why not", "sign --as --name --strokes --refused"),
    "HandOver": ("hand over, make the report", "handover --out"),
    "NoteNearMiss": ("note what almost went wrong", "near-miss --why"),
    "AbandonJob": ("stop the job and leave it safe", "abandon --done --why"),
    "DecideAction": ("remove the cause of a finding", "act new --week --finding --cause --why --remedy --owner --due"),
    "CarryOutAction": ("say that an action was carried out", "act done --on --note"),
    "CheckEffect": ("look whether an action helped", "act check --days"),
    "EndAction": ("end an action with a reason", "act end --why"),
    "DoubtInstrument": ("doubt a tool", "trace --instrument --from --until --record --as-found --why"),
    "DoubtBatch": ("doubt a batch", "trace --batch --record --why"),
    "OpenRevisit": ("plan a visit", "revisit --why"),
    "TakeComplaint": ("take a customer's call", "complaint --symptom --words --since --air --by"),
    "CloseComplaint": ("say what a complaint came down to", "complaint --close --words --check --proved-in"),
    "VisitForComplaint": ("plan a visit for a complaint", "complaint --revisit"),
    "AskComplaints": ("look what is likely behind a complaint", "complaint"),
    "TakeOverJob": ("take a job over from another", "job take-over --by"),
    "OpenJobView": ("open a job, look at a check", "job show"),
    "AskWeek": ("open a week, or a part of it", "week --list --weeks --crew --check --roof --kind --batch --instrument --street"),
    "AskTrace": ("look what stands on a tool or batch", "trace --instrument --from --until --batch"),
    "SendPost": ("send what waits", "post send"),
    "SavePost": ("save messages as mail files", "post save"),
    "ChooseLook": ("choose the look", "window --theme"),
    "ChooseTextSize": ("choose the size of words", "window --text"),
    "ChooseScale": ("set the ruler", "window --scale"),
    "ChooseSound": ("tones or silence", "window --sound"),
    "ChoosePicturePlace": ("where a picture was taken: in its caption, or left out", "enter --photo --keep-position"),
    "ChoosePhotoFolder": ("the folder that pictures are chosen from", "window --photos"),
    "RegisterInstrument": ("one more instrument for a job", "job instrument --id --type --uncertainty --cal-due"),
    "AskParts": ("parts from the store", "parts"),
    "AskPlan": ("the days ahead", "plan --from --until"),
    "SavePlan": ("the days ahead as a calendar", "plan --out"),
    "SaveReport": ("the report as a file", "job report --out"),
    "SaveParts": ("the sheet to tick", "parts --out"),
    "ChooseLockTime": ("choose when the window locks by itself", "window --lock-after"),
    "Unlock": ("say who is there, with the PIN", "access --person --pin-file"),
    "GivePin": ("give or change a PIN", "access add --role --new-pin-file"),
    "TakePinAway": ("take a PIN away", "access remove"),
    "DraftStep": ("a checklist changed, held against the past, published", "checklist publish --why"),
    "AskRegister": ("instruments, people, checklists", "register --search --sort --csv"),
}
# What has no place in the window yet.
ONLY_BY_COMMAND = set()
# What the window asks for by itself, and no person does.
OWN = {
    "AskPreview": "what a value would mean, while it is typed",
    "AskFiles": "facts files and pictures, looked for again",
    "AskLookOf": "how a picture of the folder looks",
    "KeepSeries": "running series, across a restart",
    "KeepNumber": "a half typed number, across a restart",
    "RingTone": "the tone of an outcome, and of a reading that is due",
    "ProblemUnderstood": "the message on the screen, gone",
    "LockWindow": "the lock, by a key or after the idle time; the command line asks for the PIN each time",
    "Quit": "the window, closed",
}
HEAD = "| in the window | on the command line |\n|---|---|\n"


def alternatives(file, name):
    text = (ROOT / file).read_text(encoding="utf-8")
    body = re.search(rf"using {name} = std::variant<([^;]*)>;", text).group(1)
    return [word.split("::")[-1] for word in re.split(r"[\s,]+", body) if word.split("::")[-1] != "Intent"]


def table():
    rows = dict.fromkeys(f"| {deed} | `{form}` |\n" for deed, form in ACTIONS.values())
    return HEAD + "".join(rows)


if "--table" in sys.argv:
    print(table(), end="")
    sys.exit()

known = alternatives("src/desk/intent.hpp", "Intent") + alternatives("src/screens/world.hpp", "Request")
missing = [one for one in known if one not in ACTIONS and one not in OWN and one not in ONLY_BY_COMMAND]
must(not missing, f"actions of the window without a form on the command line: {missing}")
gone = [one for one in [*ACTIONS, *OWN] if one not in known]
must(not gone, f"the table names what the window does not do: {gone}")
for deed, form in ACTIONS.values():
    words = form.split()
    verbs = [word for word in words if not word.startswith("--")]
    help_text = run(PROGRAM, *verbs, "--help")
    must(help_text.returncode == 0, f"{form}: {help_text.stderr}")
    for option in words:
        must(not option.startswith("--") or option in help_text.stdout, f"{deed}: `{' '.join(verbs)} --help` does not name {option}")
must(table() in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"),
     "the table of DEVELOPERS.md is old: tests/whole/actions_check.py --table")
print(f"{len(ACTIONS)} actions of the window, each with its form; {len(OWN)} things it does by itself")
