"""Permit and people, both ways."""

from tests.rules.houses import CALM, changed, probe

PROBES = [
    probe("no-permit", changed(CALM, hookup={"permit": "no"}), "manual transfer equipment has no permit"),
    probe("permit-unknown", changed(CALM, hookup={"permit": "unknown"}), "hookup.permit"),
    probe("installed-by-household", changed(CALM, hookup={"installed_by": "household"}), "line worker"),
    probe("installer-unknown", changed(CALM, hookup={"installed_by": "unknown"}), "hookup.installed_by"),
    probe("not-installed-yet", changed(CALM, hookup={"installed": False}), "is not installed"),
    probe("utility-notice", CALM, "big set", quiet=changed(CALM, generator=None)),
]
