"""The demo job: its report is sealed, whole, readable, reproducible, and one changed byte is noticed."""
import pathlib, re, tempfile

from program import Folder, PROGRAM, must, run


def but_for_the_seal(pdf):
    """The bytes of a report without the signature itself, which speaks of the moment it was given."""
    kept, seals = re.subn(rb"/Contents\s*<[0-9a-fA-F]+>", b"/Contents<>", pdf.read_bytes())
    must(seals == 1, f"{seals} seals in {pdf}")
    return kept


with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder)
    for name in ("one", "two"):
        done = run(PROGRAM, "demo", "--into", folder / name)
        must(done.returncode == 0, done.stderr)
    report = folder / "one/report.pdf"
    must(but_for_the_seal(report) == but_for_the_seal(folder / "two/report.pdf"), "the same job gave other bytes")

    nss = folder / "nss"
    nss.mkdir()
    run("certutil", "-N", "-d", f"sql:{nss}", "--empty-password")
    signature = run("pdfsig", "-nssdir", f"sql:{nss}", report)
    must("Signature is Valid" in signature.stdout, "pdfsig: " + signature.stdout + signature.stderr)
    must("Total document signed" in signature.stdout, "pdfsig: not the whole file is signed\n" + signature.stdout)
    check = run("qpdf", "--check", report)
    must(check.returncode == 0, "qpdf: " + check.stdout + check.stderr)
    must(report.stat().st_size <= 2_000_000, f"the report has {report.stat().st_size} bytes")

    text = run("pdftotext", "-layout", report, "-").stdout
    for wanted in ("Handed over, with checks left", "16.8 N·m", "does not conform", "Tightened the third anchor again", "18.0 to 22.0 N·m",
                   "Tindo Quellaby", "Ansa Velmorrin", "TW-1"):
        must(wanted in text, f"the report does not say \"{wanted}\"")

    attest = run(PROGRAM, "attest", report, "--json", "--data", folder / "one")
    must(attest.returncode == 0 and '"in_journal":true' in attest.stdout, attest.stdout + attest.stderr)
    bytes_ = bytearray(report.read_bytes())
    must(b"stream" in bytes_, "no stream")
    for share in (0.25, 0.4, 0.6, 0.9):
        changed = bytearray(bytes_)
        changed[int(len(changed) * share)] ^= 1
        file = folder / "changed.pdf"
        file.write_bytes(changed)
        must(run(PROGRAM, "attest", file, "--data", folder / "none").returncode == 1, f"a byte at {share} was not noticed")
        signature = run("pdfsig", "-nssdir", f"sql:{nss}", file)
        must("Signature is Valid" not in signature.stdout, f"pdfsig did not notice a byte at {share}")
    (folder / "longer.pdf").write_bytes(bytes(bytes_) + b"\n% more\n")
    must(run(PROGRAM, "attest", folder / "longer.pdf", "--data", folder / "none").returncode == 1, "appended bytes were not noticed")

    journal = run(PROGRAM, "attest", "--journal", "--json", "--data", folder / "one")
    must(journal.returncode == 0, journal.stdout + journal.stderr)
    eml = (folder / "one/message.eml").read_text(encoding="utf-8", errors="replace")
    must("application/pdf" in eml and "text/calendar" in eml, "the message lacks report or calendar")
print("the demo job is sealed, whole, readable and reproducible")
