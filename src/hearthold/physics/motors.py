"""Motors: what they draw running, what they draw at the instant of starting, and how long that lasts."""

from __future__ import annotations

from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

# --- kernels ---------------------------------------------------------------------------------------------


def running_current_kernel(power_w: Values, voltage_v: Values, power_factor: Values) -> Values:
    """Single-phase current of a load, in A."""
    return power_w / (voltage_v * power_factor)


def soft_start_kernel(locked_rotor_a: Values, start_voltage_frac: Values) -> Values:
    """Current at standstill on a reduced voltage, in A."""
    return locked_rotor_a * start_voltage_frac


def run_up_time_kernel(inertia_kg_m2: Values, shaft_speed_rad_per_s: Values, torque_n_m: Values) -> Values:
    """Time to speed under a constant accelerating torque, in s."""
    return inertia_kg_m2 * shaft_speed_rad_per_s / torque_n_m


# --- running ---------------------------------------------------------------------------------------------


def input_power_w(shaft_w: Values, motor_efficiency_frac: Values) -> Values:
    """Electrical power of a motor that gives its rated shaft power: P = P_shaft / eta.

    Small motors are poor: 0.5 to 0.7 under 1 hp (from memory). Raises: InputError outside the ranges.

    Source: definition of motor efficiency (IEC 60034-2-1).
    """
    require(shaft_w=shaft_w, motor_efficiency_frac=motor_efficiency_frac)
    return shaft_w / motor_efficiency_frac


def running_current_a(power_w: Values, voltage_v: Values, power_factor: Values) -> Values:
    """Single-phase current of a running load: I = P / (V pf).

    voltage_v is the voltage across the load: 240 V for a load on both legs.
    Raises: InputError outside the glossary's ranges.

    Source: definition of power factor (IEEE Std 1459-2010).
    """
    require(power_w=power_w, voltage_v=voltage_v, power_factor=power_factor)
    return running_current_kernel(power_w, voltage_v, power_factor)


# --- starting --------------------------------------------------------------------------------------------


def locked_rotor_a(locked_rotor_va_per_w: Values, shaft_w: Values, voltage_v: Values) -> Values:
    """Locked-rotor current of a single-phase motor from the code letter on its nameplate.

    I = s P_shaft / V; a code letter of k kVA/hp is s = k 1000 / 745.7 VA for each watt of shaft power.
    A letter is a band: use its upper end to size a source. Raises: InputError outside the ranges.

    Source: NFPA 70 (NEC) 430.7(B) and Table 430.7(B); NEMA MG 1-10.37.
    """
    require(locked_rotor_va_per_w=locked_rotor_va_per_w, shaft_w=shaft_w, voltage_v=voltage_v)
    return locked_rotor_va_per_w * shaft_w / voltage_v


def locked_rotor_from_multiple_a(running_a: Values, locked_rotor_multiple: Values) -> Values:
    """Locked-rotor current as a multiple of the running current, where the nameplate gives neither.

    Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) Table 430.251(A) has the multiple 6 for single phase (from memory); other multiples
    by kind of motor are handbook figures.
    """
    require(running_a=running_a, locked_rotor_multiple=locked_rotor_multiple)
    return running_a * locked_rotor_multiple


def start_va(locked_rotor_a: Values, voltage_v: Values) -> Values:
    """Apparent power a motor asks of an alternator at the instant of starting, at full voltage: S = V I.

    Raises: InputError outside the glossary's ranges.

    Source: definition of apparent power; single phase.
    """
    require(locked_rotor_a=locked_rotor_a, voltage_v=voltage_v)
    return locked_rotor_a * voltage_v


def start_w(start_va: Values, start_power_factor: Values) -> Values:
    """Real power a motor asks of an engine at the instant of starting: P = S pf at standstill.

    Raises: InputError outside the glossary's ranges.

    Source: definition of power factor; standstill values of 0.6 to 0.95 are handbook figures (from memory).
    """
    require(start_va=start_va, start_power_factor=start_power_factor)
    return start_va * start_power_factor


def soft_start_a(locked_rotor_a: Values, start_voltage_frac: Values) -> Values:
    """Current of a motor started on a reduced voltage by a soft starter or a series impedance.

    I = I_locked u, the current following the voltage (saturation left out, which makes the true current
    somewhat lower). Check the torque too. Raises: InputError outside the glossary's ranges.

    Source: reduced-voltage starting, NEMA ICS 2 and machine handbooks (from memory).
    """
    require(locked_rotor_a=locked_rotor_a, start_voltage_frac=start_voltage_frac)
    return soft_start_kernel(locked_rotor_a, start_voltage_frac)


def soft_start_torque_frac(start_voltage_frac: Values) -> Values:
    """Starting torque left at a reduced voltage, of that at full voltage: u^2.

    A loaded compressor or a deep-well pump may not turn at all on what is left; it also tells what a voltage
    dip does to a start. Raises: InputError outside the glossary's ranges.

    Source: induction machine theory, torque with the square of the voltage (any machine handbook).
    """
    require(start_voltage_frac=start_voltage_frac)
    return start_voltage_frac**2


# --- run-up ----------------------------------------------------------------------------------------------


def run_up_time_s(
    inertia_kg_m2: Values, shaft_speed_rad_per_s: Values, accelerating_torque_n_m: Values
) -> Values:
    """Time to come up to speed: t = J omega / T, with the mean accelerating torque.

    Raises: InputError outside the glossary's ranges.

    Source: Newton's second law for rotation; the trade form is t = WK^2 N / (308 T) in lb ft^2, rpm, lb ft.
    """
    require(
        inertia_kg_m2=inertia_kg_m2,
        shaft_speed_rad_per_s=shaft_speed_rad_per_s,
        accelerating_torque_n_m=accelerating_torque_n_m,
    )
    return run_up_time_kernel(inertia_kg_m2, shaft_speed_rad_per_s, accelerating_torque_n_m)


def run_up_energy_j(start_w: Values, run_up_s: Values) -> Values:
    """Electrical energy of a start, estimated: the power at standstill held for the whole run-up.

    E = P_start t. An estimate and no bound: near pull-out a motor may draw more watts than at standstill,
    near full speed fewer. With start_va in place of start_w it is a bound, since the current only falls.
    Raises: InputError outside the glossary's ranges.

    Source: definition of energy; the flat profile is common practice, no source.
    """
    require(start_w=start_w, run_up_s=run_up_s)
    return start_w * run_up_s


def kinetic_energy_j(inertia_kg_m2: Values, shaft_speed_rad_per_s: Values) -> Values:
    """Energy stored in the turning parts: J omega^2 / 2.

    Started unloaded on a constant voltage, a rotor also takes this much as heat in its own windings, whatever
    the run-up time, so a start never costs less than twice this. Raises: InputError outside the ranges.

    Source: mechanics; the rotor-heat theorem is in A. E. Fitzgerald and C. Kingsley, Electric Machinery
    (from memory).
    """
    require(inertia_kg_m2=inertia_kg_m2, shaft_speed_rad_per_s=shaft_speed_rad_per_s)
    return 0.5 * inertia_kg_m2 * shaft_speed_rad_per_s**2
