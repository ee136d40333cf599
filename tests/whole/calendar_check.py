"""Calendar and contact as other programs read them; a later report moves the dates and never doubles them.

Read by python3-icalendar and python3-vobject; the card by python3-vobject and Perl's Text::vCard."""
import email, email.policy, pathlib

import icalendar, vobject

from program import Crew, Folder, facts, must, run


def attachments(folder, name):
    out = folder.path / name
    folder.run("post", "save", out, expect=0)
    letters = [email.message_from_bytes(f.read_bytes(), policy=email.policy.default) for f in sorted(pathlib.Path(out).glob("*.eml"))]
    return [{part.get_content_type(): part.get_payload(decode=True) for part in letter.walk()} for letter in letters]


def by_icalendar(text):
    events = [e for e in icalendar.Calendar.from_ical(text).walk("VEVENT")]
    return {str(e["UID"]): (e["DTSTART"].dt.isoformat(), int(e["SEQUENCE"]), str(e["SUMMARY"])) for e in events}, len(events)


def by_vobject(text):
    events = vobject.readOne(text.decode()).vevent_list
    return {e.uid.value: (e.dtstart.value.isoformat(), int(e.sequence.value), e.summary.value) for e in events}, len(events)


def both(text):
    one, count = by_icalendar(text)
    two, other = by_vobject(text)
    must(one == two and count == other == len(one), f"two readers, two calendars:\n{one}\n{two}")
    return one


house = Folder()
settings = house.data / "settings.toml"
house.data.mkdir()
settings.write_text('[company]\nname = "Bramblewisp; Crews"\ncontact = "555-0100, every day from 8 to 18"\n')
first = house.json("job", "new", "--checklist", "commissioning", "--facts",
                   house.write("facts.toml", facts(warranty__until="2029-06-30")))["job"]
Crew(house, first).do_all()
house.run("sign", first, "--as", "crew", "--name", "Tindo Quellaby", expect=0)
house.run("sign", first, "--as", "customer", "--name", "Ansa Velmorrin", expect=0)
house.run("handover", first, "--out", house.path / "first.pdf", expect=0)
parts = attachments(house, "one")[0]
dates = both(parts["text/calendar"])
must(any("yearly-service" in uid for uid in dates) and any("warranty" in uid for uid in dates), str(dates))

card = parts["text/vcard"]
read = vobject.readOne(card.decode())
must(read.fn.value == "Bramblewisp; Crews" and read.tel.value == "555-0100", str(read))
(house.path / "card.vcf").write_bytes(card)
perl = run("perl", "-MText::vCard::Addressbook", "-e",
           "my $b = Text::vCard::Addressbook->new({source_file => $ARGV[0]}); for my $c ($b->vcards) "
           "{ print $c->fullname, qq(\\n), $c->get({node_type => 'tel'})->[0]->value, qq(\\n), $c->get('note')->[0]->value, qq(\\n) }",
           house.path / "card.vcf")
must(perl.returncode == 0, perl.stderr)
lines = perl.stdout.replace("\\;", ";").replace("\\,", ",").splitlines()
must(lines == [read.fn.value, read.tel.value, read.note.value], f"two readers, two cards: {lines}\n{read}")

# A year later, in the same house: the same events, later.
later = Folder(start="2027-11-20T09:00:00+05:00", path=house.path)
later.data = house.data
tools = facts(due={name: "2028-12-31" for name in ("TW-1", "PG-1", "TH-1", "IN-1", "RF-1", "IR-1", "ET-1", "ET-2", "ET-3", "VT-1", "LT-1")})
second = later.json("job", "new", "--checklist", "commissioning", "--facts", later.write("later.toml", tools), "--after", first)["job"]
Crew(later, second).do_all()
later.run("sign", second, "--as", "crew", "--name", "Tindo Quellaby", expect=0)
later.run("sign", second, "--as", "customer", "--name", "Ansa Velmorrin", expect=0)
later.run("handover", second, "--out", house.path / "second.pdf", expect=0)
calendars = [both(p["text/calendar"]) for p in attachments(later, "two")]
must(len(calendars) == 2, f"{len(calendars)} letters")
before, after = sorted(calendars, key=lambda c: max(v[1] for v in c.values()))
for uid in set(before) & set(after):
    must(after[uid][1] > before[uid][1], f"{uid} is not newer")
yearly = [uid for uid in before if "yearly-service" in uid][0]
must(yearly in after and after[yearly][0] > before[yearly][0], f"the yearly service did not move: {before} {after}")
merged = {**before, **after}
for key in ("yearly-service", "first-visit", "frost-check", "warranty"):
    must(sum(key in uid for uid in merged) <= 1, f"{key} stands twice in the calendar")
# The days of a crew: a job that is moved is moved in the calendar, and does not stand there twice.
crew = Folder()
job = crew.json("job", "new", "--checklist", "commissioning", "--facts", crew.write("facts.toml", facts()))["job"]


def days_of(day):
    crew.run("job", "facts", job, "--set", f"job.date={day}", expect=0)
    crew.minutes += 5
    crew.run("plan", "--from", "2026-12-01", "--until", "2026-12-31", "--out", crew.path / "days.ics", expect=0)
    return both((crew.path / "days.ics").read_bytes())


(uid, first_day), = days_of("2026-12-03").items()
(same, second_day), = days_of("2026-12-10").items()
must(uid == same and (first_day[0], second_day[0]) == ("2026-12-03", "2026-12-10") and second_day[1] > first_day[1],
     f"the job did not move: {first_day} {second_day}")
print("calendar and card are read alike by two libraries each; a later report moves its dates")
