"""Where a picture was taken stays out of journal, caption and report unless it is wanted; wanted, it stands in the caption as
the camera wrote it, and the kept picture itself carries no word of it. The Exif data are written by Pillow."""
import subprocess

from PIL import Image
from PIL.TiffImagePlugin import IFDRational as Fraction

from program import Crew, Folder, facts, must, run

# 29° 24.3′ S and 83° 6′ 1.548″ W: both ways in which CIPA DC-008 (2012, 4.6.6, GPSLatitude) lets a camera write minutes.
PLACE = "29.40500° S, 83.10043° W"


def picture(crew):
    file = crew.photo()
    exif = Image.Exif()
    exif[0x8825] = {1: "S", 2: (Fraction(29), Fraction(2430, 100), Fraction(0)),
                    3: "W", 4: (Fraction(83), Fraction(6), Fraction(1548, 1000))}
    Image.open(file).save(file, exif=exif.tobytes())
    must(b"Exif" in file.read_bytes()[:64], "the picture has no Exif data; this test would prove nothing")


def report_of(*wish):
    folder = Folder()
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts()))["job"]
    crew = Crew(folder, job)
    picture(crew)
    crew.do_all(more=wish)
    for role, name in (("crew", "Tindo Quellaby"), ("customer", "Ansa Velmorrin")):
        folder.run("sign", job, "--as", role, "--name", name, expect=0)
    report = folder.path / "report.pdf"
    folder.json("handover", job, "--out", report)
    words = " ".join(subprocess.run(["pdftotext", "-layout", report, "-"], check=True, capture_output=True, text=True).stdout.split())
    run("pdfimages", "-all", report, folder.path / "shown")
    shown = sorted(folder.path.glob("shown*.jpg"))
    must(shown, "the report shows no picture")
    for file in shown:
        must(b"Exif" not in file.read_bytes(), f"{file.name} in the report still carries Exif data")
    return words


plain, wished = report_of(), report_of("--keep-position")
must("29.405" not in plain and "83.100" not in plain, "the place stands in a report whose crew did not want it")
must(PLACE in wished, "the place that was wanted stands in no caption")
print(f"place of a picture left out of one report and kept as {PLACE} in another; no picture in either carries it")
