"""Whatever job the reader takes, the schema that is shipped for others allows."""

import pytest
from amounts import examples
from hypothesis import given
from jsonschema import Draft202012Validator
from strategies import jobs, large_jobs, mangled_jobs, spoiled_jobs
from thickset.ground.job import document
from thickset.ground.job.schema import schema

VALIDATOR = Draft202012Validator(schema())


def allowed(job: object) -> bool:
    return VALIDATOR.is_valid(job)


@examples(60)
@given(jobs())
def test_a_job_is_allowed(job: dict) -> None:
    assert allowed(job)


@examples(20)
@given(large_jobs(20))
def test_a_large_job_is_allowed(job: dict) -> None:
    assert allowed(job)


@examples(60)
@given(spoiled_jobs())
def test_a_job_with_a_spoiled_length_is_allowed_where_it_is_read(spoiled: tuple[dict, str, object]) -> None:
    assert document.read(spoiled[0]).problems or allowed(spoiled[0])


@pytest.mark.slow
@examples(120)
@given(mangled_jobs())
def test_a_mangled_job_is_allowed_where_it_is_read(job: object) -> None:
    assert document.read(job).problems or allowed(job)
