"""Water, pressure, circulation, roof: checked with iapws, scipy and numpy."""
import math
import random

import numpy
from numpy.polynomial import polynomial
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from engines_register import GRAVITY, ZERO, boiling, darcy, engine, liquid, texts_of, viscosity, within

COPPER = {"alpha": 17e-6, "E": 120e9, "nu": 0.33}
# Melinder 2010: powers of temperature down, powers of concentration across.
GLYCOL_FREEZING = [259.9, -66.31, -109.4, -228.3, -340.9, 146.5]
GLYCOL_DENSITY = [[1018, 76.04, -24.98, -155, -113.1, 234.2], [-0.5406, -0.945, 0.27, 2.829, -2.221, 0],
                  [-0.002666, 0.005541, -0.004018, -0.007175, 0, 0], [1.347e-05, -1.343e-05, 3.376e-05, 0, 0, 0]]
GLYCOL_HEAT = [[3882, -1304, -1598, 353.9, 5000, -4959], [2.699, 5.07, 0.9534, 31.02, -71.35, 0],
               [-0.001659, -0.004752, 0.1167, -0.295, 0, 0], [-1.032e-05, 0.0001522, -0.000487, 0, 0, 0]]


@engine("iapws IF97")
def water_properties(pick):
    t, p = pick(1, 120), pick(0.3, 2.0)
    other = liquid(t, p)
    return (texts_of(t=f"{t} °C", p=f"{p} MPa"),
            {"rho": (other.rho, 1e-6), "v": (1 / other.rho, 1e-6), "cp": (other.cp * 1e3, 1e-6),
             "beta": (other.alfav, 1e-4), "kappa": (other.xkappa / 1e6, 1e-4)})


@engine("iapws IF97")
def water_saturation(pick):
    t = pick(1, 350)
    return texts_of(t=f"{t} °C"), {"psat": (boiling(t) * 1e6, 1e-8)}


@engine("iapws SR6-08")
def water_viscosity(pick):
    t = pick(0, 105)
    return texts_of(t=f"{t} °C"), {"mu": (viscosity(t), 1e-6)}


def swelling(t1, t2):
    return liquid(t1).rho / liquid(t2).rho - 1


@engine("iapws IF97")
def expansion_volume(pick):
    v, t1, t2 = pick(10, 500), pick(5, 30), pick(50, 140)
    # Densities agree to 1e-7, their difference loses two digits.
    return (texts_of(V=f"{v} L", t1=f"{t1} °C", t2=f"{t2} °C"),
            {"dV": (v * swelling(t1, t2), 1e-4), "e": (100 * swelling(t1, t2), 1e-4)})


@engine("iapws IF97")
def loop_expansion_vessel(pick):
    v, t1, t2, static, valve, steam = pick(10, 900), pick(5, 20), pick(60, 120), pick(0.1, 1.2), pick(2.5, 8), pick(0, 5)
    swollen, reserve = v * swelling(t1, t2), max(3.0, 0.005 * v)
    charge, end = static + 0.3, min(0.9 * valve, valve - 0.5)
    need = swollen + reserve + steam

    def lack(size):  # the gas cushion at the end pressure must leave room for the water
        return size * (1 - (charge + 1) / (end + 1)) - need
    return (texts_of(V_sys=f"{v} L", t1=f"{t1} °C", t2=f"{t2} °C", p_static=f"{static} bar(g)", p_sv=f"{valve} bar(g)",
                     V_steam=f"{steam} L"),
            {"Ve": (swollen, 1e-4), "Vwr": (reserve, 1e-12), "p0": (charge, 1e-12), "pe": (end, 1e-12),
             "Vn": (brentq(lack, 0.1, 1e5, xtol=1e-10), 1e-4)})


@engine("scipy brentq on Boyle's law")
def cold_expansion_vessel(pick):
    ve, supply = pick(1, 8), pick(1.5, 4)
    top = supply + pick(0.8, 4)

    def lack(size):
        gas = size * (supply - 0.2 + 1)
        return gas / (supply + 1) - gas / (top + 1) - ve
    size = brentq(lack, 1e-3, 1e4, xtol=1e-12)
    return (texts_of(Ve=f"{ve} L", pset=f"{supply} bar(g)", pe=f"{top} bar(g)"),
            {"Vn": (size, 1e-9), "f": (ve / size, 1e-9)})


@engine("numpy interp")
def glycol_freezing(pick):
    phi = pick(0, 50)
    points = numpy.interp(phi, range(0, 51, 5), [0, -1.1, -2.2, -3.9, -6.7, -8.9, -12.8, -16.1, -20.6, -26.7, -33.3])
    return texts_of(phi=f"{phi} %"), {"t_f": (points, 1e-6)}


@engine("numpy polyval2d")
def glycol_properties(pick):
    x, t = pick(0.16, 0.56), pick(0, 39)
    off, at = t + ZERO - 305.8583, x - 0.307031
    return (texts_of(x=x, t=f"{t} °C"),
            {"t_f": within(polynomial.polyval(at, GLYCOL_FREEZING) - ZERO, 1e-9),
             "rho": (polynomial.polyval2d(off, at, GLYCOL_DENSITY), 1e-10),
             "cp": (polynomial.polyval2d(off, at, GLYCOL_HEAT), 1e-10)})


@engine("numpy average")
def glycol_mass_fraction(pick):
    phi = pick(0.01, 0.99)
    mixture = numpy.average([1036.1, 998.2], weights=[phi, 1 - phi])
    return texts_of(phi=phi), {"x": (phi * 1036.1 / mixture, 1e-12)}


def pipe_slope(t, p, phi, tube, c):
    water = liquid(t, p / 1e6)
    return (((1 - phi) * water.alfav + phi / (t + ZERO) - 3 * tube["alpha"])
            / ((1 - phi) * water.xkappa / 1e6 + phi / p + c))


@engine("iapws IF97, scipy solve_ivp")
def locked_pipe_pressure(pick):
    t, p = pick(12, 60), pick(3e5, 2e6)
    do, s = random.choice([(0.015, 0.7e-3), (0.022, 0.9e-3), (0.028, 1.2e-3)])
    tube = random.choice([COPPER, {"alpha": 12e-6, "E": 205e9, "nu": 0.29}])
    phi = random.choice([0.0, pick(0.001, 0.05)])
    c = (do - 2 * s) / (tube["E"] * s) * (1.25 - tube["nu"])
    texts = texts_of(t=f"{t} °C", p=f"{p} Pa(abs)", Do=f"{do} m", s=f"{s} m", phi=phi, alpha=f"{tube['alpha']} 1/K",
                     E=f"{tube['E'] / 1e9} GPa", nu=tube["nu"])
    expected = {"c": (c, 1e-9), "dpdT": (pipe_slope(t, p, phi, tube, c), 1e-6)}
    if phi == 0.0:
        later = t + pick(2, 5)
        path = solve_ivp(lambda at, y: [pipe_slope(at, y[0], 0.0, tube, c)], (t, later), [p], rtol=1e-7)
        texts["t2"] = f"{later} °C"
        # The program steps by at most 1 K, the other engine as finely as it likes.
        expected["p2"] = (path.y[0][-1], 2e-3)
    return texts, expected


@engine("ideal gas, amount of gas kept")
def air_test_temperature(pick):
    p1, t1, t2, a1, a2 = pick(50, 600), pick(5, 40), pick(5, 40), pick(75, 103), pick(75, 103)
    moles = (p1 + a1) * 1e3 / (8.314462618 * (t1 + ZERO))
    end = moles * 8.314462618 * (t2 + ZERO) / 1e3 - a2
    read = end - pick(-3, 9)
    return (texts_of(p1=f"{p1} kPa(g)", t1=f"{t1} °C", t2=f"{t2} °C", pa1=f"{a1} kPa", pa2=f"{a2} kPa",
                     p2_read=f"{read} kPa(g)"),
            {"p2": (end, 1e-10), "dp_leak": within(end - read, 1e-8)})


@engine("scipy quad along the isentrope")
def gas_stored_energy(pick):
    v, pg, air = pick(0.005, 0.3), pick(5e4, 1.5e6), pick(7e4, 1.03e5)
    start = pg + air
    work = quad(lambda at: start * (v / at) ** 1.4, v, v * (start / air) ** (1 / 1.4), epsrel=1e-12)[0]
    return (texts_of(V=f"{v} m³", pg=f"{pg} Pa(g)", pa=f"{air} Pa(abs)"),
            {"E_is": (work, 1e-9), "E_brode": (pg * v / 0.4, 1e-12), "m_tnt": (work / 4.6e6, 1e-9)})


@engine("scipy quad over the pressure")
def water_stored_energy(pick):
    v, pg, kappa, c = pick(0.005, 0.3), pick(1e5, 2e6), pick(4.3e-10, 4.8e-10), pick(0, 4e-10)
    work = quad(lambda p: p * v * (kappa + c), 0, pg)[0]
    return texts_of(V=f"{v} m³", pg=f"{pg} Pa(g)", kappa=f"{kappa} 1/Pa", c=f"{c} 1/Pa"), {"E": (work, 1e-10)}


@engine("numpy gradient of the enclosed amount")
def leak_rate(pick):
    v, slope, k = pick(0.005, 0.3), -pick(0.1, 500), pick(4.5e-10, 1e-8)
    amount = numpy.gradient(v * slope * numpy.array([0.0, 1.0, 2.0]))[1]
    return (texts_of(V=f"{v} m³", dpdt=f"{slope} Pa/s", K=f"{k} 1/Pa"),
            {"q_pV": (-amount, 1e-10), "q_n": (-amount / 101325, 1e-10), "q_V": (-amount * k, 1e-10)})


@engine("iapws IF97")
def thermosiphon_head(pick):
    cold, rise, height = pick(8, 40), pick(3, 40), pick(0.1, 3)
    drop = GRAVITY * height * (liquid(cold).rho - liquid(cold + rise).rho)
    return texts_of(t_c=f"{cold} °C", t_h=f"{cold + rise} °C", H=f"{height} m"), {"dp": (drop, 1e-4)}


@engine("iapws, scipy brentq on Colebrook")
def pipe_friction(pick):
    flow, t, bore, length, k = 10 ** pick(-3, -0.3), pick(5, 100), pick(0.01, 0.03), pick(1, 20), pick(0, 15)
    rough = random.choice([1.5e-6, 4.5e-5])
    rho, mu = liquid(t).rho, viscosity(t)
    speed = flow / (rho * math.pi * bore ** 2 / 4)
    reynolds = rho * speed * bore / mu
    f = darcy(reynolds, rough / bore)
    loss = (f * length / bore + k) * rho * speed ** 2 / 2
    return (texts_of(m=f"{flow} kg/s", t=f"{t} °C", D_i=f"{bore} m", L=f"{length} m", K=k, eps=f"{rough} m"),
            {"v": (speed, 1e-6), "Re": (reynolds, 1e-6), "f": (f, 1e-6), "dp": (loss, 1e-6)})


@engine("iapws, scipy brentq")
def thermosiphon_flow(pick):
    cold, height, bore = pick(10, 35), pick(0.3, 2), pick(0.018, 0.03)
    hot, length, k, collector = cold + pick(4, 20), pick(3, 10), pick(2, 15), pick(50, 500)
    rough = random.choice([1.5e-6, 4.5e-5])
    head = GRAVITY * height * (liquid(cold).rho - liquid(hot).rho)

    def lack(flow):
        total = collector * flow
        for t in (cold, hot):
            rho, mu = liquid(t).rho, viscosity(t)
            speed = flow / (rho * math.pi * bore ** 2 / 4)
            total += (darcy(rho * speed * bore / mu, rough / bore) * length / bore + k) * rho * speed ** 2 / 4
        return total - head

    flow = brentq(lack, 1e-7, 5, xtol=1e-13)
    heat = flow * liquid((cold + hot) / 2).cp * 1e3 * (hot - cold)
    return (texts_of(t_c=f"{cold} °C", t_h=f"{hot} °C", H=f"{height} m", D_i=f"{bore} m", L=f"{length} m", K=k,
                     k_col=f"{collector} Pa s/kg", eps=f"{rough} m"),
            {"head": (head, 1e-4), "m": (flow, 1e-4), "Q": (heat, 1e-4)})


@engine("scipy quad over the ring")
def copper_tube(pick):
    do, s = pick(10, 60), pick(0.5, 2.5)
    inner, outer = do / 2e3 - s / 1e3, do / 2e3
    ring = quad(lambda r: 2 * math.pi * r, inner, outer)[0]
    bore = quad(lambda r: 2 * math.pi * r, 0, inner)[0]
    return (texts_of(Do=f"{do} mm", s=f"{s} mm"),
            {"D_i": (2e3 * inner, 1e-10), "V": (bore * 1e3, 1e-10), "M": (8940 * ring, 1e-10)})


@engine("numpy")
def wind_pressure(pick):
    gust, rho, basic, z = pick(5, 60), pick(0.9, 1.3), pick(18, 40), pick(1, 60)
    name, (z0, least) = random.choice(list({"0": (0.003, 1), "I": (0.01, 1), "II": (0.05, 2), "III": (0.3, 5),
                                            "IV": (1.0, 10)}.items()))
    log = numpy.log(max(z, least) / z0)
    mean = 0.19 * numpy.power(z0 / 0.05, 0.07) * log * basic
    peak = (1 + 7 / log) * 0.625 * mean ** 2
    return (texts_of(v=f"{gust} m/s", rho=f"{rho} kg/m³", vb=f"{basic} m/s", z=f"{z} m", terrain=name),
            {"q": (0.5 * rho * gust ** 2, 1e-10), "vm": (mean, 1e-10), "Iv": (1 / log, 1e-10), "qp": (peak, 1e-10),
             "ce": (peak / (0.625 * basic ** 2), 1e-10)})


@engine("numpy, forces as vectors")
def anchor_count(pick):
    cp, q, area, mass, pitch = pick(0.5, 2.5), pick(200, 2000), pick(1, 5), pick(40, 300), pick(0, 60)
    tension, shear, least = pick(500, 3000), pick(500, 3000), random.randint(1, 8)
    wind, light, heavy = pick(1.2, 1.6), pick(0.8, 1.0), pick(1.0, 1.4)
    a = math.radians(pitch)
    weight = mass * GRAVITY * numpy.array([0.0, -1.0])
    normal, along = numpy.array([math.sin(a), math.cos(a)]), numpy.array([math.cos(a), -math.sin(a)])
    lift = wind * cp * q * area + light * weight @ normal
    slide = heavy * weight @ along
    n = max(least, math.ceil(lift / tension), math.ceil(slide / shear))
    both = (slide / (n * shear)) ** 2 + (max(lift, 0.0) / (n * tension)) ** 2
    return (texts_of(cp=cp, q=f"{q} Pa", A=f"{area} m²", m=f"{mass} kg", beta=f"{pitch} °", Rt=f"{tension} N",
                     Rv=f"{shear} N", n_min=least, gamma_Q=wind, gamma_inf=light, gamma_sup=heavy),
            {"F_n": within(lift, 1e-6), "F_t": within(slide, 1e-6), "n": (n, 0), "interaction": (both, 1e-9)})


@engine("iapws IF97")
def roof_load(pick):
    tank, v, t, collector, fluid = pick(20, 90), pick(80, 300), pick(5, 40), pick(20, 90), pick(0, 5)
    frame, plan, feet, uneven = pick(0, 30), pick(1, 6), random.randint(2, 12), pick(1, 2)
    mass = tank + liquid(t).rho * v / 1e3 + collector + fluid + frame
    return (texts_of(m_tank=f"{tank} kg", V=f"{v} L", t_fill=f"{t} °C", m_col=f"{collector} kg", m_fluid=f"{fluid} kg",
                     m_frame=f"{frame} kg", A_plan=f"{plan} m²", n=feet, k_u=uneven),
            {"m": (mass, 1e-6), "p": (mass * GRAVITY / plan, 1e-6), "F": (mass * GRAVITY / feet * uneven, 1e-6)})


def thread(d, pitch):
    """Flank and core diameter from the height of the triangle of the thread."""
    height = math.sqrt(3) / 2 * pitch
    flank, core = d - 0.75 * height, d - 17 / 12 * height
    return flank, core, math.pi / 4 * ((flank + core) / 2) ** 2


@engine("numpy, triangle of the thread")
def bolt_preload(pick):
    d, pitch = random.choice([(6, 1.0), (8, 1.25), (10, 1.5), (12, 1.75), (16, 2.0)])
    torque, factor, strength = pick(2, 120), pick(0.1, 0.3), pick(210, 940)
    area = thread(d, pitch)[2]
    force = torque / (factor * d * 1e-3)
    # ISO 724 rounds the diameters of the triangle to six decimals of the pitch.
    return (texts_of(T=f"{torque} N·m", d=f"{d} mm", P=f"{pitch} mm", K=factor, Rp=f"{strength} MPa"),
            {"As": (area, 1e-6), "F": (force, 1e-10), "util": (force / (area * strength), 1e-6)})


@engine("scipy brentq on the equivalent stress")
def bolt_torque(pick):
    d, pitch = random.choice([(6, 1.0), (8, 1.25), (10, 1.5), (12, 1.75), (16, 2.0)])
    head, strength, thread_mu, head_mu = d * pick(1.2, 1.5), pick(210, 940), pick(0.08, 0.2), pick(0.08, 0.2)
    flank, core, area = thread(d, pitch)
    middle = (flank + core) / 2

    def over(force):
        twist = force * flank / 2 * (pitch / (math.pi * flank) + 1.155 * thread_mu)
        shear = twist / (math.pi * middle ** 3 / 12)  # fully plastic section
        return math.hypot(force / area, math.sqrt(3) * shear) - 0.9 * strength

    force = brentq(over, 1, 1e6, xtol=1e-9)
    torque = force * (0.16 * pitch + 0.58 * flank * thread_mu + head / 2 * head_mu) * 1e-3
    return (texts_of(d=f"{d} mm", P=f"{pitch} mm", D_K=f"{head} mm", Rp=f"{strength} MPa", muG=thread_mu, muK=head_mu),
            {"F_M": (force, 1e-6), "M_A": (torque, 1e-6)})
