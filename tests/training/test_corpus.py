from voicenotes.training.corpus import Talk, Unit, narration, resplit


def talk(*texts: str) -> Talk:
    units = [Unit(text, lines=(f"l{i}",)) for i, text in enumerate(texts)]
    return Talk("t01", units)


def test_labels_follow_the_words_when_lines_end_in_the_wrong_place() -> None:
    said = talk("The elbow is dropping there on the left and the", "kick is fine. Good work.")
    said.units[0].true = {"fault:elbow_drops": {("left", "moderate")}}
    said.units[0].mention = {"fault:elbow_drops"}
    first, second = resplit(said).units
    assert first.text == "The elbow is dropping there on the left and the kick is fine."
    assert "fault:elbow_drops" in first.true
    assert not second.true
    assert not second.maybe


def test_which_half_of_a_line_says_it_is_left_open() -> None:
    said = talk("Look at the elbow there. It is dropping.")
    said.units[0].true = {"fault:elbow_drops": {(None, "moderate")}}
    said.units[0].mention = {"fault:elbow_drops"}
    pieces = resplit(said).units
    assert len(pieces) == 2
    assert all(piece.maybe == {"fault:elbow_drops"} and not piece.true for piece in pieces)


def test_a_trap_is_a_mention_with_its_status_and_never_true() -> None:
    read = narration(
        {
            "id": "t01",
            "lines": [{"id": "l1", "text": "That is not a scissor kick."}],
            "gold": {
                "findings": [], "figures": [], "drills": [], "causes": [], "off_topic": [],
                "traps": [{"at": ["l1"], "why": "negated", "must_not": ["fault:scissor_kick"]}],
            },
        }
    )  # fmt: skip
    assert read.units[0].status == "denied"
    assert read.units[0].mention == {"fault:scissor_kick"}
    assert not read.units[0].true
