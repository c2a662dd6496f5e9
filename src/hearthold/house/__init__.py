"""The house file: one household in TOML, checked and located, resolved into one frozen `House`.

Knows: sections and keys (site, loads, stores, supply), units at the edge, what the catalogue fills in,
what extension cords reach where they are the way.
May import: reference, physics, quantities, errors.
Main types: House (what leaves this layer), HouseDocument (the file), Load, Circuit, Generator, Hookup.
Read first: document.py, then house.py; reader.py is the way in.
Try: hearthold check examples/tarn_hollow.toml
"""
