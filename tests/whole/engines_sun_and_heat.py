"""Collector, store, sun, hygiene, yield, electricity: checked with scipy, ephem and numpy."""
import datetime
import math
import random

import ephem
import numpy
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from engines_register import ZERO, engine, listed, texts_of, within


def curve(pick):
    return pick(0.6, 0.85), pick(2.5, 5.0), pick(0.001, 0.03), pick(300, 1100), pick(-5, 40)


def curve_texts(eta0, a1, a2, sun, air):
    return texts_of(eta0=eta0, a1=f"{a1} W/(m² K)", a2=f"{a2} W/(m² K²)", G=f"{sun} W/m²", ta=f"{air} °C")


@engine("numpy polyval")
def collector_efficiency(pick):
    eta0, a1, a2, sun, air = of = curve(pick)
    mean, theta, b0, area = pick(0, 90), pick(0, 59), pick(0, 0.25), pick(1, 8)
    modifier = 1 - b0 * (1 / numpy.cos(numpy.radians(theta)) - 1)
    eta = numpy.polyval([-a2 / sun, -a1 / sun, eta0 * modifier], mean - air)
    return (curve_texts(*of) | texts_of(tm=f"{mean} °C", theta=f"{theta} °", b0=b0, A=f"{area} m²"),
            {"eta": within(eta, 1e-12), "Q": within(area * sun * eta, 1e-8)})


@engine("scipy brentq")
def stagnation(pick):
    eta0, a1, a2, sun, air = of = curve(pick)
    root = brentq(lambda t: eta0 * sun - a1 * (t - air) - a2 * (t - air) ** 2, air, air + 1000)
    return curve_texts(*of), {"t_stg": (root, 1e-8)}


@engine("scipy solve_ivp DOP853")
def tank_warm_up(pick):
    eta0, a1, a2, sun, air = of = curve(pick)
    m, area, loss, more, heat = pick(80, 300), pick(1, 5), pick(1, 5), pick(0, 50000), pick(3600, 4190)
    start, delta, time = pick(10, 40), pick(0, 8), pick(600, 20000)

    def slope(_, state):
        y = state[0] + delta - air
        return [(area * (eta0 * sun - a1 * y - a2 * y * y) - loss * (state[0] - air)) / (m * heat + more)]

    other = solve_ivp(slope, (0, time), [start], method="DOP853", rtol=1e-10, atol=1e-10).y[0][-1]
    return (curve_texts(*of) | texts_of(m=f"{m} kg", A=f"{area} m²", UA=f"{loss} W/K", T0=f"{start} °C", t=f"{time} s",
                                        delta=f"{delta} K", Cx=f"{more} J/K", cw=f"{heat} J/(kg K)"),
            {"T_end": (other, 1e-7)})


@engine("numpy, central differences")
def heat_balance(pick):
    eta0, a1, a2, sun, air = of = (pick(0.7, 0.8), pick(3, 4.5), pick(0.005, 0.02), pick(700, 1000), pick(10, 30))
    nominal = {"C": pick(4e5, 9e5), "T1": pick(15, 25), "T2": pick(28, 36), "UA": pick(2, 4), "y": 0.0, "G": sun}
    u = {"C": 1.3e4, "T1": 0.3, "T2": 0.3, "UA": 1.0, "y": 2.0, "G": 25.0}
    area, delta, dt, model = 2.0, 5.0, 7200.0, 0.05
    mean = (nominal["T1"] + nominal["T2"]) / 2

    def ratio(v):
        # The mean temperature is kept, as the declared rule neglects its correlation.
        measured = v["C"] * (v["T2"] - v["T1"]) / dt + v["UA"] * (mean - air)
        y = mean + delta - air + v["y"]
        return measured / (area * (eta0 * v["G"] - a1 * y - a2 * y * y))

    variance = (ratio(nominal) * model) ** 2
    for name in u:
        step = u[name] * 1e-4
        up, down = dict(nominal), dict(nominal)
        up[name] += step
        down[name] -= step
        variance += ((ratio(up) - ratio(down)) / 2e-4) ** 2
    texts = curve_texts(*of) | texts_of(
        C=f"{nominal['C']} J/K", A=f"{area} m²", UA=f"{nominal['UA']} W/K", delta=f"{delta} K", T1=f"{nominal['T1']} °C",
        T2=f"{nominal['T2']} °C", dt=f"{dt} s", u_T="0.3 K", u_C="13000 J/K", u_UA="1 W/K", u_G="25 W/m²", u_y="2 K")
    return texts, {"R": (ratio(nominal), 1e-9), "u_R": (math.sqrt(variance), 1e-6)}


@engine("scipy brentq")
def heat_balance_window(pick):
    u, c, q, gain = pick(0.05, 0.6), pick(2e5, 1.5e6), pick(0.02, 0.2), pick(300, 3000)
    window = brentq(lambda t: math.hypot(u, u) * c / t - q * gain, 1, 1e7, xtol=1e-9)
    return texts_of(u_T=f"{u} K", C=f"{c} J/K", q=q, Q_e=f"{gain} W"), {"dt_min": (window, 1e-9)}


@engine("scipy quad through the layers")
def pipe_heat_loss(pick):
    do, s, k, wind, fluid, air = pick(0.01, 0.06), pick(0, 0.05), pick(0.02, 0.06), pick(0, 5), pick(30, 99), pick(-20, 28)
    surface = 1 / (2 * math.pi * (do / 2 + s) * (5.7 + 3.8 * wind))
    layer = quad(lambda r: 1 / (2 * math.pi * k * r), do / 2, do / 2 + s)[0]
    loss = (fluid - air) / (layer + surface)
    return (texts_of(Do=f"{do} m", s=f"{s} m", k=f"{k} W/(m K)", v=f"{wind} m/s", tf=f"{fluid} °C", ta=f"{air} °C"),
            {"q": (loss, 1e-9), "ts": within(air + loss * surface, 1e-7)})


@engine("scipy solve_ivp")
def store_standing_loss(pick):
    daily, c, start, air, time = pick(0.6, 4), pick(3e5, 2e6), pick(40, 80), pick(-10, 25), pick(3600, 90000)
    ua = daily * 3.6e6 / 86400 / 45
    end = solve_ivp(lambda _, y: [-ua * (y[0] - air) / c], (0, time), [start], rtol=1e-11, atol=1e-11).y[0][-1]
    return (texts_of(Q=f"{daily} kWh/24 h", C=f"{c} J/K", T0=f"{start} °C", ta=f"{air} °C", t=f"{time} s"),
            {"UA": (ua, 1e-10), "T": (end, 1e-8)})


def observer(lat, lon):
    place = ephem.Observer()
    place.lat, place.lon = math.radians(lat), math.radians(lon)
    place.pressure = 0
    return place


@engine("ephem")
def sun_position(pick):
    while True:
        lat, lon = pick(-60, 60), pick(-180, 180)
        moment = datetime.datetime(2010, 1, 1) + datetime.timedelta(seconds=int(pick(0, 25 * 365.25 * 86400)))
        place = observer(lat, lon)
        place.date = moment
        sun = ephem.Sun(place)
        up = math.degrees(sun.alt)
        if 5 < up < 88:
            break
    azimuth, distance = math.degrees(sun.az), sun.earth_distance
    # The almanac series is good to 0.01°; the parallax of 0.0024° is in the other engine alone.
    return (texts_of(utc=moment.strftime("%Y-%m-%dT%H:%M:%SZ"), lat=f"{lat} °", lon=f"{lon} °", P="1013.25 mbar",
                     T="15 °C"),
            {"zenith": within(90 - up, 0.02), "azimuth": within(azimuth, 0.02 / math.cos(math.radians(up))),
             "R_au": (distance, 1e-4)})


@engine("ephem")
def sun_times(pick):
    lat, lon, zone = pick(-55, 55), pick(-170, 170), 0
    zone = round(lon / 15)
    day = datetime.datetime(2010, 1, 1) + datetime.timedelta(days=int(pick(0, 25 * 365.25)))
    place = observer(lat, lon)
    place.horizon = "-0:34"
    noon_utc = day + datetime.timedelta(hours=12 - lon / 15)
    place.date = noon_utc

    def local(event):
        return (event.datetime() - day).total_seconds() / 3600 + zone
    sun = ephem.Sun()
    near = min((place.previous_transit(sun), place.next_transit(sun)), key=lambda e: abs(e - ephem.Date(noon_utc)))
    place.date = near
    return (texts_of(date=day.strftime("%Y-%m-%d"), lat=f"{lat} °", lon=f"{lon} °", tz=f"{zone} h"),
            {"rise": within(local(place.previous_rising(sun)), 0.02), "noon": within(local(near), 0.02),
             "set": within(local(place.next_setting(sun)), 0.02)})


def unit(from_top, bearing):
    a, b = math.radians(from_top), math.radians(bearing)
    return numpy.array([math.sin(a) * math.sin(b), math.sin(a) * math.cos(b), math.cos(a)])


@engine("numpy, vectors")
def sun_incidence(pick):
    z, az, tilt, facing = pick(0, 90), pick(0, 360), pick(0, 90), pick(0, 360)
    angle = math.degrees(math.acos(max(-1, min(1, unit(z, az) @ unit(tilt, facing)))))
    return texts_of(Z=f"{z} °", A_s=f"{az} °", tilt=f"{tilt} °", A_c=f"{facing} °"), {"theta": (angle, 1e-6)}


@engine("numpy")
def clear_sky_simple(pick):
    z = pick(0, 100)
    cos = max(numpy.cos(numpy.radians(z)), 0.0)
    return texts_of(Z=f"{z} °"), {"G": within(1098 * cos * numpy.exp(-0.059 / cos) if cos else 0.0, 1e-8)}


@engine("numpy, written apart")
def clear_sky(pick):
    z, mbar, ozone, water, t380, t500 = pick(0, 87), pick(700, 1030), pick(0.2, 0.4), pick(0.3, 5), pick(0, 0.4), pick(0, 0.3)
    forward, ground, outside = pick(0.7, 0.9), pick(0, 0.8), pick(1320, 1415)
    cos, power, e = numpy.cos(numpy.radians(z)), numpy.power, numpy.exp
    m = 1 / (cos + 0.15 * power(93.885 - z, -1.253))
    mp = m * mbar / 1013.25
    rayleigh = e(-0.0903 * power(mp, 0.84) * (1 + mp - power(mp, 1.01)))
    xo, xw, aerosol = ozone * m, water * m, 0.2758 * t380 + 0.35 * t500
    to = 1 - 0.1611 * xo * power(1 + 139.48 * xo, -0.3034) - 0.002715 * xo / (1 + 0.044 * xo + 0.0003 * xo * xo)
    gases = e(-0.0127 * power(mp, 0.26))
    tw = 1 - 2.4959 * xw / (power(1 + 79.034 * xw, 0.6828) + 6.385 * xw)
    ta = e(-power(aerosol, 0.873) * (1 + aerosol - power(aerosol, 0.7088)) * power(m, 0.9108))
    taa = 1 - 0.1 * (1 - m + power(m, 1.06)) * (1 - ta)
    sky_back = 0.0685 + (1 - forward) * (1 - ta / taa)
    beam = 0.9662 * outside * ta * tw * gases * to * rayleigh
    scattered = (outside * cos * 0.79 * to * tw * gases * taa
                 * (0.5 * (1 - rayleigh) + forward * (1 - ta / taa)) / (1 - m + power(m, 1.02)))
    total = (beam * cos + scattered) / (1 - ground * sky_back)
    return (texts_of(Z=f"{z} °", P=f"{mbar} mbar", U_o=f"{ozone} cm", U_w=f"{water} cm", tau380=t380, tau500=t500,
                     B_a=forward, rho_g=ground, I0=f"{outside} W/m²"),
            {"I": (beam, 1e-9), "G": (total, 1e-9), "D": within(total - beam * cos, 1e-7)})


@engine("numpy, vectors")
def tilted_irradiance(pick):
    z, az, tilt, facing = pick(0, 88), pick(0, 360), pick(0, 90), pick(0, 360)
    beam, diffuse, total, ground, outside = pick(0, 1000), pick(20, 400), pick(50, 1100), pick(0, 0.8), pick(1320, 1415)
    model = random.choice(["isotropic", "anisotropic"])
    cos = float(unit(z, az) @ unit(tilt, facing))
    on = max(cos, 0.0)
    view = (1 + unit(tilt, facing)[2]) / 2
    share = beam / outside if model == "anisotropic" else 0.0
    sky = diffuse * (share * on / max(unit(z, az)[2], 0.01745) + (1 - share) * view)
    plane = beam * on + sky + ground * total * (1 - view)
    return (texts_of(Z=f"{z} °", A_s=f"{az} °", tilt=f"{tilt} °", A_c=f"{facing} °", I=f"{beam} W/m²", D_=f"{diffuse} W/m²",
                     G=f"{total} W/m²", rho_g=ground, model=model, I0=f"{outside} W/m²"),
            {"theta": (math.degrees(math.acos(max(-1, min(1, cos)))), 1e-6), "sky": within(sky, 1e-7),
             "G_T": within(plane, 1e-7)})


@engine("numpy linalg.solve on both balances")
def mixing(pick):
    cold, hot, store = pick(5, 25), pick(55, 90), pick(50, 300)
    mixed = pick(cold + 1, hot - 1)
    shares = numpy.linalg.solve([[1, 1], [hot, cold]], [1, mixed])
    return (texts_of(tm=f"{mixed} °C", th=f"{hot} °C", tc=f"{cold} °C", V=f"{store} L"),
            {"x": (shares[0], 1e-9), "V_m": (store / shares[0], 1e-9)})


@engine("numpy interp")
def scald_time(pick):
    t = pick(45, 60)
    rows = [45, 47, 48, 49, 51, 55, 60]
    second = math.exp(numpy.interp(t, rows, numpy.log([7200, 1200, 900, 480, 120, 17, 3])))
    full = math.exp(numpy.interp(t, rows, numpy.log([10800, 2700, 1200, 600, 252, 30, 5])))
    return texts_of(T=f"{t} °C"), {"t2": (second, 1e-8), "t3": (full, 1e-8)}


@engine("scipy brentq on the integral")
def burn_integral(pick):
    t = pick(44, 55)
    log = math.log(3.1) + 98 * math.log(10) - 627900 / (8.314 * (t + ZERO))
    return texts_of(T=f"{t} °C"), {"t1": (brentq(lambda s: log + math.log(s), 1e-3, 1e7, xtol=1e-9), 1e-8)}


@engine("numpy interp")
def legionella_time(pick):
    t, n = pick(45, 66), pick(0.5, 6)
    once = 10 ** numpy.interp(t, [45, 50, 55, 60, 66], numpy.log10([2500, 380, 13.93, 0.74, 0.45]))
    return texts_of(T=f"{t} °C", n=n), {"D": (once, 1e-8), "t": (n * once, 1e-8)}


@engine("numpy polynomial")
def solar_fraction(pick):
    area, loss, optical, exchanger, slant = pick(5, 20), pick(3, 6), pick(0.6, 0.9), pick(0.9, 1), pick(0.9, 1)
    air, sun, days, load = pick(-10, 30), pick(5e6, 2.4e7), random.randint(28, 31), pick(3e9, 9e9)
    store, factor = pick(40, 290), pick(0.8, 1.3)
    x = area * loss * exchanger * (100 - air) * 86400 * days / load * (store / 75) ** -0.25 * factor
    y = area * optical * exchanger * slant * sun * days / load
    f = numpy.polynomial.polynomial.polyval2d(x, y, [[0, 1.029, -0.245, 0.0215], [-0.065, 0, 0, 0], [0.0018, 0, 0, 0]])
    return (texts_of(A=f"{area} m²", FRUL=f"{loss} W/(m² K)", FRta=optical, FpFR=exchanger, tata=slant, Ta=f"{air} °C",
                     HT=f"{sun} J/m²", N=f"{days} d", L=f"{load} J", M=f"{store} L", Xw=factor),
            {"X": (x, 1e-9), "Y": (y, 1e-9), "F": within(min(max(f, 0.0), 1.0), 1e-9)})


@engine("numpy")
def water_load(pick):
    draw, hot, cold, air, days = pick(40, 400), pick(45, 65), pick(4, 20), pick(-10, 30), random.randint(28, 31)
    factor = numpy.dot([11.6, 1.18, 3.86, -2.32], [1, hot, cold, air]) / (100 - air)
    return (texts_of(V=f"{draw} L/d", Tw=f"{hot} °C", Tm=f"{cold} °C", Ta=f"{air} °C", N=f"{days} d"),
            {"L": (draw * days * 4160 * (hot - cold), 1e-10), "Xw": (factor, 1e-10)})


@engine("numpy, cash flow year by year")
def savings(pick):
    months = random.randint(1, 12)
    shares, loads = [pick(0, 1) for _ in range(months)], [pick(3e8, 1e9) for _ in range(months)]
    eta, price, co2, cost, years = pick(0.85, 1), pick(0.1, 0.5), pick(0, 0.9), pick(100, 3000), random.randint(1, 25)
    growth, discount = pick(0, 0.05), pick(0, 0.08)
    energy = numpy.dot(shares, loads) / 3.6e6 / eta
    flow = energy * price * (1 + growth) ** numpy.arange(years) / (1 + discount) ** numpy.arange(1, years + 1)
    return (texts_of(f=listed(shares), L=listed(loads) + " J", eta_h=eta, tariff=f"{price} 1/kWh", factor=f"{co2} kg/kWh",
                     C0=cost, n=f"{years} a", g=growth, d=discount),
            {"E": (energy, 1e-10), "money": (energy * price, 1e-10), "CO2": (energy * co2, 1e-10),
             "NPV": within(flow.sum() - cost, 1e-6)})


@engine("numpy")
def element(pick):
    power, plate, volts = pick(500, 6000), pick(100, 400), pick(90, 420)
    ohms = plate ** 2 / power * pick(0.8, 1.25)
    found = plate ** 2 / ohms
    return (texts_of(Pn=f"{power} W", Un=f"{plate} V", U=f"{volts} V", Rm=f"{ohms} Ω"),
            {"R": (plate ** 2 / power, 1e-10), "P": (power * (volts / plate) ** 2, 1e-10),
             "I": (volts * power / plate ** 2, 1e-10), "P_m": (found, 1e-10),
             "ok": (bool(0.9 * power <= found <= 1.05 * power), 0)})


@engine("numpy")
def voltage_drop(pick):
    section, at20 = random.choice(list({1.5: 12.1, 2.5: 7.41, 4: 4.61, 6: 3.08, 10: 1.83, 16: 1.15}.items()))
    length, amps, t, volts = pick(1, 100), pick(1, 60), pick(5, 90), pick(110, 400)
    ohms = at20 * (1 + 0.00393 * (t - 20))
    drop = 2 * length / 1e3 * ohms * amps
    return (texts_of(S=f"{section} mm²", cls=2, L=f"{length} m", I=f"{amps} A", t=f"{t} °C", Un=f"{volts} V"),
            {"R": (ohms, 1e-10), "dU": (drop, 1e-10), "pct": (100 * drop / volts, 1e-10)})


@engine("numpy")
def earth_loop(pick):
    volts, rating, ohms = pick(110, 240), random.choice([6, 10, 16, 20, 32, 40]), pick(0.1, 4)
    name, multiple = random.choice([("B", 5), ("C", 10), ("D", 20)])
    most = volts / (multiple * rating)
    return (texts_of(U0=f"{volts} V", curve=name, In=f"{rating} A", Zm=f"{ohms} Ω"),
            {"I_a": (multiple * rating, 1e-12), "Z_max": (most, 1e-10), "limit": (most * 2 / 3, 1e-10),
             "I_f": (volts / ohms, 1e-10), "ok": (bool(ohms <= most * 2 / 3), 0)})
