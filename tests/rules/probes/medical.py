"""Medical and vital loads, both ways."""

from tests.rules.houses import CALM, changed, item, probe

from hearthold.house.loads import Priority
from hearthold.house.site import Medical


def needs(load="lamp", **values):
    """The calm house with one medical need on a load."""
    need = Medical.model_validate({"load": load, "person": "Ines", "hours_per_day": 8, **values})
    return changed(CALM, medical=(need,))


NIGHT_OFF = {"run_at_night": False}
OWN = needs(own_battery="10 h")

PROBES = [
    probe("vital-not-fed", item(CALM, "loads", "range", priority=Priority.VITAL), "Range", "Range circuit"),
    probe("medical-no-battery", needs(), "Ines, 8 hours a day", quiet=OWN),
    probe(
        "medical-battery-short",
        changed(needs(own_battery="3 h"), wishes=NIGHT_OFF),
        "battery for 3 h",
        "8 h",
        quiet=changed(OWN, wishes=NIGHT_OFF),
    ),
    probe(
        "oxygen", item(CALM, "loads", "lamp", name="Oxygen concentrator"), "Oxygen concentrator", "cylinders"
    ),
    probe("register-medical", OWN, "Lamps"),
    probe("vital-on-rough-power", changed(OWN, generator={"kind": "portable"}), "big set", quiet=OWN),
]
