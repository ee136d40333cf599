"""The program as an outside script sees it: the command line, exit codes and JSON of the contract."""
import json, os, pathlib, re, subprocess, tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ.get("WM_PROGRAM", str(ROOT / "build/release/witnessmark"))


class Answer:
    def __init__(self, done):
        self.code, self.out, self.err = done.returncode, done.stdout, done.stderr

    @property
    def json(self):
        return json.loads(self.out)


class Folder:
    """A data folder with a clock that moves on by itself."""

    def __init__(self, start="2026-11-25T09:00:00+05:00", path=None):
        self._kept = tempfile.TemporaryDirectory() if path is None else None
        self.path = pathlib.Path(path or self._kept.name)
        self.data = self.path / "data"
        self.minutes = 0
        self.start = start

    def now(self):
        hour, minute = int(self.start[11:13]), int(self.start[14:16])
        total = hour * 60 + minute + self.minutes
        return f"{self.start[:11]}{total // 60 % 24:02}:{total % 60:02}{self.start[16:]}"

    def run(self, *words, expect=None, stdin=""):
        done = subprocess.run([PROGRAM, *map(str, words), "--data", str(self.data), "--at", self.now()],
                              input=stdin, capture_output=True, text=True, timeout=300)
        answer = Answer(done)
        if expect is not None and answer.code != expect:
            raise AssertionError(f"{words}: exit {answer.code}, expected {expect}\n{answer.out[-2000:]}\n{answer.err[-2000:]}")
        return answer

    def json(self, *words, expect=0):
        return self.run(*words, "--json", expect=expect).json

    def end_the_wait(self):
        """After wrong PINs: --at does not move that wait, which runs by the machine's own clock."""
        tries = self.data / "keys/tries.json"
        tries.write_text(re.sub(r'"not_before_ms":\d+', '"not_before_ms":1', tries.read_text()))

    def write(self, name, text):
        file = self.path / name
        file.write_text(text, encoding="utf-8")
        return file


def run(*words, **kwargs):
    return subprocess.run([str(w) for w in words], capture_output=True, text=True, timeout=300, **kwargs)


def must(condition, words):
    if not condition:
        raise AssertionError(words)


# Facts of an invented house; `extra` lines replace keys of the same name.
BASE = {
    "job.kind": '"new"', "customer.name": '"Ansa Velmorrin"', "customer.phone": '"555-0142"',
    "customer.email": '"ansa@example.org"', "customer.decider": '"owner"', "customer.household": "4",
    "customer.vulnerable": "false", "customer.photo_leave": "true", "site.latitude": "29.4", "site.street": '"Dovetail Steps"',
    "site.altitude_m": "2310", "site.declination_deg": "2.5", "site.frost_class": '"regular"', "site.t_min_c": "-13",
    "site.wind_ms": "34", "site.snow_kpa": "0.4", "site.sea_km": "400", "site.overhead_line": "false",
    "roof.covering": '"clay-tile"', "roof.pitch_deg": "30", "roof.azimuth_deg": "185", "roof.eaves_m": "4.5",
    "roof.structure": '"timber-rafter"', "roof.spacing_mm": "600", "roof.member_b_mm": "60", "roof.member_h_mm": "140",
    "roof.free_w_m": "4", "roof.free_l_m": "5", "roof.asbestos": '"no"', "roof.point_ok_kn": "2.5",
    "water.static_kpa": "420", "water.flow_lmin": "12", "water.source": '"mains"', "water.hardness_mgl": "120",
    "water.chloride_mgl": "40", "heater.volume_l": "80", "heater.power_w": "2000", "heater.voltage_v": "230",
    "heater.max_kpa": "800", "heater.max_inlet_c": "90", "heater.cutout_c": "85",
    "heater.relief": '"temperature-and-pressure"', "heater.relief_kpa": "700", "heater.age_y": "4", "house.pipe": '"copper"',
    "house.taps": "2", "elec.earth": '"yes"', "elec.rcd_ma": "30", "elec.breaker_a": "16", "elec.curve": '"B"', "elec.system": '"TN"', "elec.bond_required": "true",
    "sys.kind": '"indirect"', "sys.feed": '"mains-pressure"', "sys.geometry": '"close-coupled"', "sys.tank_l": "150",
    "sys.tank_dry_kg": "60", "sys.tank_max_kpa": "800", "sys.tank_material": '"enamelled steel"', "sys.coll_m2": "2",
    "sys.coll_kg": "38", "sys.coll_max_kpa": "800", "sys.coll_l": "2", "sys.jacket_l": "9", "sys.jacket_max_kpa": "250",
    "sys.jacket_relief_kpa": "200", "sys.relief_kpa": "600", "sys.relief_c": "95", "sys.limit_set_kpa": "350",
    "sys.min_rise_mm": "100", "sys.anti_reverse": "false", "sys.ua_wk": "2", "sys.mount": '"roof hook"', "sys.anchor_n": "4",
    "sys.anchor_nm": "20", "sys.clamp_n": "4", "sys.clamp_nm": "12", "sys.tilt_target": "35", "sys.az_target": "180",
    "sys.pipe_od_mm": "22", "sys.ins_mm": "25", "sys.run_hot_m": "0.6", "sys.run_cold_m": "0.6", "sys.run_disch_m": "5",
    "sys.run_drain_m": "3", "sys.fluid": '"premix"', "sys.controller": '"none"', "crew.lead": '"Tindo Quellaby"',
    "crew.members": '"Tindo Quellaby, Ode Brannick"', "crew.plumb_lic": '"P-118 2028-03-31"',
    "crew.elec_lic": '"E-204 2028-03-31"', "crew.height_card": '"H-77 2028-03-31"', "pos.gauge_to_relief_m": "0",
}
INSTRUMENTS = [
    ("TW-1", "torque wrench", "0.1 N·m", "0.5 N·m"), ("PG-1", "pressure gauge", "2 kPa", "8 kPa"),
    ("TH-1", "two-channel thermometer", "0.1 K", "0.6 K"), ("IN-1", "inclinometer", "0.1°", "0.3°"),
    ("RF-1", "refractometer", "1 K", "1.5 K"), ("IR-1", "irradiance meter", "1 W/m²", "10 %"),
    ("ET-1", "continuity tester", "0.01 Ω", "0.03 Ω"), ("ET-2", "insulation tester", "0.1 MΩ", "10 %"),
    ("ET-3", "rcd tester", "1 ms", "10 ms"), ("VT-1", "voltage tester", "1 V", "0 V"), ("LT-1", "loop tester", "0.01 Ω", "10 %"),
]


def facts(instruments=INSTRUMENTS, due=None, **changes):
    table = dict(BASE)
    for key, value in changes.items():
        key = key.replace("__", ".")
        if value is None:
            table.pop(key, None)
        else:
            table[key] = value
    text = "".join(f"{key} = {value}\n" for key, value in table.items())
    for name, kind, res, u in instruments:
        until = (due or {}).get(name, "2027-06-30")
        text += (f'[[inst]]\nid = "{name}"\ntype = "{kind}"\nres = "{res}"\nu = "{u}"\n'
                 f'cal_date = 2026-06-30\ncal_due = {until}\n')
    return text


class Crew:
    """Answers each check rightly, from nothing but what `job show --json` tells."""

    SPECIAL = {
        "coll-azimuth": "181°", "power-locked": "0 V", "site-weather": "3 m/s", "air-purged": "90 s",
        "insulation-res": "60 MΩ", "thermostat-60": "65 °C", "goods-scan": "ST-1, SC-1, all as on the list",
        "test-hold": "0 min=478 kPa; 2 min=478; 4 min=477; 6 min=477; 8 min=477; 10 min=477; "
                     "water start=18.2 °C; water end=18.3 °C",
        "loop-test-hold": "0 min=130 kPa; 2 min=130; 4 min=129; 6 min=129; 8 min=129; 10 min=129; "
                          "fluid start=16.4 °C; fluid end=16.4 °C",
        "cold-failure": "0.05 L",
        "sun-window": "0 min=800 W/m²; 5 min=805; 10 min=790; 15 min=810; 20 min=800",
        "temp-rise": "0 min: riser=20 °C, downcomer=19 °C; 5 min: riser=28 °C, downcomer=23 °C; 10 min: riser=34 °C, "
                     "downcomer=27 °C; 15 min: riser=39 °C, downcomer=31 °C; 20 min: riser=44 °C, downcomer=35 °C",
    }

    # Places whose limit is not that of the check.
    PLACES = {("tap-retest", "solar store"): "75 °C"}

    def __init__(self, folder, job):
        self.folder, self.job = folder, job

    def show(self):
        return self.folder.json("job", "show", self.job)

    def check(self, name):
        return next(c for c in self.show()["checks"] if c["id"] == name)

    @staticmethod
    def fine(tolerance):
        side = lambda key: tolerance[key]["value"] if tolerance and tolerance[key] else None
        low, high = side("accept_low"), side("accept_high")
        low = side("low") if low is None else low
        high = side("high") if high is None else high
        if low is not None and high is not None:
            return (low + high) / 2
        if high is not None:
            return high * 0.5 if high > 0 else high - 3
        if low is not None:
            return low * 1.4 if low > 0 else low + 3
        return 1.0

    def value(self, check):
        if check["id"] in self.SPECIAL:
            return self.SPECIAL[check["id"]]
        kind = check["kind"]
        if kind == "confirm" or kind == "photo":
            return "yes"
        if kind == "choice":
            return check["accepted"][0]
        if kind == "text":
            return "noted"
        return f'{self.fine(check["tolerance"]):.3g} {check["unit"]}'

    def entries(self, check):
        places = [p for p in check["places"] if p["required"] and p["name"]]
        if check["kind"] != "positions" and not (places and check["kind"] != "series"):
            return [("", self.value(check))]
        result = [("", self.value(check))] if any(p["required"] and not p["name"] for p in check["places"]) else []
        for place in places:
            if (check["id"], place["name"]) in self.PLACES:
                text = self.PLACES[check["id"], place["name"]]
            elif place["accepted"]:
                text = place["accepted"][0]
            elif place["unit"]:
                text = f'{self.fine(check["tolerance"]):.4g} {place["unit"]}'
            else:
                text = "yes"
            result.append((place["name"], text))
        return result

    def photo(self):
        file = self.folder.path / "photo.jpg"
        if not file.exists():
            run("convert", "-size", "320x240", "plasma:tan-sienna", "-seed", "7", file)
        return file

    def enter(self, check, place, text, *more):
        words = ["enter", self.job, check["id"], text]
        if place:
            words += ["--place", place]
        if check["kind"] == "photo" or check["photo"] == "required":
            words += ["--photo", self.photo()]
        self.folder.minutes += 1 if self.folder.minutes < 600 else 0
        return self.folder.run(*words, *more, "--json")

    def do_all(self, skip=(), more=()):
        """Every core check and hold point that applies, in the order of the list; `more` stands behind each entry."""
        names = [c["id"] for c in self.show()["checks"]]
        for name in names:
            check = self.check(name)
            if name in skip or check["outcome"] in ("not applicable", "conforms"):
                continue
            if check["kind"] in ("computed", "signature") or not (check["core"] or check["hold"]):
                continue
            for place, text in self.entries(check):
                answer = self.enter(check, place, text, *more)
                must(answer.code == 0, f"{name} {place} {text}: exit {answer.code}\n{answer.out}{answer.err}")
