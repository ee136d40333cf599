"""Time stamps: at the handover, missing without network, on a report issued again; judged by openssl, pdfsig and attest."""
import hashlib, json, pathlib, re, tempfile

from forger import TIME_STAMP, slot
from program import Crew, Folder, PROGRAM, facts, must, run
from stamp_server import StampServer


def length_of(der):
    """Of the element at the start, its head included."""
    if der[1] < 128:
        return 2 + der[1]
    count = der[1] & 127
    return 2 + count + int.from_bytes(der[2:2 + count], "big")


def parts_of(report):
    """Signature value and stamp, found by the bytes around them: RFC 5652, section 5.3; RFC 3161, appendix A."""
    begin, end = slot(report)
    seal = bytes.fromhex(report[begin + 1:end - 1].decode())
    at = seal.find(TIME_STAMP)
    if at < 0:
        return None, None
    inside = at + len(TIME_STAMP)
    head = 2 + (seal[inside + 1] & 127 if seal[inside + 1] > 127 else 0)
    stamp = seal[inside + head:]
    stamp = stamp[:length_of(stamp)]
    # The value is the octet string before the unsigned attributes: 04 len 30 …, up to their tag a1.
    values = [m.start() for m in re.finditer(rb"\x04[\x44-\x48]\x30[\x42-\x46]\x02", seal[:at])]
    value = seal[values[-1] + 2:values[-1] + 2 + seal[values[-1] + 1]]
    return value, stamp


def judged(file, *words):
    told = run(PROGRAM, "attest", file, "--json", *words)
    return told.returncode, json.loads(told.stdout)


def check_stamped(report, server, folder):
    value, stamp = parts_of(report.read_bytes())
    must(stamp is not None, f"{report} has no stamp")
    (folder / "value").write_bytes(value)
    (folder / "stamp.der").write_bytes(stamp)
    told = run("openssl", "ts", "-verify", "-data", folder / "value", "-in", folder / "stamp.der", "-token_in",
               "-CAfile", server.folder / "root.pem", "-untrusted", server.folder / "clock.pem")
    must("Verification: OK" in told.stdout + told.stderr, "openssl ts: " + told.stdout + told.stderr)
    code, view = judged(report, "--data", folder / "none")
    must(code == 0 and view["genuine"], str(view))
    must(view["stamped_by"] == "Tarnhollow Clock" and view["stamped_at"].endswith("Z"), str(view))
    signature = run("pdfsig", "-nocert", report)
    must("Signature is Valid" in signature.stdout and "Total document signed" in signature.stdout, signature.stdout)
    must(run("qpdf", "--check", report).returncode == 0, "qpdf does not like the stamped report")
    # Nothing in the stamp is free either: one byte at every 7th place of the whole signature.
    begin, end = slot(report.read_bytes())
    whole = report.read_bytes()
    used = len(whole[begin + 1:end - 1].rstrip(b"0"))
    changed = folder / "changed.pdf"
    for at in range(begin + 1, begin + 1 + used, 97):
        altered = bytearray(whole)
        altered[at] = ord("0") if altered[at] != ord("0") else ord("1")
        changed.write_bytes(altered)
        must(judged(changed, "--data", folder / "none")[0] == 1, f"digit {at - begin} of the signature may be changed")


with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder)
    server = StampServer(folder / "clock")
    house = Folder()
    job = house.json("job", "new", "--checklist", "commissioning", "--facts", house.write("facts.toml", facts()))["job"]
    Crew(house, job).do_all()
    house.run("sign", job, "--as", "crew", "--name", "Tindo Quellaby", expect=0)
    house.run("sign", job, "--as", "customer", "--name", "Ansa Velmorrin", expect=0)

    # At the handover.
    first = house.path / "first.pdf"
    house.run("handover", job, "--out", first, "--stamp", server.url, expect=0)
    must(server.asked == 1, "the stamp server was not asked once")
    check_stamped(first, server, folder)
    must(judged(first, "--data", house.data)[1]["in_journal"], "the journal does not know its own report")

    # Issued again, by an authority with another kind of key, named in the settings; known to the journal by the first.
    other = StampServer(folder / "other", "ec")
    (house.data / "settings.toml").write_text(f'[stamp]\nserver = "{other.url}"\n')
    second = house.path / "second.pdf"
    told = house.run("reissue", job, "--out", second, "--json", expect=0).json
    sum_of_first = hashlib.sha256(first.read_bytes()).hexdigest()
    must(told["first"] == sum_of_first and told["unstamped"] is None, str(told))
    check_stamped(second, other, folder)
    view = judged(second, "--data", house.data)[1]
    must(view["reissue_of"] == sum_of_first and view["in_journal"], str(view))
    text = re.sub(r"\s", "", run("pdftotext", second, "-").stdout)
    must(sum_of_first in text, "the sheet does not name the first report")
    pages = lambda file: int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", file).stdout).group(1))
    must(pages(second) == pages(first) + 1, "the pages are not those of the first and one sheet")

    # The server is gone, lies or is none: sealed all the same, and said.
    other.close()
    answers = {"gone": (other.url, None), "a page": (server.url, lambda question: b"<html>"),
               "old answer": (server.url, lambda question: (server.folder / "answer.tsr").read_bytes()),
               "refuses": (server.url, lambda question: None)}
    for name, (url, answer) in answers.items():
        server.answer = answer
        told = house.run("reissue", job, "--out", house.path / "third.pdf", "--stamp", url, "--json", expect=0).json
        must(told["unstamped"], f"{name}: not said that there is no stamp")
        code, view = judged(house.path / "third.pdf", "--data", house.data)
        must(code == 0 and view["stamped_at"] is None, f"{name}: {view}")
    server.close()
print("stamped at the handover and again, by two kinds of authority; without one the report is sealed all the same")
