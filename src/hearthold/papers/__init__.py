"""Papers: what people hold in their hands. Run sheet, electrician's brief, shopping list, plan report, drill sheet.

Knows words, charts, diagrams and pages; computes nothing that a plan does not already say.
May import: plan and everything below it. Never: faces.
Main types: `paper.Paper`, `diagram.graph.Diagram`. Read first: make.py, then runsheet.py; the look is in look.toml.
Try: hearthold papers examples/tarn_hollow.toml --out papers
"""
