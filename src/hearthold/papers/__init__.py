"""Papers: what people hold in their hands.

Run sheet, electrician's brief, shopping and cost list, plan report, drill sheet.

Knows words, charts, diagrams and pages; computes nothing that a plan does not already say.
May import: plan and everything below it. Never: faces.
Main types: `make.Paper`, `job.Job`, `diagram.graph.Diagram`. Read first: make.py, then runsheet.py.
Try: hearthold papers examples/tarn_hollow.toml --out papers
"""
