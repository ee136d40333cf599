"""The demo report passes each point of the checker, and each point notices what is planted against it."""
import pathlib, re, tempfile

import pikepdf
from pikepdf import Dictionary, Name

from accessible import POINTS, findings
from program import PROGRAM, must, run


def element(pdf, kind):
    return next(o for o in pdf.objects if isinstance(o, Dictionary) and o.get("/S") == Name("/" + kind))


def content(pdf, old, new):
    page = pdf.pages[1]
    page.Contents = pdf.make_stream(re.sub(old, new, page.Contents.read_bytes(), count=1, flags=re.S))


def without(where, key):
    return lambda pdf: where(pdf).__delitem__(key)


root = lambda pdf: pdf.Root
SPOILT = {
    "01-003": lambda pdf: content(pdf, rb"BDC\n", b"BDC\n/Artifact BMC EMC\n"),
    "01-005": lambda pdf: content(pdf, rb"\A", b"0 0 9 9 re f\n"),
    "01-006": lambda pdf: element(pdf, "P").__setitem__("/S", Name.Clause),
    "01-007": without(root, "/MarkInfo"),
    "06-003": without(root, "/Metadata"),
    "07-001": without(root, "/ViewerPreferences"),
    "09-004": lambda pdf: element(pdf, "TD").__setitem__("/S", Name.P),
    "10-001": without(lambda pdf: next(o for o in pdf.objects if isinstance(o, Dictionary) and o.get("/Subtype") == Name.Type0),
                      "/ToUnicode"),
    "11-001": without(root, "/Lang"),
    "13-004": without(lambda pdf: element(pdf, "Figure"), "/Alt"),
    "14-002": lambda pdf: element(pdf, "H1").__setitem__("/S", Name.H3),
    "15-003": without(lambda pdf: element(pdf, "TH"), "/A"),
    "19-003": lambda pdf: content(pdf, rb"/P <</MCID \d+>> BDC", b"/P <</MCID 9999>> BDC"),
    "26-001": None,
    "28-004": without(lambda pdf: pdf.pages[0].obj, "/Tabs"),
    "31-009": without(lambda pdf: next(o for o in pdf.objects if isinstance(o, Dictionary) and o.get("/Type") == Name.FontDescriptor),
                      "/FontFile2"),
}

with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder)
    must(run(PROGRAM, "demo", "--into", folder / "house").returncode == 0, "no demo report")
    report = folder / "house/report.pdf"
    job = re.search(r"J-\S+", run(PROGRAM, "job", "list", "--data", folder / "house").stdout).group(0)
    again = folder / "again.pdf"
    must(run(PROGRAM, "reissue", job, "--out", again, "--data", folder / "house").returncode == 0, "not issued again")
    for file in (report, again):
        for point, wrong in findings(file).items():
            must(not wrong, f"{file.name}, {point}: {wrong[:5]}")
        told = run("pdfinfo", file).stdout
        must(re.search(r"Tagged:\s+yes", told), "pdfinfo says untagged")
    words = run("pdfinfo", "-struct-text", report)
    must("Syntax" not in words.stderr, words.stderr)
    # What is read aloud begins with page one and holds its sentences whole.
    spoken = " ".join(re.findall(r'"(.*?)\s*"\n', words.stdout))
    at = [spoken.find(s) for s in ("Handed over, with checks left", "Never go on the roof or open the heater. It can kill.",
                                   "The plant and where each check was made", "What was found and put right", "16.8 N·m, 3, TW-1")]
    must(-1 not in at and at == sorted(at), f"the order of reading: {at}")

    must(set(SPOILT) == {p.__name__[1:].replace("_", "-") for p in POINTS}, "a point is not proved")
    for point, spoil in SPOILT.items():
        pdf = pikepdf.open(report)
        if spoil:
            spoil(pdf)
        kept = {"encryption": pikepdf.Encryption(user="", owner="x", R=4)} if spoil is None else {}
        pdf.save(folder / "spoilt.pdf", **kept)
        must(findings(folder / "spoilt.pdf")[point], f"{point} does not notice what was planted against it")
print(f"the demo report passes {len(POINTS)} points of PDF/UA, and each point is proved")
