"""The diagnostics that a person may send on, and the log: no name, address, number, folder or machine of anyone is in them,
in any spelling; and what is broken on purpose is found."""
import base64, getpass, os, pathlib, socket

from program import Folder, facts, must

PRIVATE = ["Ansa", "Velmorrin", "555-0142", "ansa@example.org", "Dovetail", "Tindo", "Quellaby", "Brannick", "P-118", "E-204", "H-77",
           "TW-1", "PG-1", "Ostervaun Solar", "mail.ostervaun.example", "postmaster", "wet ladder", "secret-share", "Ansas-house"]


def spellings(word):
    plain = word.encode()
    yield from {plain, plain.lower(), plain.upper(), word.encode("utf-16-le"), word.encode("utf-16-be"), plain.hex().encode(),
                plain[::-1]}
    for shift in range(3):  # wherever in a longer text it begins
        yield base64.b64encode(b"\0" * shift + plain)[4 if shift else 0:-4] or plain


def found_in(data, words):
    return sorted({word for word in words for spelled in spellings(word) if len(spelled) > 3 and spelled in data})


folder = Folder()
secret = folder.path / "secret-share"
secret.mkdir()
folder.data = secret / "Ansas-house"
job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
(folder.data / "settings.toml").write_text(
    '[company]\nname = "Ostervaun Solar"\ncontact = "555-0142"\n[mail]\nserver = "smtps://mail.ostervaun.example"\nuser = "postmaster"\n'
    'Velmorrin = "typed in the wrong place"\n', encoding="utf-8")
folder.run("near-miss", job, "--why", "Tindo slipped on a wet ladder", "--by", "Tindo Quellaby", expect=0)
folder.run("sign", job, "--as", "customer", "--name", "Ansa Velmorrin", expect=1)
folder.run("Ansa", "Velmorrin", expect=2)
folder.run("job", "show", "Velmorrin", expect=None)
bundle = folder.path / "diagnostics.txt"
folder.run("check-up", "--bundle", bundle, expect=0)
text = bundle.read_bytes()
machine = [str(folder.path), socket.gethostname(), os.environ.get("HOME", ""), job]
if getpass.getuser() != "root":
    machine.append(getpass.getuser())
words = PRIVATE + [one for one in machine if len(one) > 3 and one != "/root"]
must(len(found_in((folder.path / "facts.toml").read_bytes(), words)) > 10, "the scan finds nothing where everything is: it cannot fail")
must(found_in(b"x" + base64.b64encode(b"..Velmorrin..") + b"x", ["Velmorrin"]), "the scan does not see through base64")
must(not found_in(text, words), f"the bundle tells {found_in(text, words)}")
shown = text.decode()
for wanted in ("Findings", "System", "Settings that are made", "[company] name", "[mail] server", "Data folder", "The last calls",
               "near-miss exit 0", "sign exit 1", "a form that is none exit 2"):
    must(wanted in shown, f"the bundle lacks {wanted}:\n{shown}")
must(len(shown.splitlines()) < 120 and max(map(len, shown.splitlines())) < 220, "nobody reads a bundle of this size before sending it")
logs = sorted((folder.data / "log").iterdir())
must(logs and not any(found_in(log.read_bytes(), words) for log in logs), "the log tells who it was")

# Broken on purpose, each is found, and what to do is said.
fit = folder.json("check-up")
must(fit["fit"], fit)
(folder.data / "keys/company.key").chmod(0o644)
broken = folder.json("check-up", expect=1)
wrong = [one for one in broken["findings"] if one["state"] == "wrong"]
must(not broken["fit"] and [one["subject"] for one in wrong] == ["keys"] and "chmod 600" in wrong[0]["what_to_do"], broken)
(folder.data / "keys/company.key").chmod(0o600)
(folder.data / "settings.toml").write_text("[mail]\nserver = 7\nserver = 8\n", encoding="utf-8")
wrong = [one["subject"] for one in folder.json("check-up", expect=1)["findings"] if one["state"] == "wrong"]
must(wrong == ["journal"], wrong)
print(f"{len(words)} words of persons, houses and the machine are in neither bundle nor log; what was broken on purpose was found")
