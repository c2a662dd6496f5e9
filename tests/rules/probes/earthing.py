"""Neutral and earth, both systems, both ways."""

from tests.rules.houses import CALM, CALM_230, changed, item, probe

from hearthold.house.supply import HookupKind


def us(neutral, switched, **hookup):
    """The 120/240 V house with one pairing of set and transfer equipment."""
    return changed(
        CALM,
        generator={"neutral": neutral},
        hookup={"switched_neutral": switched, "own_electrode": True, **hookup},
    )


def iec(neutral="bonded", switched=True, **hookup):
    """The 230 V house with one pairing of set and changeover."""
    return changed(CALM_230, generator={"neutral": neutral}, hookup={"switched_neutral": switched, **hookup})


CORDS = changed(
    CALM, hookup={"kind": HookupKind.CORDS, "inlet": None, "feeder": None}, generator={"neutral": "bonded"}
)

PROBES = [
    probe("neutral-two-bonds", us("bonded", False), "manual transfer equipment", "Do not open the set"),
    probe("neutral-no-bond", us("floating", True), "may not open", quiet=us("bonded", True)),
    probe("neutral-unknown", us("unknown", False), "generator.neutral"),
    probe("transfer-neutral-unknown", us("floating", None), "hookup.switched_neutral"),
    probe(
        "gfci-will-trip",
        changed(us("unknown", False), generator={"gfci_receptacles": True}),
        "not known",
        quiet=changed(CALM, generator={"gfci_receptacles": True}),
    ),
    probe(
        "separately-derived-electrode",
        us("bonded", True, own_electrode=None),
        "hookup.own_electrode",
        quiet=us("bonded", True),
    ),
    probe(
        "cords-floating-neutral",
        changed(CORDS, generator={"neutral": "floating"}),
        "trip nothing",
        quiet=CORDS,
    ),
    probe("subpanel-neutral-bonded", us("floating", False, panel_neutral_bonded=True), "bonding screw"),
    probe("own-earth-missing", iec(own_electrode=None), "does not show", severity="act"),
    probe("own-earth-missing", iec(own_electrode=False), "Do not feed the installation", severity="danger"),
    probe("neutral-not-switched", iec(switched=False), "TT", "both poles"),
    probe("changeover-neutral-unknown", iec(switched=None), "TT", "hookup.switched_neutral"),
    probe("earthing-unknown", iec(earthing="unknown"), "hookup.earthing"),
    probe("generator-neutral-floats", iec(neutral="floating"), "do not trip"),
    probe("generator-neutral-unknown", iec(neutral="unknown"), "generator.neutral"),
    probe("two-earth-links", iec(switched=False, earthing="TN-S"), "TN-S"),
    probe(
        "no-residual-current-device",
        item(CALM_230, "circuits", "sockets", protection=()),
        "Sockets circuit",
        "1,667 ohm",
        "200 ohm",
    ),
]
