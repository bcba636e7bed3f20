"""Make the example clip again: ``python examples/make_clip.py``.

Needs the project's ``demo`` extra. Reads narration.txt, speaks it, draws a swimmer who shows
what is talked about, and writes clip.mp4; then puts the times of the spoken lines into
narration.gold.json, where each entry names the lines that say it.
"""

import json
from pathlib import Path
from typing import Any

from studio.film import write_film
from studio.script import read_script
from studio.voice import Narration, speak

HERE = Path(__file__).parent


def main() -> None:
    """Make the clip, then time the annotation."""
    narration = speak(read_script(HERE / "narration.txt"))
    time_annotation(HERE / "narration.gold.json", narration)
    write_film(narration, HERE / "clip.mp4")


def time_annotation(path: Path, narration: Narration) -> None:
    """Set every entry's ``at`` from its ``lines``, and the list of spoken lines."""
    gold: dict[str, Any] = json.loads(path.read_text("utf-8"))
    when = {s.line.id: [round(s.start, 2), round(s.end, 2)] for s in narration.spoken}
    for group in ("findings", "figures", "drills", "traps"):
        for entry in gold[group]:
            entry["at"] = [when[line] for line in entry["lines"]]
    gold["off_topic"] = [when[line] for line in gold["off_topic_lines"]]
    gold["duration"] = round(narration.duration, 2)
    gold["lines"] = [
        {"id": s.line.id, "at": when[s.line.id], "text": s.line.text} for s in narration.spoken
    ]
    path.write_text(_laid_out(gold), "utf-8")


def _laid_out(gold: dict[str, Any]) -> str:
    """JSON with one entry a line, to be read and edited by people."""
    parts = []
    for key, value in gold.items():
        if isinstance(value, list):
            entries = ",\n".join(f"  {json.dumps(entry, ensure_ascii=False)}" for entry in value)
            parts.append(f' "{key}": [\n{entries}\n ]')
        else:
            parts.append(f' "{key}": {json.dumps(value, ensure_ascii=False)}')
    return "{\n" + ",\n".join(parts) + "\n}\n"


if __name__ == "__main__":
    main()
