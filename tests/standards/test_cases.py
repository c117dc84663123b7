"""The approximation that the published figures are compared with."""

from __future__ import annotations

import pytest

from tests.cases import Printed, cases


def test_half_of_the_last_digit_is_allowed_and_no_more() -> None:
    assert Printed("1.314") == 1.3144
    assert Printed("1.314") != 1.3146
    assert 1.3144 == Printed("1.314")  # noqa: SIM300 - the other way round is what is tested
    assert Printed("1.46e3") == 1463
    assert Printed("1460") != 1463
    assert Printed("10.0") != 10.06
    assert Printed("1") != "1"


def test_nothing_equals_what_is_not_a_number() -> None:
    assert Printed("1") != float("nan")
    with pytest.raises(ValueError, match="not a printed figure"):
        Printed("nan")


def test_a_case_tells_numbers_from_names() -> None:
    case = cases("fit_sizes")[0]
    assert case.inputs == {"zone": "H7", "diameter_mm": 10.0, "end": "upper"}
    assert str(case) == "H7-10.0-upper-10.015"
