"""The base of every record that travels from one step to the next."""

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A frozen record that refuses unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)
