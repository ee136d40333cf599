"""Reads with other people's code what our readers read, and says where they differ.

    second_reader.py KIND ROWS    ROWS: one JSON list a line, the input in hexadecimal and what ours made of it

Exit 1 when what ours accepted, or read, is not what the second reader accepts, or reads. A refusal of ours alone is counted:
ours take one form of a file where the standard allows several. Second readers: tarfile and csv of Python 3.11, `openssl cms` and
`openssl ts` 3.0, Ed25519 of python3-cryptography, Pillow 9.4, xml.etree of Python 3.11,
pdfinfo and pdfsig of poppler 22.12.
"""
import collections, csv, datetime, hashlib, io, json, os, pathlib, re, subprocess, sys, tarfile, tempfile, warnings
import xml.etree.ElementTree as etree

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from PIL import Image

warnings.simplefilter("ignore")  # of Pillow, about spoilt EXIF

scratch = pathlib.Path(tempfile.mkdtemp())


def written(name, content):
    path = scratch / name
    path.write_bytes(content)
    return path


def openssl(*words):
    return subprocess.run(["openssl", *map(str, words)], capture_output=True)


def tar_parts(content):
    """[name, SHA-256] of each plain file, or None where that is no tar of plain files."""
    try:
        with tarfile.open(fileobj=io.BytesIO(content), mode="r:") as tar:
            members = tar.getmembers()
            if not members or not all(m.isreg() for m in members):
                return None
            return [[m.name, hashlib.sha256(tar.extractfile(m).read()).hexdigest()] for m in members]
    except (tarfile.TarError, OSError, ValueError, EOFError):
        return None


def tar(content, ours):
    theirs = tar_parts(content)
    if ours is None:
        return None, theirs is not None
    return (None if theirs == ours else f"ours {ours}, tarfile {theirs}"), False


def bundle(content, ours):
    """Genuine for us: every file is in the manifest with its hash, and the manifest is signed by its maker."""
    def sound():
        try:
            with tarfile.open(fileobj=io.BytesIO(content), mode="r:") as opened:
                parts = {m.name: opened.extractfile(m).read() for m in opened.getmembers()}
            text, signature = parts.pop("manifest.json"), bytes.fromhex(parts.pop("manifest.sig").decode())
            manifest = json.loads(text)
            Ed25519PublicKey.from_public_bytes(bytes.fromhex(manifest["public_key"])).verify(signature, b"witnessmark bundle\n" + text)
            return {f["name"]: f["sha256"] for f in manifest["files"]} == {n: hashlib.sha256(p).hexdigest() for n, p in parts.items()}
        except (tarfile.TarError, OSError, KeyError, ValueError, AttributeError, TypeError, InvalidSignature):
            return False
    theirs = sound()
    return ("genuine for us alone" if ours and not theirs else None), theirs and not ours


def seal(der, ours):
    """ours: [valid, strict, signed bytes in hex, root certificate in hex]. Strict: neither may accept what the other refuses."""
    valid, strict, content, root = ours
    ca = written("root.der", bytes.fromhex(root))
    pem = openssl("x509", "-inform", "DER", "-in", ca).stdout
    done = openssl("cms", "-verify", "-binary", "-inform", "DER", "-in", written("seal", der), "-content",
                   written("content", bytes.fromhex(content)), "-CAfile", written("root.pem", pem), "-purpose", "any", "-no_check_time",
                   "-out", scratch / "out")
    theirs = done.returncode == 0
    wrong = (valid and not theirs) or (strict and valid != theirs)
    return (f"ours {valid}, openssl {theirs}: {done.stderr[-200:]}" if wrong else None), theirs and not valid


def stamp(answer, ours):
    """ours: [accepted, strict, request in hex, certificate of the authority in PEM]."""
    accepted, strict, request, authority = ours
    done = openssl("ts", "-verify", "-in", written("reply", answer), "-queryfile", written("query", bytes.fromhex(request)),
                   "-CAfile", written("tsa.pem", authority.encode()), "-no_check_time")
    theirs = done.returncode == 0
    wrong = (accepted and not theirs) or (strict and accepted != theirs)
    return (f"ours {accepted}, openssl {theirs}: {done.stderr[-200:]}" if wrong else None), theirs and not accepted


NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")
ACTS = "=+-@＝＋－＠"


def table(content, ours):
    """ours: rows of cells. The same cells come back but for the apostrophes, and under no separator does one act."""
    text = content.decode("utf-8", "surrogateescape")
    read = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    if [[c.replace("'", "") for c in row] for row in read] != [[c.replace("'", "") for c in row] for row in ours]:
        return f"read back as {read}", False
    for separator in ",;\t":
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator):
            for cell in row:
                # Whoever pastes has a cell for each line as well.
                for line in re.split("[\r\n]", cell):
                    bare = re.sub('^[\\x00-\\x20"]+', "", line)
                    if bare[:1] in ACTS and bare and not NUMBER.fullmatch(re.split("[,;\t]", bare)[0].rstrip(' "')):
                        return f"{cell!r} acts where cells end at {separator!r}", False
    return None, False


def photo(content, ours):
    """ours: [width, height, orientation] of a sound JPEG. Pillow reads the markers by itself and leaves only the lines to libjpeg."""
    try:
        picture = Image.open(io.BytesIO(content), formats=["JPEG"])
        turn = picture.getexif().get(0x0112, 1)
    except (OSError, SyntaxError, ValueError):
        # Bytes between two markers: ours skip them, every pixel being there, as jpeg_coder.cpp says.
        return None, OURS_ALONE
    # EXIF 2.3, table 6: any other value is reserved.
    theirs = [*picture.size, turn if turn in range(1, 9) else 1]
    # EXIF 2.3, 4.5.4: one such segment. Of several, doubled by chance, ours takes the first and Pillow another.
    if content.count(b"Exif") > 1 and theirs[:2] == ours[:2]:
        return None, OUTSIDE
    return (None if theirs == ours else f"ours {ours}, Pillow {theirs}"), ""


def told(words, name):
    """What stands behind the name in a table of poppler's; "" where it is not there."""
    return next((line.split(":", 1)[1].strip() for line in words.split("\n") if line.strip(" -").startswith(name + ":")), "")


def report(content, ours):
    """ours: None where the report is not genuine, else what it says of itself; no number of pages where we do not know it."""
    file = written("report.pdf", content)
    run = lambda *line: subprocess.run([*line, file], capture_output=True, text=True, errors="replace", env={**os.environ, "TZ": "UTC"})
    seal = run("pdfsig", "-nocert")
    is_sealed = all(seal.stdout.count(words) == 1 for words in ("Signature #", "Total document signed", "Signature is Valid"))
    if ours is None:
        return None, is_sealed
    about = run("pdfinfo", "-custom", "-enc", "UTF-8")
    pages = told(run("pdfinfo", "-enc", "UTF-8").stdout, "Pages")
    signed_at = datetime.datetime.fromisoformat(ours["signed_at"]).astimezone(datetime.timezone.utc)
    ranges = [list(map(int, both)) for both in re.findall(r"\[(\d+) - (\d+)\]", told(seal.stdout, "Signed Ranges"))]
    theirs = {"job": told(about.stdout, "WitnessmarkJob"), "head": told(about.stdout, "WitnessmarkHead"),
              "signer": told(seal.stdout, "Signer Certificate Common Name"), "signed_at": told(seal.stdout, "Signing Time"),
              "ranges": ranges, "pages": int(pages or 0)}
    wanted = {**ours, "signed_at": signed_at.strftime("%b %d %Y %H:%M:%S"), "pages": ours["pages"] or theirs["pages"]}
    complaints = about.stderr if is_sealed else seal.stdout + seal.stderr
    same = theirs == wanted and is_sealed and about.returncode == 0 and theirs["pages"] > 0 and not complaints
    return (None if same else f"ours {wanted}, poppler {theirs} {complaints}"), ""


# SVG 1.1, 9.7.1 and 8.3.9, of the latter M and L alone, each number as "n".
DRAWN = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
POINTS = r"[ \t\r\n]*n(?:[ \t\r\n]*(?:,[ \t\r\n]*)?n)*[ \t\r\n]*"
LINES = {"polyline": (re.compile(POINTS), "points"), "path": (re.compile(rf"[ \t\r\n]*M{POINTS}(?:[ML]{POINTS})*"), "d")}
OUTSIDE = "not of the form that both read"
# Ours looks for elements and attributes, and passes over the rest of XML; a namespace of one's own, an entity, a comment are rest.
REST_OF_XML = re.compile(rb"""<[!?]|&|'|<[\w.-]+:|<(?:polyline|path)[\w.-]|[\t\r\n](?:points|d|data-ms)[\s=]|\s=|=\s""")


def strokes(content, ours):
    """ours: strokes of [x, y, ms], or None. A file of our subset of SVG is read as a reader of XML reads it."""
    try:
        drawing = etree.fromstring(content)
    except (etree.ParseError, ValueError, LookupError):
        return None, OUTSIDE
    if REST_OF_XML.search(content) or any(">" in value for element in drawing.iter() for value in element.attrib.values()):
        return None, OUTSIDE
    theirs, timed, count = [], [], 0
    for element in drawing.iter():
        form, name = LINES.get(element.tag.split("}")[-1], (None, ""))
        data = element.get(name)
        if form is None or data is None:
            continue
        pieces = [[float(number) for number in DRAWN.findall(piece)] for piece in data.split("M")]
        if not form.fullmatch(DRAWN.sub("n", data)) or any(len(numbers) % 2 for numbers in pieces):
            return None, OUTSIDE
        lines = [list(zip(numbers[::2], numbers[1::2])) for numbers in pieces if numbers]
        times = element.get("data-ms", "")
        is_timed = len(lines) == 1 and re.fullmatch(r"-?\d{1,9}(?: -?\d{1,9})*", times) and times.count(" ") + 1 == len(lines[0])
        for line in lines:
            with_time = zip(line, map(int, times.split()) if is_timed else [None] * len(line))
            # Beyond ten metres nobody draws.
            kept = [[x, y, ms] for (x, y), ms in with_time if abs(x) <= 10_000 and abs(y) <= 10_000]
            count += len(kept)
            if len(kept) > 1:
                theirs.append(kept)
    if not theirs or count > 20_000:
        theirs = None
    bare = ours and [[[x, y, None if t is None else ms] for (x, y, ms), (_, _, t) in zip(*both)] for both in zip(ours, theirs or [])]
    sizes = ours and list(map(len, ours)) == list(map(len, theirs or []))
    same = bare == theirs and sizes if ours and theirs else ours == theirs
    return (None if same else f"ours {str(ours)[-400:]}, xml.etree {str(theirs)[-400:]}"), ""


OURS_ALONE = "taken by ours alone"
look = {"tar": tar, "bundle": bundle, "seal": seal, "stamp": stamp, "table": table, "photo": photo, "strokes": strokes,
        "report": report}[sys.argv[1]]
rows, aside, faults = 0, collections.Counter(), []
for line in pathlib.Path(sys.argv[2]).read_text().splitlines():
    given, ours = json.loads(line)
    fault, left = look(bytes.fromhex(given), ours)
    rows += 1
    aside["refused by ours alone" if left is True else left or ""] += 1
    if fault:
        faults.append(f"{fault}\n  {given[:800]}")
if aside[OURS_ALONE] > rows / 20:
    faults.append("more than one in twenty is taken by ours alone")
words_aside = "".join(f"{count} {words}, " for words, count in aside.items() if words)
print(f"{sys.argv[1]}: {rows} read a second time, {words_aside}{len(faults)} read otherwise")
print("\n".join(faults[:5]))
sys.exit(bool(faults) or rows == 0)
