"""The electrician's brief: what is there, what is asked, what the sums say, what nobody knows yet."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.house.loads import Priority
from hearthold.house.supply import HookupKind
from hearthold.papers.blocks import (
    BOLD,
    Blanks,
    Block,
    Cell,
    Column,
    Heading,
    Pairs,
    Points,
    Warn,
    Words,
    drawn,
    table,
)
from hearthold.papers.diagram.build import one_line
from hearthold.papers.diagram.layout import sheets
from hearthold.papers.diagram.neutral import neutral_answers
from hearthold.papers.document import document
from hearthold.papers.sections import wiring
from hearthold.papers.sections.conductors import conductor_blocks
from hearthold.papers.sections.findings import finding_blocks
from hearthold.papers.sections.loadcalc import load_calculation_blocks
from hearthold.papers.sections.starting import starts_blocks
from hearthold.papers.words.circuits import fed, stay_off
from hearthold.papers.words.phrases import PRIORITY_WORDS, sentence
from hearthold.papers.words.say import clock, counted, duration, names
from hearthold.reference.code_rules import code_rules
from hearthold.sizing.gridside import grid_feeder

if TYPE_CHECKING:
    from hearthold.house.site import Medical
    from hearthold.papers.job import Job
    from hearthold.reference.code_rules import CodeRule
    from hearthold.rules.finding import Finding

NOTICE = "For review by a licensed electrician; not for construction."
_ASSUMED = "values-assumed"  # told with its number below
_GRAVE = ("danger", "act")
_FAMILIES = ("connection", "conductors", "earthing", "permit", "supply", "starting")
_REVIEW = {
    True: ("Reviewed by, licence number", "Date", "What has to change", "Permit number, inspector"),
    False: ("Reviewed by, registration number", "Date", "What has to change", "Certificate number"),
}
_TALL_PT = 440.0  # of a drawing that tables had better not wait for: it goes to the next page
_HOOKUPS = {
    HookupKind.CORDS: "Extension cords to single appliances; nothing of the house is fed.",
    HookupKind.INTERLOCK: "Inlet and back-fed breaker on the main panel, interlocked with the main breaker.",
    HookupKind.MANUAL_TRANSFER: "Inlet and hand-worked {switch}, feeding a panel for essentials.",
    HookupKind.AUTOMATIC_STANDBY: "Standing set with an automatic transfer switch ahead of the main panel.",
    HookupKind.BATTERY_INVERTER: "Battery and inverter on a panel for essentials; grid or set charges.",
}


_JOINED = (
    "The set gives 120 V on one hot wire, the panel has two. Both hot wires of the house go through the transfer "
    "equipment (702.5), and A and B are joined on the set's side of it only: joined on the grid's side they would be "
    "a short circuit. On the set nothing of 240 V runs, and the shared neutral of a multi-wire circuit carries the sum "
    "of both legs."
)


def brief(job: Job) -> bytes:
    """The brief as PDF."""
    return document(
        job, "Electrician's brief", "Backup power of one house, for review", brief_blocks(job), NOTICE
    )


def brief_blocks(job: Job) -> Iterator[Block]:
    """Every section, in the order in which an electrician asks."""
    yield from _scope(job)
    yield from _asked(job)
    yield Heading("Panel schedule" if job.nec else "Schedule of circuits")
    yield from wiring.schedule_blocks(job)
    yield from _machine(job)
    if wiring.feeds_circuits(job):
        yield from load_calculation_blocks(job)
    yield from _diagram(job)
    yield from starts_blocks(job)
    yield from wiring.chain_blocks(job)
    yield from conductor_blocks(job)
    yield from _neutral(job)
    yield from _findings(job)
    yield from _unknown(job)
    # Before the articles, whose table may break: these blanks shall not stand alone on a page.
    yield Heading("Review")
    yield Blanks(_REVIEW[job.nec])
    yield from _articles(job)


def _scope(job: Job) -> Iterator[Block]:
    house, hookup = job.house, job.house.hookup
    yield Heading("Scope")
    volts = "120/240 V split phase, 60 Hz" if job.nec else "230 V single phase, 50 Hz"
    rows = [("Supply", volts), ("Rules in force", house.site.code or "not given: ask the local authority")]
    way = (
        job.told(_HOOKUPS[hookup.kind].format(switch="transfer switch" if job.nec else "changeover switch"))
        if hookup is not None
        else "None described: this brief asks what could be built."
    )
    rows.append(("Hookup", way))
    if hookup is not None:
        there = "in place" if hookup.installed else "planned"
        rows.append(("State", f"{there}; permit: {hookup.permit}; installed by: {hookup.installed_by}"))
    machine = house.generator
    rows.append(("Machine", _machine_words(job) if machine is not None else "none in the house file"))
    rows.append(("Circuits", f"{len(house.circuits)} in the house file; {fed(house)}"))
    yield Pairs(tuple(rows))


def _machine_words(job: Job) -> str:
    machine = job.house.generator
    if machine is None:
        return ""
    fuels = ", ".join(f"{job.say.power(r.running_w)} on {job.fuel(r.fuel)}" for r in machine.on)
    owned = "owned" if machine.owned else "not bought yet"
    return f"{machine.name}: {fuels}; receptacle {machine.receptacle}; neutral {machine.neutral}; {owned}"


def _asked(job: Job) -> Iterator[Block]:
    """What the household wants the power for."""
    house, people = job.house, job.house.people
    yield Heading("What the household asks for")
    found = [f"To get through {duration(house.outages.plan_for_s)} without the grid."]
    found += [_vital(job, need) for need in house.medical]
    for priority in (Priority.VITAL, Priority.ESSENTIAL, Priority.COMFORT):
        wanted = list(dict.fromkeys(x.name for x in house.loads if x.priority is priority))
        if wanted:
            found.append(f"{PRIORITY_WORDS[priority].capitalize()}: {names(wanted, 60)}.")
    found.append(
        f"Quiet from {clock(people.quiet_from_s)} to {clock(people.quiet_to_s)}"
        + (", with running at night where needed." if house.wishes.run_at_night else ".")
    )
    choice = job.plan.choice
    if choice is not None and wiring.feeds_circuits(job):
        found.append(
            f"On at one time ({choice.together_status}): "
            f"{names([job.circuit(c) for c in choice.together], 60)}."
        )
        found += [f"Off: {circuits}; {reason}." for circuits, reason in stay_off(choice)]
    if house.budget.first is not None:
        found.append(f"Budget: {job.say.money(house.budget.first)} once.")
    yield Points(tuple(found))
    if wiring.feeds_circuits(job):
        yield Words(wiring.circuit_demand_words(job))


def _vital(job: Job, need: Medical) -> str:
    return f"Never without: {job.load(need.load)}, {need.hours_per_day:g} h a day, for {need.person}."


def _diagram(job: Job) -> Iterator[Block]:
    yield Heading("One-line diagram")
    diagram = one_line(job.house, job.say, job.on_cords)
    figures = sheets(diagram, f"One-line diagram of {job.house.name}")
    floats = figures[0].height_pt > _TALL_PT
    if floats:  # so that tables fill the page before it
        yield Words("The drawing is on the next page.", "quiet")
    for figure in figures:
        yield drawn(figure, floats)
    if diagram.has("joint"):
        yield Words(_JOINED)
    if job.on_cords:
        rows = (
            (job.on_a_cord(x), job.say.power(x.running_w), PRIORITY_WORDS[x.priority]) for x in job.on_cords
        )
        yield table(
            (Column("Appliance on a cord", share=3.0), Column("Runs", True), Column("Wanted", share=1.0)),
            rows,
        )
        yield Words(" ".join(job.off_cords), "quiet")


def _machine(job: Job) -> Iterator[Block]:
    if job.plan.supplies:
        yield Heading("What the machine gives here")
        yield from wiring.supply_blocks(job)


def _neutral(job: Job) -> Iterator[Block]:
    hookup, machine = job.house.hookup, job.house.generator
    yield Heading("Neutral and grounding" if job.nec else "Neutral and earthing")
    bonded = f"Is the neutral of the set bonded? {sentence(machine.neutral if machine else 'no set yet')}"
    if job.house.on_cords:
        yield Points((bonded, "Only cords leave the set: no wire of the house is joined to its neutral."))
    else:
        switched = hookup.switched_neutral if hookup is not None else None
        earthing = hookup.earthing if hookup is not None else "unknown"
        opens = job.told("Does the transfer equipment open the neutral? ") + _yes(switched)
        yield Words(" ".join((opens, bonded, *_earth_questions(job))))
        yield drawn(neutral_answers(job.nec, switched, machine.neutral if machine else "", earthing))


def _earth_questions(job: Job) -> Iterator[str]:
    """What else decides where neutral and earth are tied."""
    hookup = job.house.hookup
    if hookup is None:
        return
    yield "Is there an electrode for running on the set? " + _yes(hookup.own_electrode)
    if not job.nec:
        yield f"How is the supply earthed? {sentence(hookup.earthing)}"
        return
    tied = hookup.panel_neutral_bonded
    if hookup.kind is HookupKind.INTERLOCK:
        yield "Are neutral and ground tied in the main panel, if the service is there? " + _yes(tied)
        return
    panel = "main panel behind the switch" if job.house.takes_over else "essential panel"
    yield f"Are neutral and ground apart in the {panel}? " + _yes(None if tied is None else not tied)


def _yes(answer: bool | None) -> str:
    return {True: "Yes.", False: "No.", None: "Not known."}[answer]


def _findings(job: Job) -> Iterator[Block]:
    """What the rules found on the wiring: all that needs action, all on earthing, advice on hookup and conductors."""
    found = [f for f in job.plan.findings if f.family in _FAMILIES and _matters(f)]
    if found:
        yield Heading("Findings about the wiring")
        yield from finding_blocks(job, found)
    yield Warn(job.caution("open_panel"))


def _matters(finding: Finding) -> bool:
    weighed = finding.severity == "consider" and finding.family in ("connection", "conductors")
    return finding.severity in _GRAVE or weighed or finding.family == "earthing"


def _unknown(job: Job) -> Iterator[Block]:
    """Everything that would have to be read on site."""
    yield Heading("What we do not know")
    chain = job.plan.chain
    found = [job.told(f"Not in the house file: {'; '.join(_not_in_file(job))}.")]
    found += [
        f"{sentence(part)[:-1]}: rating not given." for part in (chain.unknown if chain is not None else ())
    ]
    found += [
        sentence(n) for n in dict.fromkeys((*job.plan.demand.notes, *job.plan.wiring.notes)) if "assumed" in n
    ]
    found += [
        f"{f.title.rstrip('.')}: {f.where}."
        for f in job.plan.findings
        if f.family == "data" and f.rule != _ASSUMED
    ]
    if job.plan.assumptions:
        count = counted(len(job.plan.assumptions), "figure")
        found.append(sentence(f"{count} of the catalogue, not of a plate: see the plan report"))
    motors = {f"load {x.id}: start_va": x.name for x in job.house.loads if x.is_motor}
    guessed = [name for item, name in motors.items() if item in job.assumed]
    if guessed:
        found.append(f"Starting figures from a catalogue, not from a nameplate: {names(guessed, 60)}.")
    found.append(job.told("Condition of cables, joints and panel, and how they lie: to be seen."))
    yield Points(tuple(found))


def _not_in_file(job: Job) -> Iterator[str]:
    """Ratings between the supply and the panel that the house file has no key for, or leaves out."""
    hookup = job.house.hookup
    kind = hookup.kind if hookup is not None else None
    if not job.nec:
        yield "fuse of the supplier's cut-out and rating of the main switch"
    elif kind is HookupKind.INTERLOCK:
        yield "whether a service disconnect stands ahead of the main panel, and its rating"
    else:
        yield "rating of the service disconnect"
    if hookup is not None and job.house.main_panel_fed:
        given = (("main", hookup.panel_main_a), ("bus", hookup.panel_bus_a))
        left_out = [name for name, rated_a in given if rated_a is None]
        yield from ([f"rating of {' and '.join(left_out)} of the main panel"] if left_out else ())
        return
    yield "ratings of main and bus of the main panel"
    if hookup is not None and kind is not HookupKind.CORDS and hookup.grid_breaker_a is None:
        feeder = grid_feeder(job.house)
        most = f" ({feeder.most_a:g} A at most for this feeder)" if feeder is not None else ""
        yield f"breaker ahead of the transfer equipment on the grid side{most}"


def _articles(job: Job) -> Iterator[Block]:
    """Rules that this brief leans on, to be held against the edition in force."""
    yield Heading("Articles to confirm")
    force = job.house.site.code or "not given"
    yield Words(f"Our words, not the code's; numbering as in the edition named. In force: {force}.", "quiet")
    rules = [r for r in code_rules(job.house.system.value) if _bears(job, r)]
    columns = (Column("Article and edition", share=1.5), Column("What it asks", share=4.0))
    yield table(columns, ((Cell(_article(r, force), BOLD), r.text) for r in rules))


def _article(rule: CodeRule, force: str) -> str:
    """The article, the years of the edition whose numbering it has, and its number in a later one in force."""
    years = rule.edition.removeprefix("NEC ")
    told = f"{rule.article} ({years})" if years else rule.article
    in_force, last = _year(force), _year(rule.edition)
    if not in_force or not last or in_force <= last:
        return told
    if in_force == 2023 and rule.article_2023:
        return f"{told}; in 2023 {rule.article_2023.removeprefix('NEC ')}, from memory"
    return f"{told}; number in {in_force} not known to us"


def _year(edition: str) -> int:
    """The last year that an edition names; 0 where it names none."""
    return max((int(y) for y in re.findall(r"\b(?:19|20)\d\d\b", edition)), default=0)


def _bears(job: Job, rule: CodeRule) -> bool:
    """Whether a rule bears on this hookup; conductors have their own table above."""
    kind = job.house.hookup.kind if job.house.hookup is not None else None
    if not rule.article.startswith(("NEC", "IEC", "BS")) or rule.id in _SELDOM:
        return False
    if rule.id in _ONLY_FOR:
        return kind in _ONLY_FOR[rule.id]
    solid = job.house.hookup is not None and job.house.hookup.switched_neutral is False
    if rule.family in ("conductors", "wiring") or (rule.id == "sign_grounding" and solid):
        return False  # a neutral that is not switched is earthed at the service alone
    if kind is HookupKind.CORDS:
        return rule.family in ("generator", "grounding", "process")
    if kind is HookupKind.AUTOMATIC_STANDBY:
        return rule.family != "inlet" and rule.id != "capacity_manual"
    return rule.family != "siting" and rule.id not in _AUTOMATIC


_ONLY_FOR = {
    "frame_as_ground": (HookupKind.CORDS,),  # a set that feeds a building has its own rule
    "emergency_shutdown": (HookupKind.AUTOMATIC_STANDBY,),  # sets on cord and plug are exempt
    "interlock": (HookupKind.INTERLOCK,),
    "sub_panel_neutral": (HookupKind.MANUAL_TRANSFER, HookupKind.BATTERY_INVERTER),
}
_SELDOM = frozenset({"big_set_disconnect", "inlet_100_a", "neutral_permanent_bond"})
_AUTOMATIC = frozenset({"capacity_automatic", "capacity_managed", "dwelling_load", "existing_load"})
