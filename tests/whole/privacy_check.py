"""After erase-customer nothing of the customer is left in any file of the data folder, its bundles and its backups.

Looked for: each word in UTF-8, UTF-16LE and UTF-16BE, in hexadecimal and base64; inside free pages and the log of the
database; inside JPEG files; and whether any key that is left opens what the customer's key had locked.
"""
import base64, json, pathlib, subprocess

from program import Crew, Folder, facts, must, run

NAME, MAIL, PHONE, STREET = "Zephyrine Quolltasker", "zephyrine.quolltasker@example.org", "555-0198877", "Overlook Stair 118"
SAID = "The Quolltasker child sleeps in the attic"
# Pieces long enough not to stand anywhere by chance.
WORDS = [NAME, "Zephyrine", "Quolltasker", MAIL, PHONE, STREET, SAID, "61.8317"]


def spellings(word):
    for coding in ("utf-8", "utf-16-le", "utf-16-be"):
        raw = word.encode(coding)
        yield raw
        yield raw.hex().encode()
        for shift in range(3):
            # What of the word any base64 text holding it must show.
            text = base64.b64encode(b"\0" * shift + raw)
            yield text[4:-4] if len(text) > 16 else text


def found_in(*folders):
    hits = []
    for folder in folders:
        for file in sorted(pathlib.Path(folder).rglob("*")):
            if not file.is_file():
                continue
            content = file.read_bytes()
            hits += [(str(file.relative_to(folder)), word) for word in WORDS
                     if any(s in content for s in spellings(word)) or word.encode() in str(file).encode()]
    return sorted(set(hits))


folder = Folder()
password = folder.write("password", "six lanterns\n")
kept_facts = folder.write("facts.toml", facts(customer__name=f'"{NAME}"', customer__email=f'"{MAIL}"', customer__phone=f'"{PHONE}"',
                                              site__address=f'"{STREET}"', site__longitude="61.8317"))
job = folder.json("job", "new", "--checklist", "commissioning", "--facts", kept_facts)["job"]
neighbour = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("other.toml", facts()))["job"]
crew = Crew(folder, job)
# A picture whose comment and whose Exif words name her: intake must write the picture anew.
picture = crew.photo()
subprocess.run(["convert", picture, "-set", "comment", f"{NAME} {STREET}", picture], check=True)
must(NAME.encode() in picture.read_bytes(), "the picture does not name the customer; this test would prove nothing")
folder.run("near-miss", job, "--why", SAID, expect=0)
crew.do_all()
for role, name in (("crew", "Tindo Quellaby"), ("customer", NAME)):
    folder.run("sign", job, "--as", role, "--name", name, expect=0)
folder.json("handover", job, "--out", folder.path / "report.pdf")
folder.json("backup")
bundle = folder.data / "outgoing.bundle"
folder.run("pack", bundle, "--password-file", password, expect=0)
folder.run("job", "list", expect=0)
folder.run("post", "list", expect=0)

# The window saves mails as open files there, to be carried to another machine.
folder.run("post", "save", folder.data / "outbox", expect=0)
mails = sorted((folder.data / "outbox").iterdir())
must(len(mails) == 1 and found_in(folder.data / "outbox"), "the saved mail does not name the customer; this test would prove nothing")
held = folder.path / "held"
(folder.data / "outbox").rename(held)
# Apart from that, nothing lies open even before. What is locked can be opened as long as the key is there.
must(found_in(folder.data) == [], f"open before the erasure: {found_in(folder.data)}")
shown = folder.json("job", "show", job)
must(shown["facts"]["customer.name"] == NAME, "the customer cannot be read before the erasure")

held.rename(folder.data / "outbox")

week = folder.json("week", "2026-W48")
folder.run("erase-customer", job, expect=0)
must(found_in(folder.data) == [], f"after the erasure: {found_in(folder.data)}")
must(folder.json("attest", "--journal")["genuine"], "the chain does not verify after the erasure")
after = folder.json("job", "show", job)
must(NAME not in json.dumps(after) and MAIL not in json.dumps(after), "the job still shows the customer")
must(folder.json("week", "2026-W48") == week, "the week's figures moved with the erasure")
licences = next(c for c in after["checks"] if c["id"] == "crew-licences")
must(licences["outcome"] == "conforms", f"the licences of the crew went with the customer: {licences['outcome']}")
must(folder.json("job", "show", neighbour)["facts"]["customer.name"] == "Ansa Velmorrin", "the neighbour was erased too")

# A backup made before brings the entries back and not the customer.
folder.json("restore", "--move-aside")
back = folder.json("job", "show", job)
must(NAME not in json.dumps(back) and back["facts"]["customer.name"] == "(erased)", "a restored backup names the customer")
must(folder.json("job", "show", neighbour)["facts"]["customer.name"] == "Ansa Velmorrin", "a restored backup lost the neighbour")
must(folder.json("attest", "--journal")["genuine"], "the restored chain does not verify")
must(found_in(folder.data) == [], f"after the restore: {found_in(folder.data)}")

# A bundle that left before is not called back; taken in again, it brings no words of hers.
folder.run("unpack", bundle, "--password-file", password, expect=0)
must(folder.json("job", "show", job)["facts"]["customer.name"] == "(erased)", "her own bundle brought the customer back")
print(f"{len(WORDS)} words in {len(list(spellings('x')))} spellings, in no file of the folder; chain whole, week unmoved, backup and bundle shut")
