"""Lets `python -m curriculum` stand for the console script."""

from curriculum.cli.main import run

if __name__ == "__main__":
    run()
