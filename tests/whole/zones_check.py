"""Zones and daylight saving: whatever zone a device is in, the order stays, no jump is told, and a day is that of where it was read.

The machine's clock is read, while its zone changes with every call; a change of daylight saving is made to fall between two
readings by a rule written for this minute (POSIX.1-2017, 8.3, TZ). What is given by hand crosses the night of 2026-10-25, when
Europe/Berlin went from +02:00 to +01:00 at 01:00 UTC (tz database). All instants are reckoned by Python's datetime and zoneinfo.
"""
import datetime, json, os, re, sqlite3, subprocess, time, zoneinfo

from program import PROGRAM, Answer, Crew, Folder, facts, must, run

UTC = datetime.timezone.utc
ZONES = ["UTC", "Pacific/Kiritimati", "America/St_Johns", "Pacific/Pago_Pago", "Asia/Kathmandu", "Europe/Berlin"]
moment = datetime.datetime.fromisoformat
machine_now = lambda: datetime.datetime.now(UTC)


class Travelling(Folder):
    """A data folder on a machine that is in another zone at each call and reads its own clock."""

    def __init__(self):
        super().__init__()
        self.zone, self.calls = None, 0

    def run(self, *words, expect=None, stdin="", zone=None):
        self.calls += 1
        self.zone = zone or ZONES[self.calls % len(ZONES)]
        done = Answer(subprocess.run([PROGRAM, *map(str, words), "--data", str(self.data)], input=stdin, capture_output=True, text=True,
                                     timeout=300, env=dict(os.environ, TZ=self.zone)))
        must(expect is None or done.code == expect, f"{words} in {self.zone}: exit {done.code}\n{done.out[-1000:]}\n{done.err[-1000:]}")
        return done

    def entries(self):
        with sqlite3.connect(f"file:{self.data / 'journal.db'}?mode=ro", uri=True) as journal:
            return [(stamp, json.loads(body)) for stamp, body in journal.execute("SELECT time, body FROM entry ORDER BY seq")]

    def told_of_clocks(self):
        return [body["kind"] for _, body in self.entries() if body["kind"] in ("clock-jumped", "time-source-changed")]


class Traveller(Crew):
    """Notes beside each entry in which zone it was made, and between which two moments."""

    def __init__(self, folder, job):
        super().__init__(folder, job)
        self.noted = []

    def enter(self, check, place, text, *more):
        before = machine_now()
        answer = super().enter(check, place, text, *more)
        self.noted.append((check["id"], place, self.folder.zone, before.replace(microsecond=0), machine_now()))
        return answer


def house():
    """The invented house, with everything in date today, whenever that is."""
    day = lambda days: (machine_now() + datetime.timedelta(days=days)).date().isoformat()
    names = re.findall(r'^id = "(.*)"$', facts(), re.M)
    text = facts(due={name: day(300) for name in names}, crew__plumb_lic=f'"P-118 {day(300)}"', crew__elec_lic=f'"E-204 {day(300)}"',
                 crew__height_card=f'"H-77 {day(300)}"')
    return re.sub(r"cal_date = \S+", f"cal_date = {day(-60)}", text)


def readings_of(shown, check):
    return next(c for c in shown["checks"] if c["id"] == check)["readings"]


def a_whole_job(folder):
    """From the facts to the seal, in another zone at each call."""
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", house()))["job"]
    crew = Traveller(folder, job)
    crew.do_all()
    for role, name in (("crew", "Tindo Quellaby"), ("customer", "Ansa Velmorrin")):
        folder.run("sign", job, "--as", role, "--name", name, expect=0)
    # Where it is another day than in Greenwich.
    where = "Pacific/Kiritimati" if machine_now().hour >= 10 else "Pacific/Pago_Pago"
    begun = machine_now()
    folder.run("handover", job, "--out", folder.path / "report.pdf", expect=0, zone=where)
    days = {at.astimezone(zoneinfo.ZoneInfo(where)).date().isoformat() for at in (begun, machine_now())}
    must(machine_now().date().isoformat() not in days, "the day of the handover is that of Greenwich; this would prove nothing")
    shown = folder.json("job", "show", job)
    must(shown["questions"] == [] and shown["times_by_hand"] == 0, f"{shown['questions']}, {shown['times_by_hand']} by hand")
    must(folder.told_of_clocks() == [], f"told of the clock: {folder.told_of_clocks()}")
    stamps = [stamp for stamp, _ in folder.entries()]
    must(stamps == sorted(set(stamps)), "the entries are not in the order in which they were made")

    # In the order in which it was written, so that a time that is broken over two lines stays together.
    text = run("pdftotext", "-raw", folder.path / "report.pdf", "-").stdout
    words = " ".join(text.split())
    told = set()
    for check in shown["checks"]:
        noted = [n for n in crew.noted if n[0] == check["id"]]
        must(len(noted) <= len(check["readings"]), f"{check['id']}: {len(noted)} entered, {len(check['readings'])} kept")
        for reading in check["readings"]:
            at = moment(reading["at"])
            mine = [n for n in noted if n[3] <= at <= n[4]]
            must(mine, f"{check['id']}: {at} is not when it was read, {noted}")
            must(any(at.utcoffset() == at.astimezone(zoneinfo.ZoneInfo(n[2])).utcoffset() for n in mine), f"{check['id']}: {at} in {mine}")
            must(reading["entered_at"] is None and not reading["time_by_hand"], f"{check['id']}: {reading}")
            # Of several places it says when the first and when the last was read.
            if reading in (check["readings"][0], check["readings"][-1]):
                must(f"{reading['at'][:10]} {reading['at'][11:16]} {reading['at'][19:]}" in words, f"{check['id']}: the report does not say {reading['at']}")
                told.add(at.utcoffset())
    must(len(told) >= len(ZONES), f"read in {len(told)} zones only")
    must(len({moment(r["at"]).date() for c in shown["checks"] for r in c["readings"]}) >= 2, "no reading is of another day")
    must(any(day in text.split("\f")[0] for day in days), f"page one does not bear the day of where it was handed over, {days}")
    # A list says when a job was begun in the zone of who looks, and it is the same moment.
    begun = [moment(folder.json_in(zone, "job", "list")["jobs"][0]["started"]) for zone in ZONES]
    must(len(set(begun)) == 1 and len({at.utcoffset() for at in begun}) == len(ZONES), f"begun at {begun}")
    return len(crew.noted), len(told)


def last_stands(folder):
    """What was entered last stands, though a clock on the wall beside it showed the day before."""
    job = folder.json("job", "new", "--checklist", "commissioning", "--facts", folder.path / "facts.toml")["job"]
    folder.run("enter", job, "ladder-set", "71°", expect=0, zone="Pacific/Kiritimati")
    folder.run("enter", job, "ladder-set", "80°", expect=1, zone="Pacific/Pago_Pago")
    shown = folder.json("job", "show", job)
    first, second = readings_of(shown, "ladder-set")
    must((first["text"], second["text"]) == ("71°", "80°"), "the readings changed places")
    must(first["at"][:19] > second["at"][:19] and moment(first["at"]) <= moment(second["at"]), f"{first['at']}, {second['at']}")
    must(next(c for c in shown["checks"] if c["id"] == "ladder-set")["outcome"] == "does not conform", "the earlier reading stands")
    # A start of the machine anew, in a zone whose walls show less: nothing went back.
    kept = folder.data / "clock.txt"
    kept.write_text("another-start " + kept.read_text().split(" ", 1)[1])
    folder.run("enter", job, "ladder-set", "72°", zone="Pacific/Pago_Pago")
    must(folder.told_of_clocks() == [], f"told of the clock: {folder.told_of_clocks()}")
    return job


def rule(change, forward):
    """A zone whose daylight saving begins, or ends, at that moment."""
    # The end is told in daylight saving, the beginning in the time before it.
    local = change + datetime.timedelta(hours=1 if forward else 2)
    here, half_a_year_off = local.timetuple().tm_yday - 1, (local.timetuple().tm_yday + 180) % 365
    at = f"{here}/{local:%H:%M:%S}"
    return f"XST-1XDT-2,{at},{half_a_year_off}" if forward else f"XST-1XDT-2,{half_a_year_off},{at}"


def over_a_change(folder, job, forward):
    """Two readings with the change between them: an hour by the wall, seconds by the clock."""
    for wait in (3, 15, 60, 240):
        change = (machine_now() + datetime.timedelta(seconds=wait)).replace(microsecond=0)
        zone = rule(change, forward)
        folder.run("enter", job, "ladder-set", "70°", zone=zone)
        if machine_now() < change:
            break
    time.sleep(max(0.0, (change - machine_now()).total_seconds()) + 1.0)
    folder.run("enter", job, "ladder-set", "70.5°", zone=zone)
    before, after = readings_of(folder.json("job", "show", job), "ladder-set")[-2:]
    offsets = [int(moment(r["at"]).utcoffset().total_seconds()) // 3600 for r in (before, after)]
    must(offsets == ([1, 2] if forward else [2, 1]), f"the change was not met: {before['at']}, {after['at']}, {zone}")
    must(moment(before["at"]) < change <= moment(after["at"]), f"{before['at']}, {after['at']}")
    must(forward or after["at"][:19] < before["at"][:19], "the wall did not go back; this would prove nothing")
    must(folder.told_of_clocks() == [], f"daylight saving was told as a jump: {folder.told_of_clocks()}")


def a_jump_is_told(folder, job):
    """The control: a clock that was moved is told, in whatever zone."""
    kept = folder.data / "clock.txt"
    boot, counted, *walls, seq = kept.read_text().split()
    kept.write_text(" ".join([boot, counted, *(str(int(wall) - 3 * 3600_000) for wall in walls), seq]) + "\n")
    folder.run("enter", job, "ladder-set", "70°", zone="Asia/Kathmandu")
    must(folder.told_of_clocks() == ["clock-jumped"], "a clock that was moved by three hours is not told")
    must(any("jumped" in question for question in folder.json("job", "show", job)["questions"]), "the job does not tell of the jump")


def given_by_hand():
    """Times that somebody gives, each with an offset of its own."""
    folder = Folder()
    at = lambda given, *words: subprocess.run([PROGRAM, *map(str, words), "--data", str(folder.data), "--json", "--at", given],
                                              capture_output=True, text=True, timeout=300)
    text = re.sub(r"cal_date = \S+", "cal_date = 2026-01-31", facts(due={"IN-1": "2026-11-25"}))
    done = at("2026-10-25T00:10:00Z", "job", "new", "--checklist", "commissioning", "--facts", folder.write("facts.toml", text))
    must(done.returncode == 0, done.stderr)
    job = json.loads(done.stdout)["job"]
    show = lambda: json.loads(at("2026-12-01T12:00:00Z", "job", "show", job).stdout)

    # Entered at 01:15 UTC. The first was read an hour and three minutes before, the second five minutes before; by the wall it
    # would be three minutes and four hours and forty.
    now = "2026-10-25T02:15:00+01:00"
    for read_at in ("2026-10-25T02:12:00+02:00", "2026-10-25T06:55:00+05:45"):
        done = at(now, "enter", job, "ladder-set", "70°", "--read-at", read_at)
        must(done.returncode == 0, f"{read_at}: {done.stdout}{done.stderr}")
    long_before, just_before = readings_of(show(), "ladder-set")
    must((long_before["at"], just_before["at"]) == ("2026-10-25T02:12:00+02:00", "2026-10-25T06:55:00+05:45"), "a time was written anew")
    must(long_before["entered_at"] and moment(long_before["entered_at"]) == moment(now), f"an hour is not told: {long_before}")
    must(just_before["entered_at"] is None, f"five minutes are told as more: {just_before}")

    # The wall goes back over the night, the entries do not.
    for given in ("2026-10-25T02:50:00+02:00", "2026-10-25T02:10:00+01:00", "2026-10-25T07:30:00+05:45", "2026-10-24T23:20:00-02:30"):
        at(given, "enter", job, "ladder-set", "70°")
    readings = readings_of(show(), "ladder-set")[-4:]
    must([r["at"] for r in readings] == ["2026-10-25T02:50:00+02:00", "2026-10-25T02:10:00+01:00", "2026-10-25T07:30:00+05:45",
                                         "2026-10-24T23:20:00-02:30"], f"{readings}")
    with sqlite3.connect(f"file:{folder.data / 'journal.db'}?mode=ro", uri=True) as journal:
        stamps = [stamp for stamp, in journal.execute("SELECT time FROM entry ORDER BY seq")]
    must(stamps == sorted(set(stamps)), f"the order of the entries: {stamps}")

    # The calibration ends with 2026-11-25: whether the instrument was in date is asked of the day where it was read.
    for read_at, fine in (("2026-11-25T18:45:00Z", True), ("2026-11-26T00:30:00+05:45", False), ("2026-11-25T15:15:00-03:30", True),
                          ("2026-11-26T03:15:00Z", False), ("2026-11-25T23:45:00-03:30", True)):
        answer = json.loads(at("2026-11-26T04:00:00Z", "enter", job, "ladder-set", "70°", "--read-at", read_at).stdout)
        must((answer["outcome"] == "conforms") == fine, f"read at {read_at}: {answer['outcome']}, {answer['why']}")

    # A series is timed by its own minutes, wherever it stands.
    series = Crew.SPECIAL["sun-window"]
    answers = []
    for read_at in ("2026-11-25T10:00:00Z", "2026-11-25T15:45:00+05:45", "2026-11-25T06:30:00-03:30"):
        answer = json.loads(at("2026-11-25T12:00:00Z", "enter", job, "sun-window", series, "--read-at", read_at).stdout)
        answers.append((answer["outcome"], answer["why"]))
    must(len(set(answers)) == 1 and answers[0][0] == "conforms", f"one series, judged in three zones: {answers}")

    # 00:30 of a Monday in Kathmandu is a Sunday evening in Greenwich, and 22:00 of a Sunday in St John's is a Monday there: a job
    # stands in the week of its first reading, by the day of the place.
    jobs = lambda: [json.loads(at("2026-12-01T12:00:00Z", "week", week).stdout)["jobs"] for week in ("2026-W48", "2026-W49")]
    for read_at, week in (("2026-11-30T00:30:00+05:45", 1), ("2026-11-29T22:00:00-03:30", 0)):
        before = jobs()
        done = at("2026-11-30T02:00:00Z", "job", "new", "--checklist", "commissioning", "--facts", folder.path / "facts.toml")
        other = json.loads(done.stdout)["job"]
        at("2026-11-30T02:00:00Z", "enter", other, "roof-clear", "yes", "--read-at", read_at)
        more = [after - was for was, after in zip(before, jobs())]
        must(more == [1 - week, week], f"read at {read_at}: {more} more jobs in the weeks 48 and 49")


def main():
    folder = Travelling()
    folder.json_in = lambda zone, *words: folder.run(*words, "--json", expect=0, zone=zone).json
    entered, zones = a_whole_job(folder)
    job = last_stands(folder)
    over_a_change(folder, job, forward=True)
    over_a_change(folder, job, forward=False)
    must(folder.json("attest", "--journal")["genuine"], "the journal does not verify")
    a_jump_is_told(folder, job)
    given_by_hand()
    print(f"{entered} readings of one job in {zones} zones, two changes of daylight saving: the order stays, no jump is told, "
          "days are of the place")


if __name__ == "__main__":
    main()
