"""Rules: what a careful electrician and a careful neighbour would say about this house, with sources.

Knows: one row a rule in tables/<family>.toml (severity, wording, limits, source, edition, caution) and one
small function a rule in families/<family>.py that says where it applies and with which figures.
May import: sizing, house, physics, reference, quantities, errors. Never engine (its sibling), never plan.
Main types: Case (house, conditions, today), RuleRow, Hit, Finding, Severity.
Read first: check.py, then tables/monoxide.toml beside families/monoxide.py.
Printed: docs/rules.md.
Try: python -m hearthold.rules.page | head -40
"""
