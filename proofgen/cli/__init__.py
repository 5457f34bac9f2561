"""The command line: click only."""

from proofgen.cli.program import main

__all__ = ["main"]
