from pathlib import Path

import pysubs2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from voicenotes.errors import InputError
from voicenotes.transcript import Cue, Doubt, Transcript
from voicenotes.transcript.formats import read_transcript, write_vtt
from voicenotes.transcript.formats.captions import read_captions

SRT = """1
00:00:01,000 --> 00:00:04,500
{\\an8}<i>The left</i> elbow
<font color="#fff">drops</font>

2
00:00:05,000 --> 00:00:07,000
and I count
31

3
01:00:00,000 --> 01:00:01,000
Fish &amp; chips later
"""


def texts(cues: tuple[Cue, ...]) -> list[str]:
    return [cue.text for cue in cues]


def test_subrip_loses_its_numbers_and_tags_but_no_words() -> None:
    cues = read_captions(SRT, "clip.srt")
    assert texts(cues) == ["The left elbow drops", "and I count 31", "Fish & chips later"]
    assert [(cue.start, cue.end) for cue in cues] == [(1, 4.5), (5, 7), (3600, 3601)]


def test_subrip_times_are_those_of_an_independent_reader() -> None:
    """pysubs2 reads the same times from a well-formed file."""
    theirs = [(e.start / 1000, e.end / 1000) for e in pysubs2.SSAFile.from_string(SRT)]
    assert [(cue.start, cue.end) for cue in read_captions(SRT, "clip.srt")] == theirs


def test_cues_without_empty_lines_between_them_stay_apart() -> None:
    text = "1\n00:01,000 --> 00:02,000\nKick\n2\n00:03,000 --> 00:04,000\nPull\n"
    assert texts(read_captions(text, "x")) == ["Kick", "Pull"]


def test_words_after_an_empty_line_belong_to_the_cue_before() -> None:
    text = (
        "WEBVTT\n\n00:01.000 --> 00:02.000\nKick\n\nfrom the hip\n\n2\n00:03.000 --> 00:04.000\nx"
    )
    assert texts(read_captions(text, "x")) == ["Kick from the hip", "x"]


def test_comments_styles_and_metadata_are_not_speech() -> None:
    text = (
        "WEBVTT\nLanguage: en\n\nSTYLE\n::cue {}\n\nNOTE\nfilmed by Jo\n\n"
        "a\n00:01.000 --> 00:02.000\nKick\n\nNOTE end\n"
    )
    assert texts(read_captions(text, "x")) == ["Kick"]


def test_a_smaller_sign_is_no_tag() -> None:
    text = "WEBVTT\n\n00:01.000 --> 00:02.000\nan angle <90 is > fine, <b>so</b>\n"
    assert texts(read_captions(text, "x")) == ["an angle <90 is > fine, so"]


@pytest.mark.parametrize(
    "line",
    [
        "00:00:0x.000 --> 00:00:02.000",
        "00:00:01.000 -->",
        "--> 00:00:02.000",
        "00:75:00.000 --> 00:76:00.000",
        "00:01.000 --> 00:61.000",
        "00:00:01,000 -> 00:00:02,000",
        "1.5 --> 2.5",
    ],
)
def test_a_broken_time_names_its_line(line: str) -> None:
    with pytest.raises(InputError, match=r"^clip.vtt, line 6: broken time") as error:
        read_captions(
            f"WEBVTT\n\n00:00.000 --> 00:00.500\na\n\n{line}\nKick\n\n"
            "01:00:05.000 --> 01:00:06.000\nb\n",
            "clip.vtt",
        )
    assert repr(line) in error.value.what
    assert "00:00:05.000 --> 00:00:07.500" in error.value.do


def test_a_cue_that_ends_before_it_starts_is_named() -> None:
    with pytest.raises(InputError) as error:
        read_captions("1\n00:00:05,000 --> 00:00:03,000\nKick\n", "clip.srt")
    assert str(error.value) == (
        "clip.srt, line 2: cue 1 ends at 00:00:03.000, before it starts at 00:00:05.000. "
        "Mend its times."
    )


def test_a_cue_that_starts_before_the_last_one_is_named() -> None:
    text = "1\n00:05,000 --> 00:06,000\nKick\n\n2\n00:04,000 --> 00:08,000\nPull\n"
    with pytest.raises(InputError) as error:
        read_captions(text, "clip.srt")
    assert "line 6: cue 2 starts at 00:00:04.000, before the one above it" in str(error.value)


def test_an_arrow_in_speech_is_speech() -> None:
    text = "1\n00:05,000 --> 00:06,000\n1:40 → 1:35 and left --> right\n"
    assert texts(read_captions(text, "x")) == ["1:40 → 1:35 and left --> right"]


def test_cues_of_no_length_get_one_when_written() -> None:
    transcript = Transcript(name="x", duration=1, cues=(Cue(start=1, end=1, text="a\n\nb"),))
    assert "00:00:01.000 --> 00:00:01.001\na b\n" in write_vtt(transcript)


def test_what_was_dropped_stands_in_comments_with_its_reason() -> None:
    transcript = Transcript(
        name="x",
        duration=9,
        cues=(Cue(start=1, end=2, text="Left elbow."), Cue(start=8, end=9, text="Good.")),
        doubts=(
            Doubt(start=3, end=4, reason="no_speech", text="Thank you --> bye"),
            Doubt(start=9, end=12, reason="cut_off"),
        ),
    )
    written = write_vtt(transcript)
    assert [block for block in written.split("\n\n") if block.startswith("NOTE")] == [
        "NOTE 00:00:03.000 to 00:00:04.000: no speech: Thank you --&gt; bye",
        "NOTE 00:00:09.000 to 00:00:12.000: cut off\n",
    ]
    assert written.index("Left elbow") < written.index("no speech") < written.index("Good.")


def test_guessed_times_are_marked_when_written() -> None:
    transcript = Transcript(name="x", duration=1, timed=False, cues=())
    assert "NOTE The times are guessed" in write_vtt(transcript)


@given(
    st.lists(
        st.one_of(
            st.sampled_from(
                ["WEBVTT", "", "1", "NOTE", "00:01.000 --> 00:02.000", "-->", "[0:14] a"]
            ),
            st.text(max_size=20),
        ),
        max_size=12,
    )
)
def test_any_file_is_read_or_refused_in_one_line(
    tmp_path_factory: pytest.TempPathFactory, lines: list[str]
) -> None:
    path: Path = tmp_path_factory.mktemp("any") / "clip.txt"
    path.write_bytes("\n".join(lines).encode("utf-8", "surrogatepass"))
    try:
        transcript = read_transcript(path)
    except InputError as refused:
        message = str(refused)
        lines_shown = message.splitlines()
    else:
        lines_shown = [cue.text for cue in transcript.cues[:1]]
        assert transcript.duration >= transcript.cues[-1].end
    assert len(lines_shown) == 1
