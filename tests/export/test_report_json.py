import json
from pathlib import Path

import pytest

from generator.checks.run import run_checks
from generator.documents.report import report_data
from generator.errors import ExportError
from generator.export.report_json import json_text, write_json
from tests.tools import tool


def test_file_reads_back_as_it_was(tmp_path: Path) -> None:
    made = tool({"title": 'Ø8 "follower" \\ #1'})
    data = report_data(made, run_checks(made))
    path = tmp_path / "report.json"
    write_json(data, path)
    text = path.read_bytes().decode("utf-8")
    assert json.loads(text, parse_constant=pytest.fail) == data
    assert text.endswith("}\n")
    assert "Ø8" in text


def test_no_number_that_is_not_finite_is_written() -> None:
    with pytest.raises(ValueError, match="Out of range"):
        json_text({"value": float("nan")})


def test_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(ExportError, match=r"report\.json"):
        write_json({}, tmp_path / "missing" / "report.json")
