"""The lists of a folder held to safety_rules.toml, which was written apart from them.

What a list says of a check is compared with its row: severity, hold point, order, answers, instrument. What a limit or an answer
comes to is asked of the program: the list gets the house of the table and, in place of its own examples, questions made from the
rows, and `lint` says which of them it answers otherwise. A limit so hidden in settings or facts is found like one in plain sight.
"""
import functools, json, pathlib, re, shutil, tempfile, tomllib

from program import PROGRAM, ROOT, run

TABLE = "tests/whole/safety_rules.toml"
RIGHT = f"Put it back. Where the rule itself has changed, change its row in {TABLE} and name the source."


def rules():
    return tomllib.loads((ROOT / TABLE).read_text(encoding="utf-8"))


@functools.cache
def checks_in(text):
    return {check["id"]: check for check in tomllib.loads(text).get("check", [])}


class Lists:
    """The lists of a folder, as text and as read."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.text = {file.stem: file.read_text(encoding="utf-8") for file in sorted(self.folder.glob("*.toml"))}
        self.checks = {name: checks_in(text) for name, text in self.text.items()}

    def find(self, row):
        return self.checks.get(row["list"], {}).get(row["id"])

    def place(self, row):
        before, found, _ = self.text.get(row["list"], "").partition(f'\nid = "{row["id"]}"\n')
        return f'{self.folder.name}/{row["list"]}.toml' + (f":{before.count(chr(10)) + 2}" if found else "")

    def before(self, row):
        """Every check it waits for, directly or through others."""
        known, found, ahead = self.checks[row["list"]], set(), list(self.find(row).get("after", []))
        while ahead:
            each = ahead.pop()
            if each not in found and each in known:
                found.add(each)
                ahead += known[each].get("after", [])
        return found


def plain(text):
    return " ".join(text.split())


def refused_by(row):
    return row.get("refused", ["no"] if row.get("answers") == ["yes"] else [])


def of_list(row, check, before):
    """What the list says otherwise than the row, each as the end of a sentence that begins with the check."""
    if check["severity"] != "H":
        yield f'has severity {check["severity"]}, and it can hurt someone: H'
    if check.get("hold", False) != row.get("hold", False):
        yield "is no hold point, and nobody may pass it" if row.get("hold") else "is a hold point, which its row does not say"
    for each in row.get("after", []):
        if each not in before:
            yield f'no longer waits for "{each}", neither directly nor through others'
    if check.get("restricts", False) != row.get("restricts", False):
        yield ("no longer restricts the handover when it is put off" if row.get("restricts")
               else "lets a house be handed over without it, restricted")
    for reason in set(check.get("defer_reasons", [])) - set(row.get("put_off", [])):
        yield f'may be put off because of "{reason}"'
    if row.get("core") and not check.get("core"):
        yield "is no longer in the fast run, and being no hold point may stay open"
    if check.get("rule") != row.get("rule"):
        yield f'is decided by the rule {check.get("rule", "that is missing")}, not by {row.get("rule", "a figure")}'
    yield from asked_otherwise(row, check)
    for part in row.get("part", []):
        found = next((each for each in check.get("part", []) if each["name"] == part["name"]), None)
        if not found:
            yield f'no longer asks for "{part["name"]}"'
            continue
        if part.get("said") and not found.get("said"):
            yield f'keeps no word of "{part["name"]}" with its reading'
        for words in asked_otherwise(part, found):
            yield f'with "{part["name"]}" {words}'


def asked_otherwise(row, check):
    """Of whom it is asked, with what it is measured, and what it takes."""
    if plain(check.get("applies", "")) != plain(row.get("asked", "")):
        yield f'is asked of "{plain(check.get("applies", "every house"))}", not of "{plain(row.get("asked", "every house"))}"'
    if row.get("by") and check.get("instrument") != row["by"]:
        yield f'is read with {check.get("instrument", "no instrument, so without doubt")}, not with a {row["by"]}'
    if "tolerance" in row and plain(check.get("tolerance", "")) != plain(row["tolerance"]):
        yield f'has the tolerance "{plain(check.get("tolerance", ""))}", not "{plain(row["tolerance"])}"'
    for answer in check.get("accept", []):
        if answer not in row.get("answers", []):
            yield f'lets the answer "{answer}" conform'
    for answer in row.get("refused", []):
        if answer not in check.get("refuse", []):
            yield f'no longer refuses the answer "{answer}"'


def beyond(figure, way):
    """One unit of the last digit further: 50.0 °C becomes 50.1 °C."""
    number, _, unit = figure.partition(" ")
    digits = len(number.partition(".")[2])
    return f"{float(number) + way * 10.0 ** -digits:.{digits}f} {unit}"


def question(row, outcome, says, reading=None, facts=None, parts=None):
    """One thing asked of the program; what the row leaves open is answered well."""
    good = {part["name"]: part["answers"][0] if "answers" in part else part.get("fine", part.get("most", part.get("least")))
            for part in row.get("part", [])}
    for name, answer in (parts or {}).items():
        good.pop(name) if answer is None else good.update({name: answer})
    return {"row": row, "outcome": outcome, "says": says, "reading": at_all(row, fine(row)) if reading is None else reading,
            "facts": merged(row.get("facts", {}), facts or {}), "parts": good}


def fine(row):
    return row["answers"][0] if "answers" in row else row.get("most", row.get("least"))


def names_of(row):
    places = row.get("places", [])
    return places if isinstance(places, list) else [str(place + 1) for place in range(places)]


def at_all(row, value, last=None):
    """The same at each place; another at the last one."""
    if "needs" in row:
        return ""
    if value is None:
        return row["case"][0]["reading"]
    names = names_of(row)
    told = [value] * (len(names) - 1) + [last or value]
    return ("; ".join(f"{name}={each}" for name, each in zip(names, told)) or last or value).replace(" pieces", "")


def merged(first, then):
    both = dict(first)
    for key, value in then.items():
        both[key] = merged(both.get(key, {}), value) if isinstance(value, dict) else value
    return both


def nested(name, value):
    for word in reversed(name.split(".")):
        value = {word: value}
    return value


def number_of(figure):
    number = figure.split()[0]
    return float(number) if "." in number else int(number)


def questions_of(row):
    bad = "does not conform"
    for answer in row.get("answers", []):
        yield question(row, "conforms", f'"{answer}"', at_all(row, answer))
    for answer in refused_by(row):
        yield question(row, bad, f'"{answer}"', at_all(row, fine(row), answer))
    for side, way in (("least", -1), ("most", 1)):
        if side not in row:
            continue
        for figure, outcome in ((row[side], "conforms"), (beyond(row[side], way), bad)):
            words = f'{figure}, where at {side} {row[side]} is right,'
            facts = nested(row["needs"], number_of(figure)) if "needs" in row else None
            yield question(row, outcome, words, at_all(row, row[side], figure), facts)
    if len(names_of(row)) > 1:
        short = at_all({**row, "places": names_of(row)[:-1]}, fine(row))
        yield question(row, "open", f'nothing at the place "{names_of(row)[-1]}"', short)
    for part in row.get("part", []):
        yield from questions_of_part(row, part)
    for case in row.get("case", []):
        says = f'"{case["reading"]}"' + (f' with {told(case["facts"])}' if "facts" in case else "")
        yield question(row, case["outcome"], says, case["reading"], case.get("facts"), case.get("parts"))


def questions_of_part(row, part):
    name, outside = part["name"], part.get("outside", "does not conform")
    for answer in part.get("answers", []):
        yield question(row, "conforms", f'"{answer}" for "{name}"', parts={name: answer})
    for answer in refused_by(part):
        yield question(row, outside, f'"{answer}" for "{name}"', parts={name: answer})
    for side, way in (("least", -1), ("most", 1)):
        if side in part:
            for figure, outcome in ((part[side], part.get("edge", "conforms")), (beyond(part[side], way), outside)):
                yield question(row, outcome, f'{figure} for "{name}", where at {side} {part[side]} is right,', parts={name: figure})
    if part.get("required"):
        yield question(row, "open", f'nothing for "{name}"', parts={name: None})


def told(facts):
    return ", ".join(f"{room}.{name} = {value}" for room, those in facts.items() for name, value in those.items())


def toml(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(key, ensure_ascii=False)} = {toml(each)}" for key, each in value.items()) + " }"
    return json.dumps(value, ensure_ascii=False)


def example_of(asked):
    row, lines = asked["row"], ["[[check.example]]", f'reading = {toml(asked["reading"])}']
    limit = row.get("most", row.get("least"))
    if limit and row.get("by"):
        unit = limit.partition(" ")[2]
        lines.append(f'uncertainty = "0 {"K" if unit == "°C" else unit}"')
    lines += [f"{key} = {toml(asked[key])}" for key in ("facts", "parts") if asked[key]]
    return [*lines, f'outcome = "{asked["outcome"]}"', ""]


def with_questions(text, facts, asked):
    """The list with the table's house and the table's questions; and which question stands on which line."""
    text = re.sub(r"(?m)^\[\[check\.example\]\]\n(?:(?!\[).*\n)*", "", text + "\n")
    text = re.sub(r"(?m)^\[example_facts\]\n(?:(?!\[).*\n)*", "", text)
    head, *blocks = text.split("\n[[check]]\n")
    lines, at = head.split("\n"), {}
    lines += ["[example_facts]", *(f"{room}.{name} = {toml(value)}" for room, those in facts.items() for name, value in those.items()), ""]
    for block in blocks:
        lines += ["[[check]]", *block.split("\n")]
        for each in asked.get(re.search(r'^id = "(.+)"', block, re.M)[1], []):
            first = len(lines) + 1
            lines += example_of(each)
            at.update({line: each for line in range(first, len(lines) + 1)})
    return "\n".join(lines) + "\n", at


def of_program(lists, table, only=None):
    """What the program answers otherwise than the rows, as pairs of row and end of a sentence."""
    with tempfile.TemporaryDirectory() as kept:
        folder, at = pathlib.Path(kept), {}
        for name in ("instruments", "cautions"):
            shutil.copy(lists.folder / f"{name}.toml", folder)
        for name in only or sorted({row["list"] for row in table["check"]}):
            asked = {row["id"]: list(questions_of(row)) for row in table["check"] if row["list"] == name}
            text, at[name] = with_questions(lists.text[name], table["facts"], asked)
            (folder / f"{name}.toml").write_text(text, encoding="utf-8")
        done = run(PROGRAM, "lint", "--json", *(folder / f"{name}.toml" for name in at))
        try:
            files = json.loads(done.stdout)["files"]
        except ValueError:
            raise AssertionError(f"{PROGRAM} lint: no answer to the questions of {TABLE}. "
                                 f"Build the program, or name it in WM_PROGRAM.\n{done.stderr}")
    for file in files:
        name = pathlib.Path(file["file"]).stem
        if file["checks"] != len(lists.checks[name]):
            yield {"list": name, "id": name}, "cannot be read by the program, so none of its limits was tried"
        for finding in file["findings"]:
            asked = at[name].get(finding["line"])
            if asked:
                comes_out = re.search(r'comes out as "(.+)"', finding["what"])
                yield asked["row"], (f'takes {asked["says"]} as "{comes_out[1]}", and it must come out as "{asked["outcome"]}"' if comes_out
                                     else f'cannot be asked about {asked["says"]}: {finding["what"]}')
            elif finding["severity"] == "error" and not re.search(r"has \d of 3 examples", finding["what"]):
                yield {"list": name, "id": name}, f'has an error: {finding["what"]}'


def faults_of(lists, table, only=None):
    """Each as what, where, what to do; the program is asked last, and of the lists in `only` alone."""
    def fault(row, words):
        source = f' ({row["source"]})' if "source" in row else ""
        return f'{lists.place(row)}: "{row["id"]}" {words}{source}. {RIGHT}'

    for row in table["check"]:
        if not row.get("source") or re.search(r"\bS\d", row["source"]):
            yield f'{TABLE}: the row of "{row["id"]}" names no source. Name it, or write: common practice, no source.'
        check = lists.find(row)
        for words in of_list(row, check, lists.before(row)) if check else ["is gone, and its row still stands"]:
            yield fault(row, words)
    for row in table["wait"]:
        for each in sorted(set(row["after"]) - lists.before(row)) if lists.find(row) else ["anything: it is gone"]:
            yield fault(row, f'no longer waits for "{each}", neither directly nor through others')
    rows = {(row["list"], row["id"]) for row in table["check"]}
    for name, checks in lists.checks.items():
        for each in (i for i, check in checks.items() if check.get("severity") == "H" and (name, i) not in rows):
            yield (f'{lists.place({"list": name, "id": each})}: "{each}" can hurt someone and has no row. '
                   f"Write one in {TABLE}, with its source.")
    for row, words in of_program(lists, table, only):
        yield fault(row, words)
