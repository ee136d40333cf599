"""Readings straight from instruments by the command line: each protocol, the instrument's own number, evidence, a plug that is drawn."""
import re

from instrument_simulators import Cable, Network, in_network, lines, on_cable, two_registers
from program import Crew, Folder, facts, must

folder = Folder()
job = folder.json("job", "new", "--checklist", "commissioning", "--facts",
                  folder.write("facts.toml", facts(due={"ET-1": "2026-11-01"})))["job"]
crew = Crew(folder, job)


def read(profile, port, expect=0):
    return folder.run("read-instrument", "--profile", profile, "--port", port, "--json", expect=expect).json


# ---- each protocol, by the shipped profiles
high, low = two_registers(4805, "i")
text = b"WG-31007\0\0"
gauge = {0: high, 1: low} | {64 + i: text[2 * i] << 8 | text[2 * i + 1] for i in range(5)}
cable = Cable(on_cable(17, gauge))
told = read("pressure-gauge-cable", cable.port)
must((told["text"], told["serial"], told["instrument"]) == ("480 kPa", "WG-31007", "PG-1"), told)
must(abs(told["value"] - 480.5) < 1e-9 and told["unit"] == "kPa", told)
must("".join(each["sent"] for each in told["raw"]) == cable.heard.hex(), "the evidence is not what went over the wire")

high, low = two_registers(812.25, "f")
sun = {100: low, 101: high, 8: 77, 9: 0}
network = Network(in_network(1, sun))
told = read("irradiance-meter-network", network.port)
must((told["value"], told["text"], told["serial"]) == (812.25, "812 W/m²", str(77)), told)

trouble = ['0,"No error"']
thermometer = Network(lambda question: {b"*IDN?\n": b"Tarnhollow Works,T2,TH-1,1.3\n", b"MEAS:TEMP? (@1)\n": b"+4.16E+01\n",
                                        b"SYST:ERR?\n": trouble[0].encode() + b"\n"}.get(question.removeprefix(b"*CLS\n"), b""))
told = read("two-probe-thermometer", thermometer.port)
must((told["text"], told["instrument"]) == ("41.6 °C", "TH-1"), told)
trouble[0] = '-222,"Data out of range"'
must("-222" in read("two-probe-thermometer", thermometer.port, 3)["problem"]["what"], "the instrument's error was not told")
trouble[0] = '0,"No error"'

# ---- one reading is entered, with who it was and what it sent
wrench = Cable(lines({"WHO": "SN 4711-93\r\n", "PEAK": "PEAK 20.1 Nm\r\n"}))
source = ("--from-instrument", f"torque-wrench-lines@{wrench.port}")
told = folder.run("enter", job, "anchor-torque", "--place", "1", *source, "--json", expect=3).json["problem"]
must(told["what"] == 'The instrument "TW-2" is not registered for this job.', told)
must(crew.check("anchor-torque")["readings"] == [], "a stranger's reading was kept")
folder.run("job", "instrument", job, "--id", "TW-2", "--type", "torque wrench", "--resolution", "0.1 N·m", "--uncertainty", "0.5 N·m",
           "--cal-date", "2026-06-30", "--cal-due", "2027-06-30", expect=0)
entered = folder.json("enter", job, "anchor-torque", "--place", "1", *source)
reading = crew.check("anchor-torque")["readings"][0]
must((reading["text"], reading["instrument"], reading["entry"]) == ("20.1 N·m", "TW-2", entered["entry"]), reading)
evidence = folder.json("read-instrument", "--job", job, "--check", "anchor-torque")["evidence"]
must(len(evidence) == 1 and "serial number: 4711-93" in evidence[0]["evidence"], evidence)
must(f'received: {b"PEAK 20.1 Nm".hex()}' in evidence[0]["evidence"], evidence)
told = folder.run("enter", job, "anchor-torque", "--place", "2", *source, "--instrument", "TW-1", "--json", expect=3).json["problem"]
must(told["what"] == "The instrument at this port is TW-2, not TW-1.", told)

# ---- a calibration that has run out is told in the words of a typed reading
tester = folder.write("tester.toml", 'title = "Tester"\nprotocol = "line"\ninstrument_type = "continuity tester"\nunit = "Ω"\ndecimals = 2\n'
                      'plausible = [0, 100]\n[line]\nask = "R"\nreading = "R={value}"\nask_identity = "WHO"\nidentity = "{serial}"\n')
overdue = Cable(lines({"WHO": "ET-1\r\n", "R": "R=0.05\r\n"}))
asked = next(check["id"] for check in crew.show()["checks"] if check.get("instrument_type", check.get("instrument")) == "continuity tester" and check["kind"] == "quantity")
spoken = folder.run("enter", job, asked, "--from-instrument", f"{tester}@{overdue.port}", "--json")
typed = folder.run("enter", job, asked, "0.05 Ω", "--instrument", "ET-1", "--json")
must(spoken.code == typed.code == 1 and spoken.json["why"] == typed.json["why"], f"{spoken.out} {typed.out}")

# ---- a series: unplugged in the middle, nothing is lost, and the keypad goes on
left = [3]


def sun_line():
    left[0] -= 1
    return "S=810 W\r\n" if left[0] >= 0 else None


meter = folder.write("meter.toml", 'title = "Meter"\nprotocol = "line"\ninstrument_type = "irradiance meter"\nunit = "W/m²"\ndecimals = 0\n'
                     'plausible = [0, 2000]\n[line]\nask = "S"\nreading = "S={value} W"\nask_identity = "WHO"\nidentity = "{serial}"\n')
broken = Cable(lines({"WHO": "IR-1\r\n", "S": sun_line}))
series = ("enter", job, "sun-window", "--from-instrument", f"{meter}@{broken.port}", "--every", "1 s", "--for", "4 s", "--json")
stopped = folder.run(*series, expect=3)
must("is gone" in stopped.json["problem"]["what"] and stopped.json["kept"]["readings"] == 3, stopped.out)
must("--go-on" in stopped.json["go_on"] and "Go on by hand" in stopped.err, stopped.err)
must(crew.check("sun-window")["readings"] == [], "half a series was entered")
must(folder.run(*series, expect=1).json["problem"]["what"].startswith("3 readings of a series"), "what is kept was given up unasked")
whole = folder.run("enter", job, "sun-window", "10 min=805; 20 min=800", "--go-on", "--json")
must(whole.code in (0, 1) and "outcome" in whole.json, whole.out)
reading = crew.check("sun-window")["readings"][-1]
must(re.fullmatch(r"0 s=810 W/m²; \d+ s=810 W/m²; \d+ s=810 W/m²; 10 min=805; 20 min=800", reading["text"]) and reading["instrument"] == "IR-1", reading)
evidence = folder.json("read-instrument", "--job", job, "--check", "sun-window")["evidence"]
must(evidence[0]["evidence"].count("received: " + b"S=810 W".hex()) == 3 and "typed: 10 min=805; 20 min=800" in evidence[0]["evidence"], evidence)
must(not list((folder.data / "series").iterdir()), "what was entered is still kept apart")

# ---- plugged in again, the instrument itself goes on
left[0] = 2
broken = Cable(lines({"WHO": "IR-1\r\n", "S": sun_line}))
series = ("enter", job, "sun-window", "--from-instrument", f"{meter}@{broken.port}", "--every", "1 s", "--for", "3 s", "--json")
must(folder.run(*series, expect=3).json["kept"]["readings"] == 2, "two readings are not kept")
left[0] = 99
whole_again = Cable(lines({"WHO": "IR-1\r\n", "S": sun_line}))
folder.run("enter", job, "sun-window", "--from-instrument", f"{meter}@{whole_again.port}", "--every", "1 s", "--for", "3 s", "--go-on", "--json")
text = crew.check("sun-window")["readings"][-1]["text"]
must(re.fullmatch(r"0 s=810 W/m²(; \d+ s=810 W/m²){2,3}", text), text)

# ---- figures of another instrument are asked for, not left out
short = Cable(on_cable(17, gauge))
told = folder.json("enter", job, "test-hold", "--from-instrument", f"pressure-gauge-cable@{short.port}", "--every", "1 s", "--for", "2 s")
must(told["kept"]["readings"] == 3 and "water start=VALUE; water end=VALUE" in told["go_on"], told)
folder.run("enter", job, "test-hold", "water start=18.2 °C; water end=18.3 °C", "--go-on", "--json")
must(crew.check("test-hold")["readings"][-1]["text"].endswith("s=480 kPa; water start=18.2 °C; water end=18.3 °C"), crew.check("test-hold"))

# ---- what is wrong with the words is said
for words, code in [(("enter", job, "coll-tilt", "--from-instrument", "nothing"), 2), (("enter", job, "coll-tilt", "--from-instrument", "no-such@/dev/null"), 3),
                    (("enter", job, "coll-tilt", "--go-on"), 2), (("enter", job, "temp-rise", "--from-instrument", f"{meter}@/dev/null"), 2),
                    (("enter", job, "sun-window", "--go-on"), 1), (("read-instrument",), 2),
                    (("read-instrument", "--profile", "torque-wrench-lines", "--port", "/dev/null"), 3)]:
    told = folder.run(*words, "--json", expect=code).json["problem"]
    must(all(told[part].strip() for part in ("what", "where", "what_to_do")), told)

must(folder.json("attest", "--journal")["genuine"], "the journal does not verify")
print("instruments: read by four protocols, entered with evidence, and a drawn plug lost nothing")
