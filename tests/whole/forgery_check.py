"""Altered reports of every published class: `attest` refuses each, and for the reason that belongs to it.

Because the reason is compared, a rule taken out of the program is noticed even where another rule still refuses the file."""
import json, pathlib, sys, tempfile

import forgery_inside, forgery_outside
from forger import Keys, bare, remade, sealed
from program import PROGRAM, must, run


def judged(file, folder, *words):
    answer = run(PROGRAM, "attest", file, "--json", "--data", folder / "none", *words)
    must(answer.returncode in (0, 1), f"exit {answer.returncode}: {answer.stderr}")
    told = json.loads(answer.stdout)
    must(told["genuine"] == (answer.returncode == 0), answer.stdout)
    return told


def main(show):
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        done = run(PROGRAM, "demo", "--into", folder / "house")
        must(done.returncode == 0, done.stderr)
        report = (folder / "house/report.pdf").read_bytes()
        keys = Keys.of_folder(folder / "house")
        file = folder / "report.pdf"
        expect = ("--expect", keys.fingerprint)

        # The forger's tools are good: what they make without an alteration is accepted.
        for name, honest in (("as it is", report), ("sealed by hand", sealed(bare(report), keys)),
                             ("written anew", remade(report, lambda pdf: None, keys))):
            file.write_bytes(honest)
            told = judged(file, folder, *expect)
            must(told["genuine"], f"an honest report, {name}, is refused: {told['reasons']}")

        classes = forgery_outside.CLASSES + forgery_inside.CLASSES
        tried, wrong = 0, []
        for kind, published, attacks in classes:
            count = 0
            for name, altered, words in attacks(report, keys):
                must(altered != report, f"{kind}, {name}: nothing was altered")
                file.write_bytes(altered)
                told = judged(file, folder, *expect)
                count += 1
                if show:
                    print(f"  {kind}: {name}: {told['reasons']}")
                if told["genuine"] or not any(words in reason for reason in told["reasons"]):
                    wrong.append(f"{kind}, {name}: {'accepted' if told['genuine'] else told['reasons']}, expected \"{words}\"")
            must(count >= 3, f"{kind}: only {count}")
            tried += count
            print(f"{count:4} refused: {kind} ({published})")
        must(not wrong, "\n".join(wrong))
        must(tried >= 80 and len(classes) >= 12, f"{tried} altered reports of {len(classes)} classes")
    print(f"{tried} altered reports of {len(classes)} classes refused, each for its reason")


main("--show" in sys.argv)
