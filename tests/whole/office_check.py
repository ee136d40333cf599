"""The office's record in PostgreSQL, driven as the program: two tablets' bundles in any order and twice, torn ones, a server
and a program that die on the way, the week held byte by byte against a data folder's, and every role tried at what it may not do.

WM_OFFICE_HISTORIES: random histories for the comparison of the two folds (tests/exchange/office_fold.cpp); 100 if not set. WM_OFFICE_KILLS: deaths on the way, 4 if not set.
"""
import json, os, pathlib, random, signal, subprocess, time

from office_server import Server
from program import PROGRAM, ROOT, Folder, facts, must

AT = "2026-12-20T09:00:00+05:00"
FOLD = os.environ.get("WM_OFFICE_FOLD", str(pathlib.Path(PROGRAM).parent / "office_fold"))
server = Server()
dice = random.Random(4)


def program(*words, data=None, expect=0):
    words = [PROGRAM, *map(str, words), "--at", AT] + (["--data", str(data)] if data else ["--data", str(home.path / "nothing")])
    done = subprocess.run(words, capture_output=True, text=True, timeout=300)
    must(done.returncode == expect, f"{words}: exit {done.returncode}, expected {expect}\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}")
    return done.stdout


def office(database, *words, user="owner", expect=0):
    return json.loads(program("office", *words, "--connect", server.conninfo(database, user), "--json", expect=expect))


def drop(database, folder, user="owner", expect=0):
    told = office(database, "--drop", folder, user=user, expect=expect)
    return told, {file["file"]: file for file in told["files"]}


def new_database(name):
    must(server.sql("postgres", f"CREATE DATABASE {name}") == [["CREATE DATABASE"]], name)
    office(name)
    return name


def number(database, statement, user="owner"):
    return int(server.sql(database, statement, user)[0][0])


def weeks_of(database, data=None, user="owner"):
    """Every week as its bytes."""
    connect = ["--connect", server.conninfo(database, user)] if database else []
    names = json.loads(program("week", "--list", "--json", *connect, data=data))["weeks"]
    return {name: program("week", name, "--json", *connect, data=data) for name in names}


def laid_down(name, files):
    folder = home.path / name
    folder.mkdir()
    for title, source in files.items():
        (folder / title).write_bytes(source if isinstance(source, bytes) else source.read_bytes())
    return folder


def entries_fit_bundles(database):
    """Nothing half taken: what the bundles brought, counted in the transaction of each, is what there is."""
    brought = number(database, "SELECT coalesce(sum(entries), 0) FROM bundle")
    there = number(database, "SELECT count(*) FROM entry")
    must(brought == there, f"{there} entries, and the bundles brought {brought}")
    return there


home = Folder()
try:
    # Two tablets, and one office folder (SQLite) that takes in the same.
    north, south, sqlite = home.path / "north", home.path / "south", home.path / "sqlite"
    program("demo", "--into", north, "--weeks", "3", "--seed", "11")
    program("demo", "--into", south, "--weeks", "3", "--seed", "12")
    a, b, late = home.path / "a.bundle", home.path / "b.bundle", home.path / "late.bundle"
    heads = json.loads(program("pack", a, "--json", data=north))["heads"]
    program("pack", b, "--json", data=south)
    facts_file = home.write("facts.toml", facts())
    job = json.loads(program("job", "new", "--checklist", "commissioning", "--facts", facts_file, "--json", data=north))["job"]
    program("enter", job, "ladder-set", "70.5°", "--json", data=north)
    own = json.loads(program("attest", "--journal", "--json", data=north))["devices"][0]["device"]
    program("pack", late, "--since", next(head["hash"] for head in heads if head["device"] == own), data=north)
    for bundle in (a, late, b):
        program("unpack", bundle, data=sqlite)
    expected = weeks_of(None, sqlite)
    must(len(expected) >= 3, f"weeks to compare: {list(expected)}")

    # Any order, by name the late one first; a torn one and one that is none beside them; a name that SQL could trip over.
    torn = b.read_bytes()[:b.stat().st_size // 2]
    hostile = "x'); DROP TABLE entry; --.bundle"
    files = laid_down("drop", {"0-late.bundle": late, "1-a.bundle": a, hostile: b, "torn.bundle": torn, "letter.txt": b"Dear office\n", ".half": a})
    one = new_database("one")
    told, by_name = drop(one, files, expect=1)
    must([by_name[name]["state"] for name in ("0-late.bundle", "1-a.bundle", hostile)] == ["taken"] * 3, f"{told}")
    must([by_name[name]["state"] for name in ("torn.bundle", "letter.txt")] == ["refused"] * 2 and len(by_name) == 5, f"{told}")
    must(all(set(by_name[name]["problem"]) == {"what", "where", "what_to_do"} for name in ("torn.bundle", "letter.txt")), f"{told}")
    must(sorted(path.name for path in files.iterdir()) == sorted([*by_name, ".half"]), "the files lie where they lay")
    whole = entries_fit_bundles(one)
    must(weeks_of(one, sqlite) == expected, "the weeks from PostgreSQL are byte by byte those from SQLite")
    told, by_name = drop(one, files, expect=1)
    must(by_name["1-a.bundle"]["state"] == "known" and entries_fit_bundles(one) == whole, f"twice changes nothing: {told}")

    # One by one in the other order; what does not continue anything is refused whole and the stretch named.
    two = new_database("two")
    told, by_name = drop(two, laid_down("first", {"late.bundle": late}), expect=1)
    must("are missing" in by_name["late.bundle"]["problem"]["what"] and number(two, "SELECT count(*) FROM entry") == 0, f"{told}")
    for title, bundle in (("second", b), ("third", a), ("fourth", late)):
        drop(two, laid_down(title, {f"{title}.bundle": bundle}))
    must(server.sql(two, "SELECT * FROM entry ORDER BY device, seq, hash") == server.sql(one, "SELECT * FROM entry ORDER BY device, seq, hash"),
         "the same rows in either order")
    must(weeks_of(two, sqlite) == expected, "the same weeks in either order")
    must(office(two)["heads"] == office(one)["heads"], "the same heads")

    # Every byte of a bundle counts.
    for _ in range(40):
        spoilt = bytearray(late.read_bytes())
        spoilt[dice.randrange(len(spoilt))] ^= 1 << dice.randrange(8)
        (home.path / "fourth" / "fourth.bundle").write_bytes(spoilt)
        told = json.loads(subprocess.run([PROGRAM, "office", "--connect", server.conninfo(two), "--drop", str(home.path / "fourth"), "--json"],
                                         capture_output=True, text=True).stdout)
        must(told["files"][0].get("new_entries", 0) == 0 and entries_fit_bundles(two) == whole, f"a spoilt bundle: {told}")

    # A row that is gone is told, and so is one that was altered.
    lost = server.sql(two, "DELETE FROM entry WHERE (device, seq) = (SELECT device, max(seq) - 1 FROM entry GROUP BY device ORDER BY device LIMIT 1) RETURNING device")
    must(any("missing" in line for line in json.loads(program("week", next(iter(expected)), "--connect", server.conninfo(two), "--json"))["damaged"]), f"{lost}")
    server.sql(two, "UPDATE entry SET body = replace(body, 'conforms', 'Conforms') WHERE job > ''")
    must(len(json.loads(program("week", next(iter(expected)), "--connect", server.conninfo(two), "--json"))["damaged"]) > 1, "altered rows are told")

    # The server dies, the program dies: at any moment nothing is half taken, and the next run completes it.
    three = new_database("three")
    all_of_it = laid_down("all", {"a": a, "b": b, "late": late})
    command = [PROGRAM, "office", "--connect", server.conninfo(three), "--drop", str(all_of_it), "--json"]
    tables = "TRUNCATE entry, personal, attachment, erased, head, pin, bundle, crew_device, crew_job"
    begun = time.monotonic()
    subprocess.run(command, check=True, capture_output=True)
    took = time.monotonic() - begun
    seen = set()
    for kill in range(int(os.environ.get("WM_OFFICE_KILLS", "4"))):
        server.sql(three, tables)
        run = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        if kill % 3 == 0:  # between two bundles, or in the second
            while run.poll() is None and number(three, "SELECT count(*) FROM bundle") == 0:
                pass
        else:
            time.sleep(dice.random() * took)
        if kill % 2 == 0:
            server.crash()
            out, _ = run.communicate(timeout=60)
            must(run.returncode in (0, 4) and json.loads(out), f"exit {run.returncode}: {out}")
            must(run.returncode == 0 or "problem" in out, out)
            server.start()
        else:
            run.send_signal(signal.SIGKILL)
            run.communicate()
        seen.add(entries_fit_bundles(three))
        subprocess.run(command, check=True, capture_output=True)
        must(entries_fit_bundles(three) == whole, "the second run completes it")
    must(weeks_of(three, sqlite) == expected, "and the weeks are the same")
    must(len(seen) > 1, f"no death came in the middle: {seen}")

    # Two at once: each entry is taken by one of them, and none is refused.
    server.sql(three, tables)
    both = [subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) for _ in range(2)]
    told = [json.loads(run.communicate(timeout=120)[0]) for run in both]
    must([run.returncode for run in both] == [0, 0], f"{told}")
    must(entries_fit_bundles(three) == whole, "two at once took it in once")

    # Who is away is named, and nothing else happens.
    server.crash()
    gone = office(three, expect=4)["problem"]
    must("does not answer" in gone["what"] and "three" in gone["where"] and gone["what_to_do"], f"{gone}")
    must(json.loads(program("week", "--list", "--connect", server.conninfo(three), "--json", expect=4))["problem"] == gone, "the week says the same")
    server.start()
    secret = program("office", "--connect", "pass word=hunter2", "--json", expect=2)
    must("hunter2" not in secret, "a connection string is not repeated")

    # Roles. North's tablet is a crew's, south's another's; a lead sees all.
    devices = [head["device"] for head in office(one)["heads"]]
    south_device = json.loads(program("attest", "--journal", "--json", data=south))["devices"][0]["device"]
    must(own in devices and south_device in devices, f"{devices}")
    office(one, "crew_north", "--role", "crew", "--device", own[:12])
    office(one, "crew_south", "--role", "crew", "--device", south_device)
    office(one, "lead_one", "--role", "lead")
    office(one, 'x"; DROP ROLE lead_one; --', "--role", "crew", expect=2)

    def jobs(user):
        return {row[0] for row in server.sql(one, "SELECT DISTINCT job FROM entry WHERE job > ''", user)}

    def must_refuse(user, statement):
        said = server.sql(one, statement, user)
        must(isinstance(said, str) and any(why in said for why in ("permission denied", "row-level security", "must be owner")), f"{user}: {statement}: {said}")

    def trials():
        must(jobs("crew_north") and jobs("crew_south") and not jobs("crew_north") & jobs("crew_south"), "each crew sees its own jobs")
        must(jobs("crew_north") | jobs("crew_south") == jobs("lead_one") == jobs("owner"), "a lead sees all")
        must({row[0] for row in server.sql(one, "SELECT DISTINCT device FROM entry", "crew_north")} == {own}, "nor another's stream")

    trials()
    foreign = next(iter(jobs("crew_south")))
    home_job = next(iter(jobs("crew_north")))
    row = "INSERT INTO entry VALUES ('{}', 999999, '', 'h{}', 't', '{}', '{{}}')"
    must_refuse("crew_north", row.format(own, 1, foreign))          # another's job under the own device
    must_refuse("crew_north", row.format(south_device, 2, home_job))  # the own job under another's device
    must_refuse("crew_north", row.format(south_device, 3, ""))
    must_refuse("crew_north", "INSERT INTO crew_device VALUES ('new', 'crew_north')")
    must_refuse("crew_north", "INSERT INTO crew_job VALUES ('J-new', 'crew_south')")
    must_refuse("crew_north", "INSERT INTO erased VALUES ('somebody')")
    must_refuse("crew_north", "INSERT INTO personal VALUES ('c', 'k', '\\x00', 'crew_south')")
    must_refuse("crew_north", "SET ROLE witnessmark_lead")
    for part in range(8):
        must_refuse("crew_north", f"SELECT count(*) FROM entry_{part}")
        must_refuse("lead_one", f"DELETE FROM entry_{part}")
    for user in ("crew_north", "lead_one"):
        for table in ("entry", "head", "pin", "bundle", "erased"):
            must_refuse(user, f"DELETE FROM {table}")
            must_refuse(user, f"TRUNCATE {table}")
        must_refuse(user, "UPDATE entry SET body = ''")
        must_refuse(user, "UPDATE head SET signature = ''")
        must_refuse(user, "DROP TABLE entry")
        must_refuse(user, "ALTER TABLE entry DISABLE ROW LEVEL SECURITY")
    for table in ("personal", "attachment"):
        must_refuse("crew_north", f"DELETE FROM {table}")
        must_refuse("crew_north", f"UPDATE {table} SET crew = 'crew_north'")
        must_refuse("lead_one", f"UPDATE {table} SET box = ''")
        must(number(one, f"SELECT count(*) FROM {table} WHERE crew <> 'crew_north'", "crew_north") == 0, f"{table} of others")
    must_refuse("crew_north", "UPDATE crew_job SET crew = 'crew_north'")
    must_refuse("crew_north", "DELETE FROM crew_job")
    # The own row is taken, so the refusals above are those of the rules.
    must(server.sql(one, row.format(own, 4, home_job), "crew_north") == [["INSERT 0 1"]], "a crew adds to its own job")
    server.sql(one, "DELETE FROM entry WHERE hash = 'h4'")
    # With the rules off the same trials find every job: they bite.
    server.sql(one, "ALTER TABLE entry DISABLE ROW LEVEL SECURITY")
    must(jobs("crew_north") == jobs("owner"), "without the rules a crew would see all")
    server.sql(one, "ALTER TABLE entry ENABLE ROW LEVEL SECURITY")
    trials()

    # The program under these roles: a lead's week is everybody's, a crew's its own; bundles go where they may.
    must(weeks_of(one, sqlite, "lead_one") == expected, "a lead's weeks are all crews'")
    for name, week in weeks_of(one, None, "crew_north").items():
        named = set(json.dumps(json.loads(week)).split('"'))
        must(not named & jobs("crew_south"), f"{name}: a crew's week names another's job")
    four = new_database("four")
    for device, crew in ((own, "crew_north"), (south_device, "crew_south")):
        server.sql(four, f"INSERT INTO crew_device VALUES ('{device}', '{crew}')")
    told, by_name = drop(four, all_of_it, user="crew_north", expect=1)
    must([by_name[name]["state"] for name in ("a", "b", "late")] == ["taken", "refused", "taken"], f"{told}")
    must("lead" in by_name["b"]["problem"]["what_to_do"], f"{told}")
    drop(four, all_of_it, user="crew_south", expect=1)
    told, by_name = drop(four, all_of_it, user="lead_one")
    must(number(four, "SELECT count(*) FROM entry") == whole and weeks_of(four, sqlite, "lead_one") == expected, "crews and lead bring the same")
    server.sql(four, f"UPDATE crew_job SET crew = 'crew_south' WHERE job = '{job}'")
    must(job not in {r[0] for r in server.sql(four, "SELECT DISTINCT job FROM entry", "crew_north")}, "a job given away is seen no more")

    # An erasure is obeyed: words and photos of the customer go, and none comes back with an older bundle.
    erased_from = json.loads(program("job", "list", "--json", data=north))["jobs"][0]["job"]
    before = number(four, "SELECT count(*) FROM personal")
    program("erase-customer", erased_from, "--despite", "asked for", data=north)
    gone_bundle = home.path / "gone.bundle"
    program("pack", gone_bundle, data=north)
    erasing = laid_down("erasing", {"gone": gone_bundle})
    drop(four, erasing, user="crew_north", expect=1)
    drop(four, erasing, user="lead_one")
    after = number(four, "SELECT count(*) FROM personal")
    must(after < before and number(four, "SELECT count(*) FROM erased") == 1, f"words: {before}, then {after}")
    must(number(four, "SELECT count(*) FROM personal WHERE customer IN (SELECT customer FROM erased)") == 0, "no word of the erased")
    must(number(four, "SELECT count(*) FROM attachment WHERE customer IN (SELECT customer FROM erased)") == 0, "no photo of the erased")
    program("unpack", gone_bundle, data=sqlite)
    must(weeks_of(four, sqlite, "lead_one") == weeks_of(None, sqlite), "the weeks after an erasure")

    # Nothing that stays on one node of several: no trigger, no sequence, no function, no foreign key.
    for what in ("pg_trigger WHERE NOT tgisinternal", "pg_class WHERE relkind = 'S'", "pg_proc WHERE pronamespace = 'public'::regnamespace",
                 "pg_constraint WHERE contype = 'f'"):
        must(number(four, f"SELECT count(*) FROM {what}") == 0, what)
    plain = number(four, "SELECT count(*) FROM information_schema.columns WHERE table_schema = 'public' AND data_type = 'text' AND "
                         "coalesce(collation_name, '') <> 'C'")
    must(plain == 0, f"{plain} columns are not compared as bytes")

    new_database("five")
    begun = time.monotonic()
    env = {**os.environ, "WM_OFFICE_CONNECT": server.conninfo("five") + " options='-c synchronous_commit=off'"}
    fold = subprocess.run([FOLD], capture_output=True, text=True, timeout=1800, cwd=ROOT, env=env)
    must(fold.returncode == 0, f"the folds differ\n{fold.stdout[-3000:]}{fold.stderr[-2000:]}")
    said = next(line for line in fold.stdout.splitlines() if "histories" in line).strip()
    print(f"{len(expected)} weeks byte by byte, {whole} entries in either order, {len(seen)} different states at a death, none half taken; "
          f"{said} in {time.monotonic() - begun:.0f} s")
finally:
    server.end()
