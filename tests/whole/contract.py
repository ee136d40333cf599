"""The JSON documents of the command line as a table, and what is demanded of each field."""
import copy, json, re

# A path goes into lists by [] and on into what may be null by ?. A set lists the only words that may stand there.
OUTCOMES = {"open", "conforms", "does not conform", "inconclusive", "deferred", "not applicable"}
SHARES = ("check", "word or empty"), ("failed", "count"), ("tries", "count"), ("share", "share"), ("low", "share"), \
    ("high", "share"), ("jobs[]", "word")


# As --at is written; a fraction of a second may stand there too.
MOMENT = r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)"


def rows(document, prefix, fields):
    return [(document, prefix + path, kind) for path, kind in fields]


TABLE = [
    ("problem", "problem.what", "word"), ("problem", "problem.where", "word"), ("problem", "problem.what_to_do", "word"),

    ("job new", "job", "word"),

    *rows("job list", "jobs[].", [
        ("job", "word"), ("checklist", {"survey", "kit", "commissioning", "service"}), ("kind", "word"), ("place", "word"),
        ("crew", "word"), ("started", "moment"), ("state", {"open", "signed", "handed over", "restricted", "refused"})]),

    *rows("job show", "", [
        ("job", "word"), ("checklist.name", "word"), ("checklist.version", "word"), ("checklist.hash", "hash"),
        ("facts", "table"), ("state", {"open", "signed", "handed over", "restricted", "refused"}), ("head", "hash"),
        ("blockers[].check", "word"), ("blockers[].outcome", OUTCOMES - {"not applicable"}),
        ("blockers[].why", "word")]),
    *rows("job show", "checks[].", [
        ("id", "word"), ("stage", "word"),
        ("kind", {"confirm", "choice", "quantity", "positions", "series", "text", "photo", "signature", "computed"}),
        ("core", "yes or no"), ("hold", "yes or no"), ("severity", {"H", "D", "P", "R"}), ("outcome", OUTCOMES),
        ("why", "word"), ("waits_for[]", "word"), ("missing_facts[]", "word"),
        ("tolerance?.text", "word or empty"), ("tolerance?.rule", {"guarded", "simple", "none"}),
        *((f"tolerance?.{side}?.{part}", kind) for side in ("low", "high", "accept_low", "accept_high")
          for part, kind in (("value", "number"), ("unit", "word")))]),
    *rows("job show", "checks[].readings[].", [
        ("entry", "hash"), ("text", "word"), ("value?", "number"), ("unit", "word or empty"), ("place", "word or empty"),
        ("instrument", "word or empty"), ("at", "moment"), ("by", "word"), ("corrects?", "hash")]),

    *rows("enter", "", [
        ("check", "word"), ("outcome", OUTCOMES - {"deferred", "not applicable"}), ("why", "word"),
        ("probability_conforming?", "share"), ("entry", "hash")]),

    *rows("handover", "", [("report", "word"), ("state", {"full", "restricted"}), ("message?", "word"), ("sha256", "hash")]),

    *rows("post list", "messages[].", [
        ("message", "word"), ("to", "word"), ("subject", "word"), ("state", {"waiting", "sent", "refused", "cannot send"}),
        ("tries", "count"), ("next_try?", "moment"), ("last_answer?", "word")]),

    *rows("week", "", [("week", "week"), ("jobs", "count"), ("results", "count")]),
    *rows("week", "failed[].", SHARES), *rows("week", "by_crew[].", SHARES), *rows("week", "by_batch[].", SHARES),
    *rows("week", "severe[].", [("job", "word"), ("check", "word"), ("outcome", "word"), ("corrected", "yes or no")]),
    *rows("week", "open[].", [("job", "word"), ("check", "word"), ("age_days", "count"), ("owner", "word")]),
    *rows("week", "findings[].", [
        ("kind", "word"), ("subject", "word"), ("check", "word"), ("sentence", "word"), ("p", "share"), ("q", "share"),
        ("failed", "count"), ("tries", "count"), ("others_failed", "count"), ("others_tries", "count"), ("jobs[]", "word"),
        ("low?", "share"), ("high?", "share"), ("others_low?", "share"), ("others_high?", "share"), ("others_jobs?", "list"), ("compared_with", "word")]),
    *rows("week", "funnel?.", [
        ("target", "share"), ("spread", "number"), ("points[].crew", "word"), ("points[].failed", "count"), ("points[].tries", "count"),
        ("points[].share", "share"), ("points[].low", "share"), ("points[].high", "share"), ("points[].outside", "yes or no"), ("points[].jobs[]", "word"),
        ("limits[].tries", "number"), ("limits[].low95", "share"), ("limits[].high95", "share"), ("limits[].low998", "share"),
        ("limits[].high998", "share")]),
    *rows("week", "samples[].", [("job", "word"), ("why", "word")]),
    *rows("week", "", [("finished", "count"), ("seed", "word")]),
    *rows("week", "rules_left_out[].", [("failure", "word"), ("rule", "word"), ("because", "word")]),

    *rows("lint", "files[].", [
        ("file", "word"), ("checks", "count"), ("core", "count"), ("findings[].line", "count"), ("findings[].column", "count"),
        ("findings[].what", "word"), ("findings[].what_to_do", "word"), ("findings[].severity", {"error", "advice"})]),

    *rows("pack", "", [("bundle", "word"), ("entries", "count"), ("attachments", "count"), ("heads[]", "table")]),
    *rows("unpack", "", [
        ("new_entries", "count"), ("known_entries", "count"), ("conflicts[].job", "word"), ("conflicts[].check", "word"),
        ("missing", "list")]),
    ("unpack refused", "missing[]", "word"), ("unpack refused", "problem.what", "word"),

    *rows("attest", "", [
        ("genuine", "yes or no"), ("reasons[]", "word"), ("signer", "word or empty"), ("signed_at?", "moment or empty"),
        ("job?", "word or empty"), ("head?", "hash or empty"), ("in_journal?", "yes or no")]),
    *rows("attest --journal", "", [
        ("genuine", "yes or no"), ("entries", "count"), ("devices[].device", "word"), ("devices[].entries", "count"),
        ("devices[].head", "hash"), ("reasons[]", "word")]),

    *rows("work-out", "", [("name", "word"), ("inputs", "table"), ("outputs", "table"), ("source", "word")]),
    *rows("work-out --list", "computations[].", [
        ("name", "word"), ("title", "word"), ("source", "word"),
        *((f"{side}[].{part}", kind) for side in ("inputs", "outputs") for part, kind in (
            ("symbol", "word"), ("unit", "word or empty"), ("meaning", "word"), ("optional", "yes or no")))]),
]


def is_text(value):
    return isinstance(value, str)


def is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def matches(pattern):
    return lambda value: is_text(value) and re.fullmatch(pattern, value) is not None


KINDS = {
    "word": lambda v: is_text(v) and v.strip() != "",
    "word or empty": is_text,
    "count": lambda v: isinstance(v, int) and not isinstance(v, bool) and v >= 0,
    "number": is_number,
    "share": lambda v: is_number(v) and 0 <= v <= 1,
    "yes or no": lambda v: isinstance(v, bool),
    "hash": matches("[0-9a-f]{64}"),
    "hash or empty": matches("([0-9a-f]{64})?"),
    "moment": matches(MOMENT),
    "moment or empty": matches(f"({MOMENT})?"),
    "week": matches(r"\d{4}-W\d\d"),
    "table": lambda v: isinstance(v, dict) and v,
    "list": lambda v: isinstance(v, list),
}


class Broken(AssertionError):
    pass


class Contract:
    """Holds documents against the table and remembers which rows and listed words were met."""

    def __init__(self):
        self.met, self.words, self.samples = set(), {}, {}

    def fits(self, document, json_value):
        mine = [row for row in TABLE if row[0] == document]
        if not mine:
            raise Broken(f"the table has no document \"{document}\"")
        known = len(self.met)
        for row in mine:
            self.walk(row, json_value, row[1].split("."), document)
        if len(self.met) > known:
            self.samples.setdefault(document, []).append(json_value)

    def walk(self, row, value, steps, where):
        name, lists, null = re.fullmatch(r"(\w+)(\[\])?(\?)?", steps[0]).groups()
        if not isinstance(value, dict) or name not in value:
            raise Broken(f"{where}: \"{name}\" is missing")
        value, where = value[name], f"{where} / {name}"
        if null and value is None:
            return
        if not lists:
            return self.step(row, value, steps[1:], where)
        if not isinstance(value, list):
            raise Broken(f"{where} is no list: {value!r}")
        for n, one in enumerate(value):
            self.step(row, one, steps[1:], f"{where}[{n}]")

    def step(self, row, value, rest, where):
        if rest:
            return self.walk(row, value, rest, where)
        kind = row[2]
        if isinstance(kind, set):
            fine = is_text(value) and value in kind
            self.words.setdefault(row[:2], set()).add(value if fine else None)
        else:
            fine = KINDS[kind](value)
        if not fine:
            raise Broken(f"{where} is {value!r}, wanted: {kind}")
        self.met.add(row[:2])

    def not_met(self):
        """Rows that no document ever filled: nothing was shown about them."""
        return [f"{document}: {path}" for document, path, _ in TABLE if (document, path) not in self.met]

    def words_not_met(self):
        return {f"{document}: {path}": sorted(kind - self.words.get((document, path), set())) for document, path, kind in TABLE
                if isinstance(kind, set) and kind - self.words.get((document, path), set())}

    def toothless(self):
        """Rows whose field may be left out of a document that fitted, or hold something else, unnoticed."""
        weak = []
        for document, path, kind in TABLE:
            for deed in ("left out", "changed"):
                if not any(self.notices(document, sample, path, deed) for sample in self.samples.get(document, [])):
                    weak.append(f"{document}: {path} {deed}")
        return weak

    @staticmethod
    def notices(document, sample, path, deed):
        spoilt = copy.deepcopy(sample)
        if not spoil(spoilt, path.split("."), deed):
            return False
        try:
            Contract().fits(document, spoilt)
        except Broken:
            return True
        return False


def spoil(value, steps, deed):
    """Takes the first such field out, or puts there what no field may hold. False if there is none."""
    name, lists, _ = re.fullmatch(r"(\w+)(\[\])?(\?)?", steps[0]).groups()
    if not isinstance(value, dict) or name not in value:
        return False
    if len(steps) > 1:
        inner = value[name] if lists else [value[name]]
        return any(spoil(one, steps[1:], deed) for one in inner or [])
    if deed == "left out":
        del value[name]
    elif lists and value[name]:
        value[name][0] = {}
    else:
        value[name] = ["something else"] if not isinstance(value[name], list) else "something else"
    return True


def one_document(text):
    """The one JSON document of this output: nothing before it, one newline after it."""
    value, end = json.JSONDecoder().raw_decode(text)
    if text[end:] != "\n":
        raise Broken(f"after the document comes {text[end:]!r}, not one newline")
    return value
