"""Units of the trade that several bridges share."""

from hearthold.quantities.units import convert, si

CIRCULAR_MIL_M2 = 5.067074790974977e-10  # pi/4 of (0.001 in) squared


FT_M = 0.3048


HOUR_S = 3600.0


def ua_of_btu(btu_h_f):
    return convert(btu_h_f, "Btu/h/F", "W/K", "conductance")


def f_to_c(degf):
    return si(degf, "F", "temperature")


def c_to_f(degc):
    return convert(degc, "C", "F", "temperature")


def btu(joules):
    return convert(joules, "J", "Btu", "energy")
