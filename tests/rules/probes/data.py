"""What is not known, both ways."""

from dataclasses import replace

from tests.rules.houses import CALM, changed, item, probe, rating

from hearthold.house.loads import Assumption
from hearthold.quantities.source import Source, Standing

GUESS = Source("a guess", Standing.ASSUMED)
START = Assumption("load well_pump: start_va", 3000.0, "VA", 3000.0, 12000.0, GUESS)
NARROW = replace(START, high=3100.0)

PROBES = [
    probe(
        "not-checked",
        item(CALM, "circuits", "rooms", wire="2.5 mm2"),
        "2.5 mm2",
        "A breaker too large for its wire",
    ),
    probe(
        "assumed-running-decides",
        item(rating(CALM, running_w=1800.0), "loads", "lamp", high_w=400.0),
        "1,760 W",
        "1,800 W",
        "1,910 W",
        "Lamps",
        quiet=changed(rating(CALM, running_w=2500.0)),
    ),
    probe(
        "assumed-start-decides",
        changed(CALM, assumptions=(START,)),
        "3,000 VA",
        "12,000 VA",
        quiet=changed(CALM, assumptions=(NARROW,)),
    ),
    probe(
        "values-assumed",
        changed(CALM, assumptions=(START,)),
        "your plates: 1.",
        quiet=changed(CALM, assumptions=()),
    ),
    probe("wiring-code-unknown", changed(CALM, site={"code": " "}), "site.code"),
    probe("chain-part-unknown", changed(CALM, hookup={"transfer_a": None}), "transfer device"),
    probe("legs-assumed", item(CALM, "circuits", "rooms", leg=None), "Rooms circuit"),
]
