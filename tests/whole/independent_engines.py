#!/usr/bin/python3
"""Random inputs through `work-out`, compared with other people's engines.

    independent_engines.py PROGRAM [--each 30] [--seed 1]

Needs python3-iapws and python3-scipy; without them it says so and exits with 77 (skipped).
Each comparison states its tolerance and why. Exit code 1 names every disagreement.
"""

import argparse
import json
import math
import random
import subprocess
import sys

try:
    import numpy
    from iapws import IAPWS97
    from iapws._iapws import _Liquid
    from iapws.iapws97 import _PSat_T
    from scipy.integrate import solve_ivp
    from scipy.optimize import brentq
except ImportError as missing:
    print(f"skipped: {missing}")
    sys.exit(77)

ZERO = 273.15
GRAVITY = 9.80665


def liquid(celsius, megapascal=None):
    """Liquid water of the other engine; above 100 °C just over its boiling pressure."""
    kelvin = celsius + ZERO
    pressure = megapascal or max(0.1, _PSat_T(kelvin) * (1 + 1e-9))
    return IAPWS97(T=kelvin, P=pressure)


def viscosity(celsius):
    return _Liquid(celsius + ZERO, 0.1)["mu"]


def darcy(reynolds, roughness):
    def colebrook(re):
        return brentq(
            lambda f: 1 / math.sqrt(f)
            + 2 * math.log10(roughness / 3.7 + 2.51 / (re * math.sqrt(f))),
            1e-3, 1.0, xtol=1e-14)
    if reynolds <= 2300:
        return 64 / reynolds
    if reynolds >= 4000:
        return colebrook(reynolds)
    return numpy.interp(reynolds, [2300, 4000], [64 / 2300, colebrook(4000)])


def water_properties(pick):
    t, p = pick(1, 120), pick(0.3, 2.0)
    other = liquid(t, p)
    return ({"t": f"{t} °C", "p": f"{p} MPa"},
            {"rho": (other.rho, 1e-6), "cp": (other.cp * 1e3, 1e-6),
             "beta": (other.alfav, 1e-4), "kappa": (other.xkappa / 1e6, 1e-4)})


def water_saturation(pick):
    t = pick(1, 350)
    return {"t": f"{t} °C"}, {"psat": (_PSat_T(t + ZERO) * 1e6, 1e-8)}


def water_viscosity(pick):
    t = pick(0, 105)
    return {"t": f"{t} °C"}, {"mu": (viscosity(t), 1e-6)}


def expansion_volume(pick):
    v, t1, t2 = pick(10, 500), pick(5, 30), pick(50, 140)
    # Densities agree to 1e-7, their difference loses two digits.
    return ({"V": f"{v} L", "t1": f"{t1} °C", "t2": f"{t2} °C"},
            {"dV": (v * (liquid(t1).rho / liquid(t2).rho - 1), 1e-4)})


def locked_pipe_pressure(pick):
    t, p, phi = pick(10, 60), pick(2e5, 2e6), pick(0, 0.05)
    do, s = random.choice([(0.015, 0.7e-3), (0.022, 0.9e-3), (0.028, 1.2e-3)])
    other = liquid(t, p / 1e6)
    c = (do - 2 * s) / (120e9 * s) * (1.25 - 0.33)
    slope = (((1 - phi) * other.alfav + phi / (t + ZERO) - 3 * 17e-6)
             / ((1 - phi) * other.xkappa / 1e6 + phi / p + c))
    return ({"t": f"{t} °C", "p": f"{p} Pa(abs)", "Do": f"{do} m", "s": f"{s} m", "phi": str(phi)},
            {"c": (c, 1e-9), "dpdT": (slope, 1e-6)})


def curve(pick):
    return pick(0.6, 0.85), pick(2.5, 5.0), pick(0.001, 0.03), pick(300, 1100), pick(-5, 40)


def curve_texts(eta0, a1, a2, sun, air):
    return {"eta0": str(eta0), "a1": f"{a1} W/(m² K)", "a2": f"{a2} W/(m² K²)",
            "G": f"{sun} W/m²", "ta": f"{air} °C"}


def stagnation(pick):
    eta0, a1, a2, sun, air = of = curve(pick)
    root = brentq(lambda t: eta0 * sun - a1 * (t - air) - a2 * (t - air) ** 2, air, air + 1000)
    return curve_texts(*of), {"t_stg": (root, 1e-8)}


def tank_warm_up(pick):
    eta0, a1, a2, sun, air = of = curve(pick)
    m, area, loss = pick(80, 300), pick(1, 5), pick(1, 5)
    start, delta, time = pick(10, 40), pick(0, 8), pick(600, 20000)

    def slope(_, state):
        y = state[0] + delta - air
        return [(area * (eta0 * sun - a1 * y - a2 * y * y) - loss * (state[0] - air)) / (m * 4182)]

    other = solve_ivp(slope, (0, time), [start], method="DOP853", rtol=1e-10, atol=1e-10).y[0][-1]
    texts = curve_texts(*of) | {"m": f"{m} kg", "A": f"{area} m²", "UA": f"{loss} W/K",
                                "T0": f"{start} °C", "t": f"{time} s", "delta": f"{delta} K"}
    return texts, {"T_end": (other, 1e-7)}


def heat_balance(pick):
    eta0, a1, a2, sun, air = of = (pick(0.7, 0.8), pick(3, 4.5), pick(0.005, 0.02), pick(700, 1000), pick(10, 30))
    nominal = {"C": pick(4e5, 9e5), "T1": pick(15, 25), "T2": pick(28, 36), "UA": pick(2, 4), "y": 0.0, "G": sun}
    u = {"C": 1.3e4, "T1": 0.3, "T2": 0.3, "UA": 1.0, "y": 2.0, "G": 25.0}
    area, delta, dt, model = 2.0, 5.0, 7200.0, 0.05
    mean = (nominal["T1"] + nominal["T2"]) / 2

    def ratio(v, factor=1.0):
        # The mean temperature is kept, as the declared rule neglects its correlation.
        measured = v["C"] * (v["T2"] - v["T1"]) / dt + v["UA"] * (mean - air)
        y = mean + delta - air + v["y"]
        return measured / (factor * area * (eta0 * v["G"] - a1 * y - a2 * y * y))

    variance = (ratio(nominal) * model) ** 2
    for name in u:
        step = u[name] * 1e-4
        up, down = dict(nominal), dict(nominal)
        up[name] += step
        down[name] -= step
        variance += ((ratio(up) - ratio(down)) / 2e-4) ** 2
    texts = curve_texts(*of) | {
        "C": f"{nominal['C']} J/K", "A": f"{area} m²", "UA": f"{nominal['UA']} W/K", "delta": f"{delta} K",
        "T1": f"{nominal['T1']} °C", "T2": f"{nominal['T2']} °C", "dt": f"{dt} s", "u_T": "0.3 K",
        "u_C": "13000 J/K", "u_UA": "1 W/K", "u_G": "25 W/m²", "u_y": "2 K"}
    return texts, {"R": (ratio(nominal), 1e-9), "u_R": (math.sqrt(variance), 1e-6)}


def sun_incidence(pick):
    z, az, tilt, facing = pick(0, 90), pick(0, 360), pick(0, 90), pick(0, 360)

    def unit(from_top, bearing):
        a, b = math.radians(from_top), math.radians(bearing)
        return numpy.array([math.sin(a) * math.sin(b), math.sin(a) * math.cos(b), math.cos(a)])

    angle = math.degrees(math.acos(max(-1, min(1, unit(z, az) @ unit(tilt, facing)))))
    return ({"Z": f"{z} °", "A_s": f"{az} °", "tilt": f"{tilt} °", "A_c": f"{facing} °"},
            {"theta": (angle, 1e-6)})


def pipe_friction(pick):
    flow, t, bore, length, k = 10 ** pick(-3, -0.3), pick(5, 100), pick(0.01, 0.03), pick(1, 20), pick(0, 15)
    rho, mu = liquid(t).rho, viscosity(t)
    speed = flow / (rho * math.pi * bore ** 2 / 4)
    reynolds = rho * speed * bore / mu
    f = darcy(reynolds, 1.5e-6 / bore)
    loss = (f * length / bore + k) * rho * speed ** 2 / 2
    return ({"m": f"{flow} kg/s", "t": f"{t} °C", "D_i": f"{bore} m", "L": f"{length} m", "K": str(k)},
            {"Re": (reynolds, 1e-6), "f": (f, 1e-6), "dp": (loss, 1e-6)})


def thermosiphon_flow(pick):
    cold, height, bore = pick(10, 35), pick(0.3, 2), pick(0.018, 0.03)
    hot, length, k, collector = cold + pick(4, 20), pick(3, 10), pick(2, 15), pick(50, 500)
    head = GRAVITY * height * (liquid(cold).rho - liquid(hot).rho)

    def lack(flow):
        total = collector * flow
        for t in (cold, hot):
            rho, mu = liquid(t).rho, viscosity(t)
            speed = flow / (rho * math.pi * bore ** 2 / 4)
            total += (darcy(rho * speed * bore / mu, 1.5e-6 / bore) * length / bore + k) * rho * speed ** 2 / 4
        return total - head

    flow = brentq(lack, 1e-7, 5, xtol=1e-13)
    heat = flow * liquid((cold + hot) / 2).cp * 1e3 * (hot - cold)
    return ({"t_c": f"{cold} °C", "t_h": f"{hot} °C", "H": f"{height} m", "D_i": f"{bore} m",
             "L": f"{length} m", "K": str(k), "k_col": f"{collector} Pa s/kg"},
            {"head": (head, 1e-4), "m": (flow, 1e-4), "Q": (heat, 1e-4)})


def glycol_freezing(pick):
    phi = pick(0, 50)
    points = numpy.interp(phi, range(0, 51, 5), [0, -1.1, -2.2, -3.9, -6.7, -8.9, -12.8, -16.1, -20.6, -26.7, -33.3])
    return {"phi": f"{phi} %"}, {"t_f": (points, 1e-6)}


def legionella_time(pick):
    t, n = pick(45, 66), pick(0.5, 6)
    once = 10 ** numpy.interp(t, [45, 50, 55, 60, 66], numpy.log10([2500, 380, 13.93, 0.74, 0.45]))
    return {"T": f"{t} °C", "n": str(n)}, {"D": (once, 1e-8), "t": (n * once, 1e-8)}


def scald_time(pick):
    t = pick(45, 60)
    rows = [45, 47, 48, 49, 51, 55, 60]
    second = math.exp(numpy.interp(t, rows, numpy.log([7200, 1200, 900, 480, 120, 17, 3])))
    full = math.exp(numpy.interp(t, rows, numpy.log([10800, 2700, 1200, 600, 252, 30, 5])))
    return {"T": f"{t} °C"}, {"t2": (second, 1e-8), "t3": (full, 1e-8)}


ENGINES = [water_properties, water_saturation, water_viscosity, expansion_volume, locked_pipe_pressure,
           stagnation, tank_warm_up, heat_balance, sun_incidence, pipe_friction, thermosiphon_flow,
           glycol_freezing, legionella_time, scald_time]


def answer(program, name, texts):
    words = [program, "work-out", name, *(f"{k}={v}" for k, v in texts.items()), "--json"]
    run = subprocess.run(words, capture_output=True, text=True, check=False)
    if run.returncode != 0:
        return None, run.stderr.strip() or run.stdout.strip()
    return json.loads(run.stdout)["outputs"], ""


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("program")
    parser.add_argument("--each", type=int, default=30)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args()
    random.seed(wanted.seed)
    disagreements = 0
    for engine in ENGINES:
        name = engine.__name__.replace("_", "-")
        worst = 0.0
        for _ in range(wanted.each):
            texts, expected = engine(random.uniform)
            outputs, words = answer(wanted.program, name, texts)
            if outputs is None:
                print(f"{name}: refused {texts}: {words}")
                disagreements += 1
                continue
            for symbol, (value, tolerance) in expected.items():
                off = abs(outputs[symbol]["value"] - value) / max(abs(value), 1e-12)
                worst = max(worst, off / tolerance)
                if off > tolerance:
                    print(f"{name}: {symbol} is {outputs[symbol]['value']}, another engine says {value}: {texts}")
                    disagreements += 1
        print(f"{name:24} {wanted.each} cases, worst at {worst:.1e} of its tolerance")
    return 1 if disagreements else 0


if __name__ == "__main__":
    sys.exit(main())
