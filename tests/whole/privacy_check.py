"""After erase-customer nothing of the customer is left in any file of the data folder, its bundles and its backups.

Looked for in every byte of every file, free pages and log of the database with them: each word in UTF-8, UTF-16LE and UTF-16BE,
in hexadecimal and base64; the photos, by how a JPEG file begins and by pieces of their own bytes; the customer's key. And every
key that is left is tried on everything that the customer's key had locked. What is locked is read here by another library
(python3-cryptography). A bundle is locked by its password, which opens it for ever: the key in it is not called back.
"""
import base64, json, pathlib, re, sqlite3, subprocess

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM

from program import Crew, Folder, facts, must, run

NAME, MAIL, PHONE, STREET = "Zephyrine Quolltasker", "zephyrine.quolltasker@example.org", "555-0198877", "Overlook Stair 118"
SAID = "The Quolltasker child sleeps in the attic"
# Pieces long enough not to stand anywhere by chance.
WORDS = [NAME, "Zephyrine", "Quolltasker", MAIL, PHONE, STREET, SAID, "61.8317"]


def as_bytes(raw):
    """The bytes as they are, in hexadecimal, and what any base64 text that holds them must show."""
    yield raw
    yield raw.hex().encode()
    for shift in range(3):
        text = base64.b64encode(b"\0" * shift + raw)
        yield text[4:-4] if len(text) > 16 else text


def spellings(word):
    for coding in ("utf-8", "utf-16-le", "utf-16-be"):
        yield from as_bytes(word.encode(coding))


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


# How a JPEG file begins: a marker that may follow SOI, with a length below 256 (ITU-T T.81, B.1.1.3), or a JFIF or Exif name;
# as bytes, in hexadecimal and in base64. So long that locked bytes hardly ever look like it.
JPEG = re.compile(rb"\xff\xd8\xff[\xc0\xc4\xdb\xe0-\xe2\xfe]\x00|JFIF\x00|Exif\x00\x00|ffd8ff(c[04]|db|e[0-2]|fe)00|/9j/4AAQSkZJRg")


def photos_in(folder, photos):
    """Files that hold the beginning of any photo, or a piece of one of these."""
    pieces = {spelt for photo in photos for share in (0.3, 0.5, 0.7, 0.9)
              for spelt in as_bytes(photo[int(len(photo) * share):][:24])}
    found = []
    for file in sorted(f for f in pathlib.Path(folder).rglob("*") if f.is_file()):
        content = file.read_bytes()
        if JPEG.search(content) or any(piece in content for piece in pieces):
            found.append(str(file.relative_to(folder)))
    return found


def opened(key, box, purpose):
    """AES-256-GCM: nonce of 12 bytes, text, tag; the purpose is authenticated (src/digest/box.hpp). None where the key is another."""
    try:
        return AESGCM(key).decrypt(box[:12], box[12:], purpose.encode())
    except (InvalidTag, ValueError):
        return None


def customers_of(box, master):
    text = opened(master, box, "customer keys")
    return {name: bytes.fromhex(key) for name, key in json.loads(text).items()} if text else {}


class Locked:
    """What lies locked in a data folder: words and files, each with its purpose and the customer it belongs to."""

    def __init__(self, data):
        with sqlite3.connect(f"file:{data / 'journal.db'}?mode=ro", uri=True) as journal:
            self.boxes = [(customer, f"words {commitment}", bytes(box))
                          for commitment, customer, box in journal.execute("SELECT commitment, customer, box FROM personal")]
            self.boxes += [(customer, "file", (data / "attachments" / name).read_bytes())
                           for name, customer in journal.execute("SELECT id, customer FROM attachment")]

    def of(self, customer):
        return [(purpose, box) for owner, purpose, box in self.boxes if owner == customer]


def keys_left(folder, master):
    """Every key that some file of the folder gives to who has the folder: written open, or locked under the master key."""
    found = {master}
    for file in (f for f in pathlib.Path(folder).rglob("*") if f.is_file()):
        content = file.read_bytes()
        found.update(bytes.fromhex(digits.decode()) for digits in re.findall(rb"(?<![0-9a-f])[0-9a-f]{64}(?![0-9a-f])", content))
        found.update(customers_of(content, master).values())
    return found


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
master = bytes.fromhex((folder.data / "keys/master.key").read_text().strip())
before, keys = Locked(folder.data), customers_of((folder.data / "keys/customers.box").read_bytes(), master)
who, = {owner for owner, purpose, box in before.boxes if NAME.encode() in (opened(keys[owner], box, purpose) or b"")}
her_key, her_boxes = keys[who], before.of(who)
plain = [opened(her_key, box, purpose) for purpose, box in her_boxes]
must(all(text is not None for text in plain), "the customer's key does not open what is the customer's")
photos = [text for text in plain if text.startswith(b"\xff\xd8\xff")]
must(len(photos) > 1 and any(text.startswith(b"%PDF") for text in plain), f"{len(photos)} photos")
must(photos_in(folder.data, photos) == [], f"a photo lies open before the erasure: {photos_in(folder.data, photos)}")
must(her_key in keys_left(folder.data, master), "the customer's key is not found where it lies; this test would prove nothing")
# The scan finds a photo in each spelling, a piece of one without its beginning, and its beginning alone.
planted = folder.path / "planted"
planted.mkdir()
for number, content in enumerate([photos[0], photos[0].hex().encode(), base64.b64encode(photos[0]), base64.b64encode(b"ab" + photos[0]),
                                  b"x" + photos[0][200:], photos[0][:20], photos[0][:20].hex().encode(), base64.b64encode(photos[0][:20])]):
    (planted / str(number)).write_bytes(content)
must(len(photos_in(planted, photos)) == 8, f"planted photos that are found: {photos_in(planted, photos)}")
# Of what the neighbour has, the same scan opens all, before and after.
other_boxes = [(owner, purpose, box) for owner, purpose, box in before.boxes if owner != who]
must(other_boxes and all(opened(keys[owner], box, purpose) is not None for owner, purpose, box in other_boxes), "the neighbour's boxes")

held.rename(folder.data / "outbox")

week = folder.json("week", "2026-W48")
folder.run("erase-customer", job, expect=0)
must(found_in(folder.data) == [], f"after the erasure: {found_in(folder.data)}")


def nothing_is_left(when):
    left = photos_in(folder.data, photos)
    must(left == [], f"{when} a photo is left: {left}")
    keys = keys_left(folder.data, master)
    must(len(keys) > 2, f"{when} only {len(keys)} keys were tried")
    must(her_key not in keys, f"{when} the customer's key is left")
    for file in (f for f in folder.data.rglob("*") if f.is_file()):
        must(not any(spelt in file.read_bytes() for spelt in as_bytes(her_key)), f"{when} {file.name} holds the customer's key")
    opens = [purpose for purpose, box in her_boxes if any(opened(key, box, purpose) is not None for key in keys)]
    must(opens == [], f"{when} a key that is left opens {opens}")
    still = all(any(opened(key, box, purpose) is not None for key in keys) for _, purpose, box in other_boxes)
    must(still, f"{when} the neighbour's key is gone")


nothing_is_left("after the erasure")
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
nothing_is_left("after the restore")

# A bundle that left before is not called back; taken in again, it brings no words of hers.
folder.run("unpack", bundle, "--password-file", password, expect=0)
must(folder.json("job", "show", job)["facts"]["customer.name"] == "(erased)", "her own bundle brought the customer back")
nothing_is_left("after her own bundle")
print(f"{len(WORDS)} words in {len(list(spellings('x')))} spellings, {len(photos)} photos and the customer's key in no file of the folder, "
      f"{len(her_boxes)} locked pieces shut to every key left; chain whole, week unmoved, backup and bundle shut")
