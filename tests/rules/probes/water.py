"""Water in and water out, both ways."""

from tests.rules.houses import CALM, changed, item, probe

from hearthold.house.stores import Pit

LITRE_M3 = 0.001


def pit(kind="sump", load="lamp", hours=20.0):
    """The calm house with a pit that fills in so many hours."""
    store = Pit("pit", "Pit", kind, load, 100 * LITRE_M3, 20 * LITRE_M3, 0.1 / (hours * 3600.0), LITRE_M3)
    return changed(CALM, pits=(store,))


DRY = item(CALM, "circuits", "well", panel="main")

PROBES = [
    probe("well-pump-not-fed", DRY, "Well circuit"),
    probe("no-stored-water", changed(CALM, water={"stored_m3": 0.0}), "1 gal (3.79 L) a person"),
    probe(
        "stored-water-short",
        changed(DRY, outages={"plan_for_s": 240 * 3600.0}),
        "15.9 gal (60 L)",
        "20 gal (75.7 L)",
        quiet=DRY,
    ),
    probe("pit-pump-not-fed", pit(load="range"), "emptied by Range", "20 h", quiet=pit()),
    probe("pit-overflows-between-spells", pit(hours=1.0), "60 min", "2 h", quiet=pit()),
    probe("sewage-stop-using-water", pit("effluent"), "26.4 gal (100 L)", quiet=pit(), severity="note"),
    probe("sewage-stop-using-water", pit("sewage", "range"), "26.4 gal (100 L)", severity="act"),
    probe(
        "well-pump-needs-the-machine",
        changed(CALM, water={"drawdown_m3": 0.02, "use_day_m3": 0.2}),
        "5.28 gal (20 L)",
        "10 %",
        quiet=changed(CALM, water={"drawdown_m3": 0.15, "use_day_m3": 0.2}),
    ),
]
