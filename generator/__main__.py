"""Starts the command line: `springcentre`, or `python -m generator`."""

from generator.loading import loading

with loading():
    from generator.cli.main import main

if __name__ == "__main__":
    main(prog_name="springcentre")
