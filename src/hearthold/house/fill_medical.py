"""Medical needs with the gaps filled: how long the charger of an appliance's own battery takes."""

from __future__ import annotations

from hearthold.house.loads import Assumption
from hearthold.house.site import Medical
from hearthold.reference.reader import table


def fill_medical(needs: tuple[Medical, ...]) -> tuple[tuple[Medical, ...], list[Assumption]]:
    """The needs with a recharge time wherever there is a battery, and the times that were assumed."""
    notes: list[Assumption] = []
    return tuple(_filled(need, notes) for need in needs), notes


def _filled(need: Medical, notes: list[Assumption]) -> Medical:
    if need.own_battery_s <= 0.0 or need.recharge_s is not None:
        return need
    row = table("house_defaults").row("own_battery_recharge")
    low, usual, high = (row.number(f"{end}_ratio") * need.own_battery_s for end in ("low", "typical", "high"))
    notes.append(
        Assumption(
            f"medical {need.load}: recharge", usual / 3600.0, "h", low / 3600.0, high / 3600.0, row.source()
        )
    )
    return need.model_copy(update={"recharge_s": usual})
