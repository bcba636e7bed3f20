"""Makes figures of what was said: observation and target together, repeats once."""

from voicenotes.notes import Figure, SetAside
from voicenotes.reading.figures_said import Said
from voicenotes.reading.text import Narration

REACH = 8
"""Sentences within which a target belongs to an observation."""


def join_figures(
    narration: Narration, said: list[Said]
) -> tuple[tuple[Figure, ...], tuple[SetAside, ...]]:
    entries: list[dict] = []
    aside: list[SetAside] = []
    for one in said:
        q = one.quantity
        mention = narration.mention(narration.doc[q.first : q.last])
        sent = narration.sentences[one.sentence]
        mention = mention.model_copy(update={"quote": sent.text})
        if one.status != "true":
            aside.append(
                SetAside(
                    kind="figure",
                    code=one.measure.code,
                    side=one.side,
                    reason=one.status,
                    mention=mention,
                )
            )
            continue
        _add(entries, one, mention)
    figures = []
    for e in entries:
        figures.append(
            Figure(
                measure=e["measure"],
                side=e["side"],
                observed=e["observed"],
                target=e["target"],
                unit=e["unit"],
                mentions=tuple(e["mentions"]),
                converted=e["converted"],
            )
        )
    return tuple(figures), tuple(aside)


def _add(entries, one, mention):
    iv = one.value.interval
    for e in reversed(entries):
        if e["measure"] != one.measure.code:
            continue
        if e[one.role] == iv and (e["side"] == one.side or None in (e["side"], one.side)):
            e["mentions"].append(mention)
            e["side"] = e["side"] or one.side
            return
    other = "target" if one.role == "observed" else "observed"
    open_ = [
        e
        for e in entries
        if e["measure"] == one.measure.code
        and e[one.role] is None
        and e[other] is not None
        and one.sentence - e["last"] <= REACH
        and (e["side"] == one.side or None in (e["side"], one.side))
    ]
    if open_:
        e = open_[-1]
        apart = {x["side"] for x in open_}
        if not (one.role == "target" and len(apart) > 1 and one.side in (None, "both")):
            e[one.role] = iv
            e["mentions"].append(mention)
            e["side"] = e["side"] or one.side
            e["last"] = one.sentence
            return
    entries.append(
        {
            "measure": one.measure.code,
            "side": one.side,
            "observed": None,
            "target": None,
            "unit": one.measure.unit,
            "mentions": [mention],
            "converted": one.value.converted,
            "last": one.sentence,
            one.role: iv,
        }
    )
