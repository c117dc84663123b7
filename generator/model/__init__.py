"""The tool that the parameters describe."""
