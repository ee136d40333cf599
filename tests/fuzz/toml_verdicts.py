"""Makes tests/fuzz/corpus/toml/verdicts.json: small texts, and what Python's tomllib (TOML 1.0) reads in each, or null.

The suite holds our reader to it. Run from the root of the tree with another seed to look further:
    /usr/bin/python3 tests/fuzz/toml_verdicts.py 7 > tests/fuzz/corpus/toml/verdicts.json
"""
import datetime, json, random, sys, tomllib

SOUND = ['a = 1', 'a = "x"', "a = 'x'", 'a = [1, 2, 3]', 'a = { b = 1, c = "d" }', '[t]\na = 1', '[[t]]\na = 1\n[[t]]\na = 2', 'a.b.c = 1',
         '"a b" = 1', 'a = 2027-03-04', 'a = 2027-03-04T09:10:00Z', 'a = 09:10:00', 'a = 1.5', 'a = -0.0', 'a = 1e3', 'a = 0x1F', 'a = 0o17',
         'a = 0b101', 'a = 1_000', 'a = true', 'a = """\nx\ny"""', "a = '''\nx'''", 'a = "\\u00e4\\n\\t\\\\"', '# only words', 'a = 1 # words',
         'a = [\n 1,\n 2,\n]', '[a.b]\nc = 1\n[a]\nd = 2', 'a = "é"', 'a = [[1], ["x"]]', 'a = inf', 'a = nan', 'a = 99999999999999999999',
         'a = "x" \r\nb = 2\r\n', '[t]\n[t.u]\na = 1', "'' = 1"]
PIECES = ['=', '.', ',', '"', "'", '[', ']', '{', '}', '\n', '\r\n', '\t', ' ', '#', '_', '-', '+', '0', '1', '9', 'e', 'x', 'T', ':', '\\', '\\u', 'a',
          'true', 'é', '"""', "'''", '[[', ']]', '\x00', '\x7f', '1979-05-27']


def spoilt(text, dice):
    for _ in range(dice.choice([0, 1, 1, 1, 2, 3])):
        at = dice.randint(0, len(text))
        deed = dice.choice([0, 1, 2, 2, 2, 2, 3, 4])
        if deed == 0:
            text = text[:at] + dice.choice(PIECES) + text[at:]
        elif deed == 1:
            text = text[:at] + text[at + dice.randint(1, 3):]
        elif deed == 2:
            # Another key, so that most of these are sound.
            text = text + "\n" + dice.choice(SOUND).replace("a", dice.choice("ghijk"))
        elif deed == 3:
            text = text[:at] + text[max(0, at - 4):at] + text[at:]
        else:
            text = text[:at] + dice.choice(PIECES) + text[at + 1:]
    return text


def plain(value):
    if isinstance(value, dict):
        return {name: plain(each) for name, each in value.items()}
    if isinstance(value, list):
        return [plain(each) for each in value]
    if isinstance(value, datetime.datetime) or isinstance(value, datetime.time):
        return "?moment"
    if isinstance(value, datetime.date):
        return "?" + value.isoformat()
    if isinstance(value, float) and (value != value or abs(value) == float("inf")):
        return "?" + repr(value)
    return value


dice = random.Random(int(sys.argv[1]) if len(sys.argv) > 1 else 1)
rows = []
seen = set()
while len(rows) < 700:
    text = spoilt(dice.choice(SOUND), dice)
    if text in seen or len(text) > 120:
        continue
    seen.add(text)
    try:
        rows.append([text, plain(tomllib.loads(text))])
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        rows.append([text, None])
print("[" + ",\n".join(json.dumps(row, ensure_ascii=True) for row in rows) + "]")
