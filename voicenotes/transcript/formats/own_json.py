"""The tool's own transcript files: the Transcript record as JSON."""

import json
import math
from typing import NoReturn

from pydantic import ValidationError

from voicenotes.errors import InputError
from voicenotes.transcript.model import Transcript

_REMEDY = "give a transcript.json that the tool wrote, or WebVTT, SubRip or text"


def read_own_json(text: str, where: str) -> Transcript:
    """The transcript in a JSON text; raises InputError, with the line or field, otherwise."""
    try:
        transcript = Transcript.model_validate(json.loads(text, parse_constant=_refuse))
    except json.JSONDecodeError as error:
        here = f"{where}, line {error.lineno}"
        raise InputError(f"is broken JSON ({error.msg.lower()})", here, _REMEDY) from error
    except ValidationError as error:
        first = error.errors()[0]
        field = ".".join(str(part) for part in first["loc"])
        problem = f"{field}: {first['msg']}" if field else first["msg"]
        raise InputError(f"is no transcript ({problem})", where, _REMEDY) from error
    except (RecursionError, ValueError) as error:
        raise InputError(f"is no transcript ({error})", where, _REMEDY) from error
    if not any(cue.text.strip() for cue in transcript.cues):
        raise InputError("has no cues with words", where, _REMEDY)
    longest = max(transcript.duration, *(cue.end for cue in transcript.cues))
    if not math.isfinite(longest):
        raise InputError("has a time without end", where, "mend its times")
    return transcript.model_copy(update={"duration": longest})


def _refuse(constant: str) -> NoReturn:
    raise ValueError(f"{constant} is no time")
