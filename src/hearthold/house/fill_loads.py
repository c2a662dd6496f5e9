"""Loads as the program uses them: the file's figures first, then the catalogue's, marked as assumed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from hearthold.house.loads import Assumption, Load, LoadEntry, Pattern, Priority, UseWindow
from hearthold.house.nameplate import (
    base_start_kind,
    kind_of,
    known_voltage,
    running_power,
    start_va_stated,
    stated_power_factor,
    states_running,
)
from hearthold.house.place import placed
from hearthold.house.site import VoltageSystem
from hearthold.quantities.source import Source, Standing
from hearthold.reference import motors
from hearthold.reference.loads import Load as LoadKind

DAY_S = 86400.0
KWH_J = 3.6e6
_ON_DEMAND_DUTY = (
    0.02  # half an hour a day, where neither file nor catalogue says; common practice, no source
)
_PRIORITY = {
    "life_safety": Priority.VITAL,
    "essential": Priority.ESSENTIAL,
    "comfort": Priority.COMFORT,
    "defer": Priority.DEFER,
}
_WORTH_TELLING_VA = 500.0  # below this no start decides anything
_UNKNOWN = Source("the house file does not say", Standing.ASSUMED)


def fill_loads(
    entries: Iterable[LoadEntry], system: VoltageSystem, poles: Mapping[str, int]
) -> tuple[tuple[Load, ...], tuple[Assumption, ...]]:
    """Every load with every figure, and the list of figures the household did not give.

    `poles` of each circuit by id: it fixes the voltage of a load that does not say its own.
    """
    loads: list[Load] = []
    assumed: list[Assumption] = []
    for i, entry in enumerate(entries):
        filler = _Filler(entry, system, poles.get(entry.circuit, 1))
        with placed("load", i):
            loads.append(filler.load())
        assumed.extend(filler.assumed)
    return tuple(loads), tuple(assumed)


def _window_s(window: UseWindow) -> float:
    """Length of a time of use; it may run past midnight, and equal ends mean the whole day."""
    return (window.to_s - window.from_s) % DAY_S or DAY_S


class _Filler:
    """Works one entry out, noting each figure it had to take from elsewhere."""

    def __init__(self, entry: LoadEntry, system: VoltageSystem, poles: int) -> None:
        self.entry, self.system = entry, system
        self.circuit_v = system.full_voltage_v if poles == 2 else system.leg_voltage_v
        self.kind: LoadKind | None = kind_of(entry)
        self.assumed: list[Assumption] = []

    def load(self) -> Load:
        entry, kind = self.entry, self.kind
        running_w = running_power(entry, self.system) or 0.0
        power_factor = stated_power_factor(entry)
        low_w, high_w = self._running_range(running_w)
        start_va, start_pf, start_kind, run_up_s = self._start(running_w / entry.count / power_factor)
        duty, energy_j = self._use(running_w)
        return Load(
            id=entry.id,
            name=entry.name or (kind.name if kind else entry.id),
            kind=entry.kind,
            circuit=entry.circuit,
            group=kind.group if kind else "other",
            priority=entry.priority or (_PRIORITY[kind.load_class] if kind else Priority.COMFORT),
            count=entry.count,
            voltage_v=known_voltage(entry, self.system) or self.circuit_v,
            running_w=running_w,
            low_w=low_w,
            high_w=high_w,
            power_factor=power_factor,
            start_va=start_va,
            start_power_factor=start_pf,
            start_kind=start_kind,
            run_up_s=run_up_s,
            duty_frac=duty,
            energy_day_j=energy_j,
            pattern=self._pattern(),
            use=tuple((w.from_s, w.to_s) for w in entry.use),
            note=entry.note,
        )

    def _pattern(self) -> Pattern:
        """As stated; times of use make a schedule; else the catalogue's."""
        if self.entry.pattern is not None:
            return self.entry.pattern
        if self.entry.use:
            return Pattern.SCHEDULED
        return Pattern(self.kind.pattern) if self.kind else Pattern.ON_DEMAND

    def _note(self, figure: str, value: float, unit: str, low: float, high: float, source: Source) -> None:
        self.assumed.append(Assumption(f"load {self.entry.id}: {figure}", value, unit, low, high, source))

    def _running_range(self, running_w: float) -> tuple[float, float]:
        if self.kind is None or states_running(self.entry, self.system):
            return running_w, running_w
        low_w, high_w = self.kind.low_w * self.entry.count, self.kind.high_w * self.entry.count
        self._note("running_w", running_w, "W", low_w, high_w, self.kind.source)
        return low_w, high_w

    def _start(self, running_va: float) -> tuple[float, float, str, float]:
        """Starting VA and power factor of one piece, the way it starts, and its seconds of run-up."""
        way = motors.start_kind("soft_start" if self.entry.soft_start else base_start_kind(self.entry))
        stated = None if self.entry.soft_start else start_va_stated(self.entry, self.system)
        if stated is not None:
            return max(stated, running_va), way.start_power_factor.typical, way.kind, way.run_up_s
        ratio = way.start_ratio
        start_va = ratio.typical * running_va
        low, high, source = ratio.low * running_va, ratio.high * running_va, way.source
        if self._catalogue_start():
            start_va, source = self.kind.start_va, self.kind.source  # type: ignore[union-attr]
        start_va = max(start_va, running_va)
        if ratio.high > 1.05 and max(high, start_va) > _WORTH_TELLING_VA:
            self._note("start_va", start_va, "VA", min(low, start_va), max(high, start_va), source)
        return start_va, way.start_power_factor.typical, way.kind, way.run_up_s

    def _catalogue_start(self) -> bool:
        """True where the catalogue's own starting figure belongs to this load as the file describes it."""
        own = (
            states_running(self.entry, self.system)
            or self.entry.start_kind is not None
            or self.entry.soft_start
        )
        return self.kind is not None and not own

    def _use(self, running_w: float) -> tuple[float, float]:
        """Duty and energy a day, each from the other where only one is known."""
        entry = self.entry
        if entry.energy_w is not None:
            energy_j = entry.energy_w * entry.count * DAY_S
            duty = min(1.0, entry.energy_w * entry.count / max(running_w, 1e-9))
            return (duty if entry.duty is None else entry.duty), energy_j
        if entry.duty is not None:
            return entry.duty, entry.duty * running_w * DAY_S
        if entry.use:
            duty = min(1.0, sum(_window_s(w) for w in entry.use) / DAY_S)
            return duty, duty * running_w * DAY_S
        return self._assumed_use(running_w)

    def _assumed_use(self, running_w: float) -> tuple[float, float]:
        if self.kind is None:
            self._note("duty", _ON_DEMAND_DUTY, "of 1", 0.0, 1.0, _UNKNOWN)
            return _ON_DEMAND_DUTY, _ON_DEMAND_DUTY * running_w * DAY_S
        duty = self.kind.duty_frac
        energy_j = duty * running_w * DAY_S
        day_kwh = DAY_S * self.entry.count / KWH_J
        spread = (self.kind.mean_low_w * day_kwh, self.kind.mean_high_w * day_kwh, energy_j / KWH_J)
        low, high = min(spread), max(spread)
        self._note("energy_day", energy_j / KWH_J, "kWh/day", low, high, self.kind.source)
        return duty, energy_j
