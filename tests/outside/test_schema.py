"""review.json against its published schema, by jsonschema, an independent validator."""

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.feedback.sample import sample_review
from voicenotes.feedback import review_schema
from voicenotes.feedback.data import review_json
from voicenotes.review import Review


@pytest.fixture(scope="module")
def validator() -> Draft202012Validator:
    schema = json.loads(json.dumps(review_schema()))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def written(review: Review) -> Any:
    return json.loads(review_json(review))


def test_the_schema_says_what_it_is() -> None:
    schema = review_schema()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$id"]
    assert schema["title"]


def test_a_full_review_is_valid(validator: Draft202012Validator) -> None:
    assert not list(validator.iter_errors(written(sample_review())))


def test_an_empty_review_is_valid(validator: Draft202012Validator) -> None:
    review = sample_review()
    lists = [name for name, value in review if isinstance(value, tuple)]
    plan = review.plan.model_copy(update={"sessions": (), "remarks": ()})
    empty = review.model_copy(update={**dict.fromkeys(lists, ()), "plan": plan})
    assert not list(validator.iter_errors(written(empty)))


def _set(path: tuple[str | int, ...], value: object) -> Callable[[Any], None]:
    def change(data: Any) -> None:
        for step in path[:-1]:
            data = data[step]
        data[path[-1]] = value

    return change


@pytest.mark.parametrize(
    "change",
    [
        _set(("findings", 0, "kind"), "guess"),
        _set(("findings", 0, "mentions", 0, "start"), "0:04"),
        _set(("figures", 0, "observed"), [1, 2, 3]),
        _set(("figures", 0, "target"), 90),
        _set(("drills", 0, "trains"), []),
        _set(("corrections", 0, "rank"), 1.5),
        _set(("causes", 0), ["head_lifts"]),
        _set(("extra",), 1),
        lambda data: data.pop("verdicts"),
    ],
)
def test_a_changed_review_is_not(
    validator: Draft202012Validator, change: Callable[[Any], None]
) -> None:
    data = copy.deepcopy(written(sample_review()))
    change(data)
    assert list(validator.iter_errors(data))
