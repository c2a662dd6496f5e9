"""`python -m hearthold` is the command line."""

from hearthold.faces.cli.main import run

if __name__ == "__main__":
    run()
