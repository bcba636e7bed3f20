"""What recognition and other speakers do to words: the same meaning in other dress."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import accumulate
from random import Random

from voicenotes.training.corpus import Number, Talk

_FILLERS = ("um,", "uh,", "you know,", "so,", "like,", "okay,")
_PARTS = (
    "hand|arm|elbow|side|leg|shoulder|foot|knee|hip|ankle|wrist|palm|catch|pull|entry|recovery|"
    "stroke|one|goggle|ear|cheek|eye|finger|thumb|forearm|lung|heel|breath"
)
_SIDE_WORD = re.compile(
    rf"\b(?:left|right)(?=[ -](?:{_PARTS})s?\b)"
    r"|(?<=\bthe )(?:left|right)\b|(?<=\byour )(?:left|right)\b|(?<=\bhis )(?:left|right)\b"
    r"|(?<=\bher )(?:left|right)\b|(?<=\bthat )(?:left|right)\b|(?<=\bon )(?:left|right)\b"
    r"|(?<=\bto )(?:left|right)(?=[ ,.])",
    re.IGNORECASE,
)
_SWAPPED = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}
_GENDER = {
    "he": "she", "she": "he", "him": "her", "his": "her", "he's": "she's", "she's": "he's",
    "he'll": "she'll", "she'll": "he'll", "himself": "herself", "herself": "himself",
}  # fmt: skip
_SOUNDS = (
    ("ph", "f"), ("ck", "k"), ("kn", "n"), ("wr", "r"), ("gh", ""), ("sh", "s"), ("th", "t"),
    ("dg", "j"), ("c", "k"), ("q", "k"), ("z", "s"), ("x", "ks"), ("v", "f"), ("d", "t"),
    ("b", "p"), ("g", "k"),
)  # fmt: skip


def sound_key(word: str) -> str:
    """A rough key of how a word sounds: consonants in classes, a mark for a vowel in front."""
    word = re.sub(r"[^a-z]", "", word.lower())
    key = word
    for written, sounded in _SOUNDS:
        key = key.replace(written, sounded)
    bare = re.sub(r"(.)\1+", r"\1", re.sub(r"[aeiouyhw]", "", key))
    return ("a" if key[:1] in set("aeiouyhw") else "") + bare


def swap_sides(text: str) -> str:
    """Left for right and back, where the words stand for sides of the body."""
    return _SIDE_WORD.sub(lambda m: _SWAPPED.get(m.group(0), m.group(0)), text)


def swaps_cleanly(text: str) -> bool:
    """Whether every "left" and "right" of the text stands for a side of the body."""
    text = re.sub(r"^(All |So |And |Okay )?[Rr]ight,", "", text)
    every = len(re.findall(r"\b(?:left|right)\b", text, re.IGNORECASE))
    return every == len(_SIDE_WORD.findall(text))


def swap_gender(text: str) -> str:
    """He for she and back; "her" becomes "his" before a word, "him" elsewhere."""

    def other(match: re.Match[str]) -> str:
        word = match.group(0)
        if word.lower() == "her":
            new = "his" if re.match(r" [a-z]", text[match.end() :]) else "him"
        else:
            new = _GENDER[word.lower()]
        return new.capitalize() if word[0].isupper() else new

    words = "he's|she's|he'll|she'll|himself|herself|he|she|him|his|her"
    return re.sub(rf"\b(?:{words})\b", other, text, flags=re.IGNORECASE)


_OPENS, _CLOSES = "ǀǁ"
"""Letters of no text of ours, put around numbers while its words are varied."""


def marked(text: str, numbers: Sequence[Number]) -> str:
    """The text with marks around its numbers."""
    for number in sorted(numbers, key=lambda number: -number.first):
        inner = text[number.first : number.last]
        text = f"{text[: number.first]}{_OPENS}{inner}{_CLOSES}{text[number.last :]}"
    return text


def unmarked(text: str) -> str:
    """The text without marks."""
    return text.replace(_OPENS, "").replace(_CLOSES, "")


def numbers_in(text: str, numbers: Sequence[Number]) -> tuple[Number, ...]:
    """The numbers where the marks in a varied text are; none where marks were lost or doubled."""
    pieces = re.split(f"([{_OPENS}{_CLOSES}])", text)
    if "".join(pieces[1::2]) != (_OPENS + _CLOSES) * len(numbers):
        return ()
    ends = list(accumulate(len(piece) for piece in pieces[::2]))
    order = sorted(numbers, key=lambda number: number.first)
    return tuple(
        replace(number, first=ends[2 * i], last=ends[2 * i + 1]) for i, number in enumerate(order)
    )


class Mishearing:
    """Writes words as recognition might: like-sounding words, lost endings, broken marks."""

    def __init__(self, talks: Iterable[Talk]) -> None:
        text = " ".join(unit.text.lower() for talk in talks for unit in talk.units)
        groups: dict[str, list[str]] = {}
        for word, count in sorted(Counter(re.findall(r"[a-z]{3,}", text)).items()):
            if count > 1:
                groups.setdefault(sound_key(word), []).append(word)
        self.alike = {
            word: [other for other in group if other != word]
            for group in groups.values()
            if len(group) > 1
            for word in group
        }

    def __call__(self, text: str, random: Random) -> str:
        """The text as it might have come out of a recogniser; often unchanged."""
        if random.random() < 0.5:
            text = " ".join(w for word in text.split() for w in self._word(word, random)) or text
        chance = random.random()
        if chance < 0.08:
            return re.sub(r"[^\w\s'-]", "", text.lower())
        if chance < 0.14:
            return re.sub(r"[.,;:]", "", text)
        return text[:1].lower() + text[1:] if chance < 0.18 else text

    def _word(self, word: str, random: Random) -> list[str]:
        chance, bare = random.random(), re.sub(r"[^a-z]", "", word.lower())
        if chance < 0.025 and bare in self.alike:
            return [word.lower().replace(bare, random.choice(self.alike[bare]))]
        if 0.025 <= chance < 0.04 and len(bare) <= 3:
            return []
        if 0.04 <= chance < 0.05:
            return [word, word]
        if 0.05 <= chance < 0.06:
            return [re.sub(r"s(?=\W*$)", "", word)]
        return [random.choice(_FILLERS), word] if 0.06 <= chance < 0.07 else [word]
