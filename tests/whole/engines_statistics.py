"""Uncertainty, sensors, leaks and quality statistics: checked with scipy and statsmodels."""
import math
import random

import numpy
from scipy import signal, stats
from scipy.optimize import brentq
from statsmodels.duration.survfunc import SurvfuncRight
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

from engines_register import engine, listed, texts_of, within

# NIST Monograph 175, type K, above and below 0 °C, millivolts.
TYPE_K_ABOVE = [-1.760041368600E-02, 3.892120497500E-02, 1.855877003200E-05, -9.945759287400E-08, 3.184094571900E-10,
                -5.607284488900E-13, 5.607505905900E-16, -3.202072000300E-19, 9.715114715200E-23, -1.210472127500E-26]
TYPE_K_BELOW = [0.0, 3.945012802500E-02, 2.362237359800E-05, -3.285890678400E-07, -4.990482877700E-09,
                -6.750905917300E-11, -5.741032742800E-13, -3.108887289400E-15, -1.045160936500E-17,
                -1.988926687800E-20, -1.632269748600E-23]


def readings(pick):
    n = random.randint(5, 40)
    x = sorted(pick(0, 60) for _ in range(n))
    return x, [400 - 0.1 * at + random.gauss(0, 0.3) for at in x]


@engine("scipy linregress, t")
def line_fit(pick):
    x, y = readings(pick)
    conf = pick(0.8, 0.99)
    fit = stats.linregress(x, y)
    scatter = fit.stderr * math.sqrt(len(x) * numpy.var(x))
    half = stats.t.ppf((1 + conf) / 2, len(x) - 2) * fit.stderr
    return (texts_of(x=listed(x), y=listed(y), conf=conf),
            {"b": (fit.slope, 1e-9), "a": (fit.intercept, 1e-9), "s": (scatter, 1e-9), "s_b": (fit.stderr, 1e-9),
             "lo": within(fit.slope - half, 1e-9), "hi": within(fit.slope + half, 1e-9)})


@engine("numpy polyfit, scipy t")
def leak_verdict(pick):
    x, y = readings(pick)
    step, conf, allowed = random.choice([0.1, 1.0, 2.0]), pick(0.8, 0.99), pick(0.01, 0.3)
    slope, offset = numpy.polyfit(x, y, 1)
    n, spread = len(x), len(x) * numpy.var(x)
    scatter = math.sqrt(sum((b - offset - slope * a) ** 2 for a, b in zip(x, y)) / (n - 2))
    s_eff = max(scatter, step / math.sqrt(12)) / math.sqrt(spread)
    half, one = stats.t.ppf((1 + conf) / 2, n - 2) * s_eff, stats.t.ppf(conf, n - 2) * s_eff
    high = max(0, -slope) + one
    verdict = "PASS" if high <= allowed else "LEAK" if -(slope + half) > allowed else "INCONCLUSIVE"
    return (texts_of(t=listed(x) + " min", p=listed(y) + " kPa", delta=f"{step} kPa", conf=conf, L_a=f"{allowed} kPa/min"),
            {"slope": within(slope, 1e-9), "s": (scatter, 1e-8), "s_b_eff": (s_eff, 1e-8),
             "lo": within(slope - half, 1e-8), "hi": within(slope + half, 1e-8), "L_min": (one, 1e-8),
             "L_up": (high, 1e-8), "level": (bool(slope - half <= 0 <= slope + half), 0), "verdict": (verdict, 0)})


@engine("scipy brentq, t")
def gauge_test_time(pick):
    step, scatter, allowed, n, conf = pick(0.05, 2), pick(0, 1), pick(0.01, 0.5), random.randint(3, 60), pick(0.8, 0.99)
    drop = pick(1, 50)
    s = max(scatter, step / math.sqrt(12))

    def lack(minutes):
        at = numpy.linspace(0, minutes, n)
        return stats.t.ppf(conf, n - 2) * s / math.sqrt(sum((at - at.mean()) ** 2)) - allowed
    return (texts_of(delta=f"{step} kPa", s=f"{scatter} kPa", L=f"{allowed} kPa/min", n=n, conf=conf, dp=f"{drop} kPa"),
            {"T_min": (brentq(lack, 1e-6, 1e7, xtol=1e-12), 1e-8), "r": (step / drop, 1e-12)})


@engine("scipy t")
def uncertainty(pick):
    n = random.randint(1, 6)
    u, nu, c, p = [pick(0.1, 3) for _ in range(n)], [random.randint(2, 60) for _ in range(n)], [pick(-2, 2) for _ in range(n)], pick(0.6, 0.99)
    parts = numpy.array(c) * numpy.array(u)
    total = math.sqrt((parts ** 2).sum())
    effective = total ** 4 / (parts ** 4 / numpy.array(nu)).sum()
    k = stats.t.ppf((1 + p) / 2, math.floor(effective + 1e-9))
    return (texts_of(u=listed(u), nu=listed(nu), c=listed(c), p=p),
            {"u_c": (total, 1e-10), "nu_eff": (effective, 1e-10), "k": (k, 1e-8), "U": (k * total, 1e-8)})


@engine("scipy norm")
def conformity_probability(pick):
    low = pick(30, 45)
    high = low + pick(1, 20)
    y, u = pick(low - 3, high + 3), pick(0.1, 4)
    chance = stats.norm.cdf(high, y, u) - stats.norm.cdf(low, y, u)
    verdict = "PASS" if chance >= 0.95 else "FAIL" if chance <= 0.05 else "UNDECIDED"
    return (texts_of(y=y, u=u, T_L=low, T_U=high), {"p_c": within(chance, 1e-9), "verdict": (verdict, 0)})


@engine("numpy clip")
def acceptance_limits(pick):
    low = pick(30, 45)
    high, u, r = low + pick(4, 20), pick(0.1, 3), pick(0, 1.5)
    y = pick(low - 6, high + 6)
    inside = numpy.clip(y, low + u * r, high - u * r) == y and low + u * r <= high - u * r
    beyond = numpy.clip(y, low - u * r, high + u * r) != y
    return (texts_of(T_L=low, T_U=high, U=u, r=r, y=y),
            {"A_L": (low + u * r, 1e-10), "A_U": (high - u * r, 1e-10), "TUR": ((high - low) / 2 / u, 1e-10),
             "C_m": ((high - low) / 2 / u, 1e-10), "verdict": ("ACCEPT" if inside else "REJECT" if beyond else "UNDECIDED", 0)})


@engine("numpy roots")
def pt100(pick):
    t, r0 = pick(-200, 850), pick(99.9, 100.1)
    a, b, c = 3.9083e-3, -5.775e-7, -4.183e-12
    share = numpy.polyval([c, -100 * c, b, a, 1] if t < 0 else [b, a, 1], t)
    roots = numpy.roots([c, -100 * c, b, a, 1 - share] if t < 0 else [b, a, 1 - share])
    back = min((z.real for z in roots if abs(z.imag) < 1e-6), key=lambda z: abs(z - t))
    if random.random() < 0.5:
        return texts_of(t=f"{t} °C", R0=f"{r0} Ω"), {"R": (r0 * share, 1e-10), "class_B": (0.3 + 0.005 * abs(t), 1e-9)}
    return texts_of(R=f"{r0 * share} Ω", R0=f"{r0} Ω"), {"t": within(back, 1e-6)}


def type_k(t):
    if t < 0:
        return numpy.polynomial.polynomial.polyval(t, TYPE_K_BELOW)
    return numpy.polynomial.polynomial.polyval(t, TYPE_K_ABOVE) + 0.1185976 * math.exp(-1.183432e-4 * (t - 126.9686) ** 2)


@engine("numpy polyval, scipy brentq")
def thermocouple_k(pick):
    t, cold = pick(-195, 1370), pick(-10, 45)
    volts = type_k(t) - type_k(cold)
    if random.random() < 0.5:
        return texts_of(t=f"{t} °C", t_cj=f"{cold} °C"), {"E": within(volts, 1e-9)}
    back = brentq(lambda at: type_k(at) - type_k(cold) - volts, -200, 1372, xtol=1e-11)
    return texts_of(E=f"{volts} mV", t_cj=f"{cold} °C"), {"t": within(back, 1e-5)}


def weeks(pick, low=8, high=90):
    n = [random.randint(low, high) for _ in range(random.randint(4, 14))]
    return [int(numpy.random.default_rng(random.randint(0, 10**9)).binomial(k, pick(0.05, 0.3))) for k in n], n


@engine("numpy")
def p_chart(pick):
    d, n = weeks(pick)
    if not any(d):
        d[0] = 1
    share = numpy.average(numpy.array(d) / n, weights=n)
    half = 3 * numpy.sqrt(share * (1 - share) / numpy.array(n))
    return (texts_of(d=listed(d), n=listed(n)),
            {"pbar": (share, 1e-10), "LCL": within(numpy.clip(share - half, 0, 1).tolist(), 1e-10),
             "UCL": within(numpy.clip(share + half, 0, 1).tolist(), 1e-10)})


@engine("numpy")
def u_chart(pick):
    c, a = weeks(pick, 60, 160)
    c = [k + 3 for k in c]
    rate = numpy.average(numpy.array(c) / a, weights=a)
    half = 3 * numpy.sqrt(rate / numpy.array(a))
    if random.random() < 0.5:
        return (texts_of(c=listed(c), a=listed(a)),
                {"ubar": (rate, 1e-10), "LCL": within(numpy.clip(rate - half, 0, None).tolist(), 1e-10),
                 "UCL": within((rate + half).tolist(), 1e-10)})
    mean = numpy.mean(c)
    return (texts_of(c=listed(c)),
            {"cbar": (mean, 1e-10), "LCL": within(max(0.0, mean - 3 * mean ** 0.5), 1e-9),
             "UCL": (mean + 3 * mean ** 0.5, 1e-9)} if mean >= 5 else {"cbar": (mean, 1e-10)})


@engine("scipy lfilter")
def drift_charts(pick):
    x = [random.gauss(50.4, 2) for _ in range(random.randint(5, 40))]
    mu, sigma, lam, width, k, h = 50.0, pick(1, 3), pick(0.1, 0.9), pick(2, 3.5), pick(0.3, 1), pick(3, 9)
    z, _ = signal.lfilter([lam], [1, lam - 1], x, zi=[(1 - lam) * mu])
    settled = width * sigma * math.sqrt(lam / (2 - lam))
    up = numpy.array(x) - mu - k
    # The sum that never falls below zero is the walk above its own running minimum.
    walk = numpy.cumsum(up)
    upward = walk - numpy.minimum(numpy.minimum.accumulate(walk), 0)
    fall = numpy.cumsum(mu - k - numpy.array(x))
    downward = fall - numpy.minimum(numpy.minimum.accumulate(fall), 0)
    beyond = numpy.nonzero((upward > h) | (downward > h))[0]
    return (texts_of(x=listed(x), mu0=mu, sigma=sigma, lam=lam, L=width, k=k, h=h),
            {"z": within(z.tolist(), 1e-9), "UCL": (mu + settled, 1e-10), "LCL": (mu - settled, 1e-10),
             "Sp": within(upward.tolist(), 1e-9), "Sm": within(downward.tolist(), 1e-9),
             "first": (int(beyond[0]) + 1 if len(beyond) else None, 0)})


@engine("statsmodels proportion_confint, scipy beta")
def wilson(pick):
    n = random.randint(1, 400)
    x, conf = random.randint(0, n), pick(0.5, 0.999)
    low, high = proportion_confint(x, n, 1 - conf, method="wilson")
    exact_low = stats.beta.ppf((1 - conf) / 2, x, n - x + 1) if x > 0 else 0.0
    exact_high = stats.beta.ppf((1 + conf) / 2, x + 1, n - x) if x < n else 1.0
    return (texts_of(x=x, n=n, conf=conf),
            {"lo": within(max(low, 0), 1e-9), "hi": within(min(high, 1), 1e-9),
             "exact_lo": within(exact_low, 1e-9), "exact_hi": within(exact_high, 1e-9)})


@engine("statsmodels confint_proportions_2indep")
def share_difference(pick):
    n1, n2 = random.randint(3, 200), random.randint(3, 200)
    x1, x2, conf = random.randint(0, n1), random.randint(0, n2), pick(0.8, 0.99)
    low, high = confint_proportions_2indep(x1, n1, x2, n2, method="newcomb", compare="diff", alpha=1 - conf)
    return (texts_of(x1=x1, n1=n1, x2=x2, n2=n2, conf=conf),
            {"d": within(x1 / n1 - x2 / n2, 1e-12), "lo": within(low, 1e-9), "hi": within(high, 1e-9)})


@engine("numpy sort")
def pareto(pick):
    counts = random.sample(range(1, 500), random.randint(2, 12))
    ranked = numpy.sort(counts)[::-1]
    share = numpy.cumsum(ranked) / sum(counts)
    return (texts_of(n=listed(counts)),
            {"sorted": within(ranked.tolist(), 0), "cum": within(share.tolist(), 1e-12),
             "vital": (int(numpy.searchsorted(share, 0.8 - 1e-12)) + 1, 0),
             "order": within((numpy.argsort(counts)[::-1] + 1).tolist(), 0)})


@engine("scipy binom, mstats winsorize")
def funnel_limits(pick):
    share, n, alpha = pick(0.02, 0.9), random.randint(2, 500), random.choice([0.05, 0.002, 0.01])

    def limit(q):
        r = int(stats.binom.ppf(q, n, share))
        off = (stats.binom.cdf(r, n, share) - q) / stats.binom.pmf(r, n, share)
        return min(max((r - off) / n, 0), 1)
    # Spiegelhalter 2005: squared distances of the crews, a tenth drawn in on each side.
    tried = numpy.array([random.randint(5, 300) for _ in range(random.randint(2, 35))])
    failed = numpy.random.default_rng(random.randint(0, 10**9)).binomial(tried, numpy.clip(share * pick(0.6, 1.6), 0, 1))
    distances = (failed / tried - share) / numpy.sqrt(share * (1 - share) / tried)
    phi = float(numpy.mean(numpy.asarray(stats.mstats.winsorize(distances, limits=(0.1, 0.1))) ** 2))
    return (texts_of(p0=share, n=n, alpha=alpha, xs=listed(failed.tolist()), ns=listed(tried.tolist())),
            {"lo": within(limit(alpha / 2), 1e-8), "hi": within(limit(1 - alpha / 2), 1e-8), "phi": (phi, 1e-9)})


@engine("scipy beta")
def shrunken_share(pick):
    x, n = weeks(pick)
    if not any(x):
        x[0] = 1
    x, n = numpy.array(x), numpy.array(n)
    total, k = n.sum(), len(n)
    p = x.sum() / total
    spread = (n * (x / n - p) ** 2).sum()
    rho = min(max((spread / (p * (1 - p)) - (k - 1)) / (total - (n ** 2).sum() / total - (k - 1)), 0), 0.999)
    texts = texts_of(x=listed(x), n=listed(n))
    if rho == 0:
        return texts, {"p": (p, 1e-10), "rho": within(0.0, 1e-12), "M": ("inf", 0), "shrunk": within([p] * k, 1e-10)}
    weight = 1 / rho - 1
    a, b = x + weight * p, n - x + weight * (1 - p)
    return texts, {"p": (p, 1e-10), "rho": (rho, 1e-9), "M": (weight, 1e-9),
                   "shrunk": within(stats.beta.mean(a, b).tolist(), 1e-9),
                   "lo": within(stats.beta.ppf(0.025, a, b).tolist(), 1e-8),
                   "hi": within(stats.beta.ppf(0.975, a, b).tolist(), 1e-8)}


@engine("scipy fisher_exact")
def fisher(pick):
    t = [[random.randint(0, 40), random.randint(1, 40)], [random.randint(1, 40), random.randint(0, 40)]]
    return (texts_of(t=t),
            {"p_two": within(stats.fisher_exact(t)[1], 1e-9),
             "p_greater": within(stats.fisher_exact(t, "greater")[1], 1e-9),
             "p_less": within(stats.fisher_exact(t, "less")[1], 1e-9)})


@engine("statsmodels multipletests")
def false_discovery(pick):
    p = [10 ** pick(-4, 0) for _ in range(random.randint(1, 25))]
    alpha = pick(0.01, 0.2)
    rejected, q, _, _ = multipletests(p, alpha, "fdr_bh")
    return (texts_of(p=listed(p), alpha=alpha),
            {"q": within(q.tolist(), 1e-10), "rejected": ([bool(r) for r in rejected], 0), "n_rej": (int(rejected.sum()), 0)})


@engine("statsmodels SurvfuncRight")
def time_to_correction(pick):
    n = random.randint(4, 40)
    times, closed = [random.randint(1, 30) for _ in range(n)], [random.choice([1, 1, 0]) for _ in range(n)]
    closed[times.index(min(times))] = 1
    curve = SurvfuncRight(numpy.array(times), numpy.array(closed))
    steps = [i for i, d in enumerate(curve.n_events) if d]
    under = [curve.surv_times[i] for i in steps if curve.surv_prob[i] <= 0.5 + 1e-12]
    # Where nothing is left open the formula of the deviation has no value.
    kept = [i for i in steps if curve.surv_prob[i] > 0]
    expected = {"time": within([float(curve.surv_times[i]) for i in steps], 0),
                "S": within([float(curve.surv_prob[i]) for i in steps], 1e-10),
                "median": (float(under[0]) if under else None, 0)}
    if len(kept) == len(steps):
        expected["se"] = within([float(curve.surv_prob_se[i]) for i in steps], 1e-10)
    return texts_of(t=listed(times), event=listed(closed)), expected


@engine("scipy binom, hypergeom, beta")
def acceptance_sampling(pick):
    n = random.randint(2, 120)
    ac = random.randint(0, min(n - 1, 10))
    form = random.randint(0, 2)
    if form == 0:
        p = pick(0.001, 0.3)
        return texts_of(n=n, Ac=ac, p=p), {"Pa": within(stats.binom.cdf(ac, n, p), 1e-9)}
    if form == 1:
        lot = n + random.randint(1, 400)
        bad = random.randint(0, lot)
        return texts_of(n=n, Ac=ac, N=lot, D_=bad), {"Pa": within(stats.hypergeom.cdf(ac, lot, bad, n), 1e-9)}
    chance = pick(0.02, 0.98)
    return texts_of(n=n, Ac=ac, Pa=chance), {"p": (stats.beta.ppf(1 - chance, ac + 1, n - ac), 1e-7)}
