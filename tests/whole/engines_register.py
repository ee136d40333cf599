"""What the engines share: liquid water and friction by other people's code, and how a case is written.

An engine is a function of `pick(low, high)` that returns the inputs as texts, and for each output the figure that
the other code finds with the tolerance within which both must agree. A tolerance is relative; `within(value, by)`
makes it absolute. Words, flags and lists of flags must be equal.
"""
import math

import numpy
from iapws import IAPWS97
from iapws._iapws import _Liquid
from iapws.iapws97 import _PSat_T
from scipy.optimize import brentq

ZERO = 273.15
GRAVITY = 9.80665
ENGINES = {}


def engine(library):
    """Registers the function under its own name as a computation checked by `library`."""
    def register(function):
        ENGINES[function.__name__.replace("_", "-")] = (function, library)
        return function
    return register


class within:
    """A figure whose tolerance is absolute, because it may be near zero."""

    def __init__(self, value, by):
        self.value, self.by = value, by


def texts_of(**values):
    """The inputs as a person types them; a trailing underscore of a Python name stays in the symbol."""
    return {symbol: str(value) for symbol, value in values.items()}


def listed(values):
    return "[" + ", ".join(str(v) for v in values) + "]"


def boiling(celsius):
    return _PSat_T(celsius + ZERO)


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
