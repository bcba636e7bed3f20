"""The fit of the signs' weights, on cases whose answer is plain."""

import pytest

from voicenotes.training.figures import Case, fit


def test_signs_that_tell_right_from_wrong_get_the_weight() -> None:
    right = {"none": 1.0, "unit": 1.0, "noise": 1.0}
    wrong = {"none": 1.0, "noise": 1.0}
    weights = fit([Case((right, wrong), 0)] * 20 + [Case((wrong,), None)] * 20)
    assert weights["unit"] > 1 > 0 > weights["none"]
    assert weights["unit"] + weights["none"] + weights["noise"] > 0
    assert weights["none"] + weights["noise"] < 0


@pytest.mark.parametrize("figures", [3, 9])
def test_a_lone_sign_comes_to_the_log_of_the_odds(figures: int) -> None:
    """With one sign, logistic regression gives ln(odds) (textbook), less a little smoothing."""
    from math import log

    many = [Case(({"none": 1.0},), 0)] * figures * 100 + [Case(({"none": 1.0},), None)] * 100
    assert fit(many)["none"] == pytest.approx(log(figures), abs=0.02)
