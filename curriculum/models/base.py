"""What all models share: frozen, strict, no unknown keys."""

import re
from typing import Annotated

from pydantic import BaseModel, ConfigDict, StringConstraints

ID_PATTERN = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
"""An id: lower-case letters and digits in words joined by single hyphens."""

Id = Annotated[str, StringConstraints(pattern=rf"^{ID_PATTERN.pattern}$", max_length=60)]
Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=300)]


class Model(BaseModel):
    """A value: cannot be changed, refuses keys that it does not know and types that do not fit."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", strict=True, populate_by_name=True, serialize_by_alias=True
    )
