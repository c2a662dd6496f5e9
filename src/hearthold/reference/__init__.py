"""Reference: what other people have published, with where it was read and how far to trust it.

Knows: wiring tables, motors, connectors, generator practice, fuels, food, cold appliances, house
classes, water, outages, costs, upkeep, cautions, code rules and the catalogue of loads.
Values stay in their published unit in the files and become SI in the typed accessors.
May import: hearthold.quantities and hearthold.errors. Physics is a sibling and is never seen here.

Main types: Table and Row (shape.py), Source (hearthold.quantities.source), then one frozen dataclass
a family, such as Load, Conductor, StartKind, Connector, HouseClass, CodeRule, Caution.
Read first: reader.py, then any file in tables/, then docs/reference-data.md.
Try: python -c "from hearthold.reference.ampacity import ampacity_a; print(ampacity_a('10', 'cu', 75))"
"""
