"""Lets `python -m generator` do what the command does."""

from generator.cli import main

if __name__ == "__main__":
    main(prog_name="springcentre")
