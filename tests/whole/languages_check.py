"""The catalogues hold every text of the code, with the plurals, dates and numbers that people of the language write; and the
report of a house is in the language of its customer, with the evidence in English beside it.

Plurals, dates, numbers and units are compared with Unicode CLDR as python3-babel carries it. That Spanish writes four
digits without a mark is CLDR's minimumGroupingDigits, which this version of babel does not read: from memory."""
import datetime, email, email.policy, gettext, pathlib, re, struct, subprocess, tempfile

import pikepdf, polib
from babel import Locale
from babel.dates import format_date
from babel.numbers import format_decimal
from babel.units import format_unit

from program import ROOT, Crew, Folder, facts, must, run

KEYWORDS = ["--keyword", "--keyword=text:1,1t", "--keyword=text:1c,2,2t", "--keyword=counted:1,2", "--keyword=marked:1,1t",
            "--keyword=marked:1c,2,2t"]
LANGUAGES = ("de", "es", "el", "uk")
CATALOGUES = {code: polib.pofile(str(ROOT / f"assets/languages/{code}.po")) for code in LANGUAGES}


def of_code():
    """All texts that the code marks."""
    files = [*sorted((ROOT / "src/language").glob("*.cpp")), *sorted((ROOT / "src/handover").glob("*.cpp"))]
    files += [f for f in sorted((ROOT / "src/desk").glob("*.cpp")) if re.search(r"language::|say\.", f.read_text(encoding="utf-8"))]
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "all.pot"
        done = run("xgettext", "--from-code=UTF-8", "-L", "C++", *KEYWORDS, "-o", out, *files)
        must(done.returncode == 0, done.stderr)
        return {(e.msgctxt, e.msgid): e for e in polib.pofile(str(out))}


def names_in(text):
    return set(re.findall(r"\{(\w*)\}", text))


def check_catalogue(code, marked):
    po = CATALOGUES[code]
    have = {(e.msgctxt, e.msgid): e for e in po if not e.obsolete}
    must(set(have) == set(marked), f"{code}: missing {set(marked) - set(have)}, not used {set(have) - set(marked)}")
    for key, entry in have.items():
        must(not entry.fuzzy, f"{code}: {key} is fuzzy")
        forms = list(entry.msgstr_plural.values()) if entry.msgid_plural else [entry.msgstr]
        must(entry.msgid_plural == marked[key].msgid_plural, f"{code}: {key} has another plural")
        must(all(forms), f"{code}: {key} has an empty translation")
        for form in forms:
            allowed = {"year", "month", "day", "d", "name"} if key[0] == "date" else names_in(entry.msgid)
            found = names_in(form)
            must(found <= allowed if key[0] == "date" else found == allowed, f"{code}: {key} fills in {found}, not {allowed}")
            must(form.count("\n") == entry.msgid.count("\n"), f"{code}: {key} breaks its lines elsewhere")
    done = run("msgfmt", "--check", "-o", "/dev/null", ROOT / f"assets/languages/{code}.po")
    must(done.returncode == 0, done.stderr)


def check_plurals(code):
    rule = CATALOGUES[code].metadata["Plural-Forms"]
    form_of = gettext.c2py(re.search(r"plural=(.*);", rule).group(1))
    pairs = {(Locale(code).plural_form(n), form_of(n)) for n in range(1001)}
    must(len(pairs) == len({c for c, _ in pairs}) == len({f for _, f in pairs}), f"{code}: {pairs}")
    must(int(re.search(r"nplurals=(\d)", rule).group(1)) == len(pairs), f"{code}: {rule}")


def translated(code, context, text):
    return next(e.msgstr for e in CATALOGUES[code] if (e.msgctxt, e.msgid) == (context, text))


def check_dates_and_numbers(code):
    for month in range(1, 13):
        day = datetime.date(2027, month, 4)
        english = day.strftime("%b")
        parts = {"year": "2027", "month": f"{month:02}", "day": "04", "d": "4", "name": translated(code, "month, short", english)}
        ours = translated(code, "date", "{year}-{month}-{day}").format(**parts)
        must(ours == format_date(day, "medium", locale=code), f"{code}: {ours}")
    thousands, tens = translated(code, "number", "1234.5 12345.6").rsplit(" ", 1)
    must(tens == format_decimal(12345.6, locale=code), f"{code}: {tens!r}")
    must(thousands == ("1234,5" if code == "es" else format_decimal(1234.5, locale=code)), f"{code}: {thousands!r}")
    # Greek units of CLDR are shortened words; on plates and meters in Greece the symbols of the SI stand.
    for unit, name in {} if code == "el" else {"kWh": "kilowatt-hour", "kg": "kilogram", "L": "liter", "m²": "square-meter", "W": "watt",
                                               "kPa": "kilopascal"}.items():
        theirs = re.sub(r"^2\s", "", format_unit(2, name, "short", locale=code))
        must(translated(code, "unit", unit) == theirs, f"{code}: {unit} is {theirs}")


def glyphs(font):
    """Of a TrueType font in a file: for each letter that is there, the letters it is built of."""
    tables = {font[12 + 16 * i:16 + 16 * i]: struct.unpack(">L", font[20 + 16 * i:24 + 16 * i])[0]
              for i in range(struct.unpack(">H", font[4:6])[0])}
    count = struct.unpack(">H", font[tables[b"maxp"] + 4:tables[b"maxp"] + 6])[0]
    wide = struct.unpack(">h", font[tables[b"head"] + 50:tables[b"head"] + 52])[0]
    at = tables[b"loca"]
    places = struct.unpack(f">{count + 1}{'L' if wide else 'H'}", font[at:at + (4 if wide else 2) * (count + 1)])
    places = [p if wide else 2 * p for p in places]
    found = {}
    for glyph in range(count):
        if places[glyph] == places[glyph + 1]:
            continue
        p = tables[b"glyf"] + places[glyph]
        found[glyph] = []
        if struct.unpack(">h", font[p:p + 2])[0] >= 0:
            continue
        p, more = p + 10, True
        while more:
            flags, part = struct.unpack(">HH", font[p:p + 4])
            found[glyph].append(part)
            p += 4 + (4 if flags & 1 else 2) + (2 if flags & 8 else 4 if flags & 0x40 else 8 if flags & 0x80 else 0)
            more = bool(flags & 0x20)
    return found


def check_letters(pdf, name):
    """No letter is blank on the page because a part of it was left out of the file."""
    fonts = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/FontDescriptor"]
    must(fonts, f"{name}: no typeface in it")
    for font in fonts:
        there = glyphs(font.FontFile2.read_bytes())
        for glyph, parts in there.items():
            must(all(p in there for p in parts), f"{name}: letter {glyph} of {font.FontName} lacks parts of {parts}")


def page(file, number):
    return re.sub(r"\s+", " ", run("pdftotext", "-f", number, "-l", number, file, "-").stdout)


def draft_in(code):
    folder = Folder()
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts",
                      folder.write("facts.toml", facts(**({"customer__language": f'"{code}"'} if code else {}))))["job"]
    folder.run("job", "report", job, "--draft", "--out", folder.path / "draft.pdf", expect=0)
    must((folder.path / "draft.pdf").exists(), f"{code}: no report")
    return folder, folder.path / "draft.pdf"


def check_draft(code):
    folder, file = draft_in(code)
    with pikepdf.open(file) as pdf:
        must(str(pdf.Root.Lang) == code, f"{code}: the file is in {pdf.Root.Lang}")
        check_letters(pdf, code)
        parts = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/StructElem"]
        must(any(str(p.get("/Lang", "")) == "en" for p in parts), f"{code}: no part is said to be in English")
        first = [p for p in parts if p.get("/Pg") is not None and p.Pg.objgen == pdf.pages[0].obj.objgen]
        must(first and all("/Lang" not in p for p in first), f"{code}: page one is said to be in another language")
    counts = "The pages in English are the evidence. Where this page differs, the English counts."
    for text in ("Is it safe? Not proven. Do not use it.", "Whom do you call?", "What must you never do?", counts):
        must(translated(code, None, text) in page(file, 1), f"{code}: page one does not say {translated(code, None, text)!r}")
    must(counts in page(file, 1), f"{code}: page one does not say it in English")
    must("Whom do you call?" in page(file, 2) and "Do not use it." in page(file, 2), f"{code}: the page beside it is not in English")
    must("the facts of this page, signed" not in page(file, 2), f"{code}: a key of the company vouches for a draft")
    must(translated(code, None, "What you may expect") in run("pdftotext", file, "-").stdout, f"{code}: no page of what may be expected")


def check_english():
    unsaid, plain = draft_in("")
    english, said = draft_in("en")
    # Number, key and head of a job are drawn anew for each folder, and move what stands beside them.
    words = lambda file, number: sorted(re.sub(r"J-[0-9A-F]{4}-|\b[0-9a-f]{4}\b|\b[0-9a-f]{16}\b", "#", page(file, number)).split())
    must(all(words(plain, n) == words(said, n) for n in (1, 2)), "English said is another English")
    must(unsaid.path.exists() and english.path.exists() and "Which language counts?" not in page(plain, 1) and "Whom do you call?" not in page(plain, 2), "an English report has two")
    folder = Folder()
    answer = folder.run("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", facts(customer__language='"xx"')))
    must(answer.code == 3 and "uk" in answer.err, f"a language that is not there: exit {answer.code}, {answer.err}")


def check_letter_of_handover():
    house = Folder()
    job = house.json("job", "new", "--checklist", "commissioning", "--facts",
                     house.write("facts.toml", facts(customer__language='"uk"', warranty__until="2029-06-30")))["job"]
    Crew(house, job).do_all()
    house.run("sign", job, "--as", "crew", "--name", "Tindo Quellaby", expect=0)
    house.run("sign", job, "--as", "customer", "--name", "Ansa Velmorrin", expect=0)
    house.run("handover", job, "--out", house.path / "report.pdf", expect=0)
    house.run("attest", house.path / "report.pdf", expect=0)
    house.run("post", "save", house.path / "post", expect=0)
    letter = email.message_from_bytes(next((house.path / "post").glob("*.eml")).read_bytes(), policy=email.policy.default)
    must(letter["Subject"] == translated("uk", None, "Handover report {job} of your solar water heater").format(job=job), letter["Subject"])
    text = letter.get_body().get_content()
    must("Гаряча вода може обпекти." in text and "Dear" not in text, text)
    parts = {p.get_content_type(): p.get_payload(decode=True).decode() for p in letter.walk() if p.get_content_maintype() == "text"}
    unfolded = {kind: words.replace("\r\n ", "") for kind, words in parts.items()}
    for words in ("щорічне обслуговування", "закінчується гарантія"):
        must(words in unfolded["text/calendar"], unfolded["text/calendar"])
    must("Сонячний водонагрівач." in unfolded["text/vcard"], unfolded["text/vcard"])


marked = of_code()
must(len(marked) > 250, f"only {len(marked)} texts were found")
for code in LANGUAGES:
    check_catalogue(code, marked)
    check_plurals(code)
    check_dates_and_numbers(code)
print(f"{len(marked)} texts in {len(LANGUAGES)} catalogues; plurals, dates, numbers and units as CLDR has them")
for code in LANGUAGES:
    check_draft(code)
check_english()
check_letter_of_handover()
print("reports in four languages, each with the English beside it")
