"""The wiring of a plan as blocks: limit chain, panel schedule, what the machine gives, what circuits ask for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import ASSUMED, BOLD, Block, Cell, Column, Heading, Words, drawn, table
from hearthold.papers.charts.narrowing import Part, narrowing
from hearthold.papers.words.phrases import plain, sentence, wire
from hearthold.papers.words.say import names, whole
from hearthold.physics.legs import Connection
from hearthold.sizing.chain import EACH_CORD
from hearthold.sizing.placement import placement

if TYPE_CHECKING:
    from hearthold.house.loads import Circuit
    from hearthold.papers.job import Job
    from hearthold.sizing.chain import Chain

_LEG = {Connection.A: "A", Connection.B: "B", Connection.BOTH: "A+B"}


def feeds_circuits(job: Job) -> bool:
    """Whether the hookup feeds circuits of the house, or one is still to be built that may; cords feed none."""
    return not job.house.on_cords


def chain_blocks(job: Job) -> Iterator[Block]:
    """From the machine, and from a battery's inverter, to the panel: what each part passes, and which decides."""
    found, battery = job.plan.chain, job.plan.battery_chain
    if found is None and battery is None:
        return
    yield Heading("Limit chain")
    if found is not None:
        way = "While the set runs, its power passed through: " if battery is not None else ""
        yield from _way(job, found, way, _for_hours(job, found))
    if battery is not None:
        yield from _way(job, battery, "From the battery, while the set rests: ", "")


def _way(job: Job, found: Chain, way: str, hours: str) -> Iterator[Block]:
    """One way in: what arrives, which part decides, and the picture."""
    parts = names([f"{job.told(x.kind)} ({x.name})" for x in found.weakest], 6)
    arrive = job.told(f"arrive at {found.end}")
    text = f"{way}{whole(found.delivered_w)} W {arrive}. Decides: {parts}. {hours}".rstrip()
    if found.with_next_w > found.delivered_w * 1.005:
        bigger = names([f"{job.told(x.kind)} {x.next_name}" for x in found.weakest if x.next_a], 6)
        text += f" With {bigger} it would be {whole(found.with_next_w)} W."
    yield Words(text)
    links = tuple(
        Part(job.told(x.kind), wire(x.name), x.rated_w, x.continuous_w, x in found.weakest)
        for x in found.links
    )
    yield drawn(narrowing(links, job.told(f"Limit chain from the {found.links[0].kind} to {found.end}")))
    if found.notes:
        yield Words(" ".join(sentence(job.told(note)) for note in found.notes))


def _for_hours(job: Job, found: Chain) -> str:
    """What can be drawn for hours: the wires' figure, and the machine's own where that is smaller."""
    text = f"For three hours or more the way carries {whole(found.continuous_w)} W"
    held_w = job.source.held_w if job.source is not None else found.continuous_w
    if found.end == EACH_CORD:
        return f"{text}; all cords together {whole(held_w)} W. No panel is fed."
    return f"{text}; hold the machine to {whole(held_w)} W." if held_w < found.continuous_w else f"{text}."


def schedule_blocks(job: Job) -> Iterator[Block]:
    """The panel that the hookup feeds, circuit by circuit."""
    circuits = job.house.fed_circuits or job.house.circuits
    if not circuits:
        yield Words("The house file names no circuit.")
        return
    columns = [
        Column("No.", True),
        Column("Circuit", share=2.2),
        Column("Leg"),
        Column("Breaker"),
        Column("Wire", share=1.5),
    ]
    columns += [
        Column("Length", True),
        Column("Loads", share=2.6),
        Column("VA", True),
        Column("Starts VA", True),
    ]
    if not job.nec:
        del columns[2]
    note = (
        "VA: everything on the circuit running, nominal voltage. Starts VA: its heaviest single "
        "start. ~ assumed."
    )
    yield table(columns, (_circuit(job, n, c) for n, c in enumerate(circuits, start=1)), note)
    by_leg = job.plan.balance
    if job.nec and by_leg is not None and feeds_circuits(job):
        before, after = by_leg.before, by_leg.after
        moves = "; ".join(f"{m.name} from leg {m.from_leg} to {m.to_leg}" for m in by_leg.moves)
        guess = ", the assumed legs placed as evenly as they go" if by_leg.assumed else ""
        text = f"All on{guess}: leg A {whole(before.leg_a_va)} VA, leg B {whole(before.leg_b_va)} VA."
        text += (
            f" More even ({by_leg.status}): {moves}; then {whole(after.leg_a_va)} and "
            f"{whole(after.leg_b_va)} VA."
            if moves
            else ""
        )
        yield Words(text)


def _circuit(job: Job, number: int, circuit: Circuit) -> Iterator[Cell]:
    seats = placement(job.house)
    loads = job.house.loads_on(circuit.id)
    poles = f" {circuit.poles}p" if circuit.poles > 1 else ""
    guard = f" {'/'.join(circuit.protection).upper()}" if circuit.protection else ""
    metal = "" if circuit.material == "copper" else f" {circuit.material}"
    start_va = max((x.start_va for x in loads if x.is_motor), default=0.0)
    assumed = any(f"load {x.id}: start_va" in job.assumed for x in loads if x.is_motor)
    yield Cell(str(number), BOLD)
    yield Cell(circuit.name, BOLD)
    if job.nec:
        yield Cell(_LEG[seats.leg_of[circuit.id]], ASSUMED if circuit in seats.assumed else "")
    yield Cell(f"{circuit.breaker_a:g} A{poles}{guard}")
    yield Cell(f"{wire(circuit.wire)}{metal} {circuit.cable or ''}".strip())
    yield Cell(plain(job.say.length(circuit.length_m)))
    yield Cell("; ".join(x.name if x.count == 1 else f"{x.count} × {x.name}" for x in loads) or "none listed")
    yield Cell(whole(sum(x.running_va for x in loads)))
    yield Cell(whole(start_va) if start_va else "", ASSUMED if assumed and start_va else "")


def supply_blocks(job: Job) -> Iterator[Block]:
    """What the machine gives at this place on each fuel."""
    if not job.plan.supplies:
        return
    columns = [
        Column("Fuel", share=1.0),
        Column("Rated W", True),
        Column("Runs W", True),
        Column("Starts W", True),
    ]
    columns += [Column("Starts VA", True), Column("Hold W", True)] + (
        [Column("One leg W", True)] if job.nec else []
    )
    rows = []
    for s in job.plan.supplies:
        cells = [
            job.fuel(s.fuel),
            *(whole(w) for w in (s.rated_w, s.running_w, s.start_w, s.start_va, s.held_w)),
        ]
        rows.append(cells + ([whole(s.leg_limit_w)] if job.nec else []))
    notes = dict.fromkeys(note for s in job.plan.supplies for note in s.notes)
    told = (
        f"At {plain(job.say.length(job.house.site.altitude_m))} and "
        f"{job.say.temperature(job.plan.conditions.outdoor_high_c)}, the warmest hour. Hold: for hours on end."
    )
    yield table(columns, rows, " ".join([told, *(sentence(job.told(n)) for n in notes)]))


def circuit_demand_words(job: Job) -> str:
    """One sentence on what all fed circuits ask for."""
    found = job.plan.demand
    worst = found.worst_start
    text = (
        f"On average {job.say.power(found.average.total_w)}, after a long outage "
        f"{job.say.power(found.cold_pickup.total_w)}, "
        f"all on {job.say.power(found.all_on.total_w)}"
    )
    return text + (
        f"; heaviest moment {job.say.volt_amps(worst.demand.total_va)}, when {worst.name} starts."
        if worst
        else "."
    )
