"""WebVTT against webvtt-py, an independent reader and writer of the format, both ways."""

import html
import io
from pathlib import Path

import webvtt
from hypothesis import given
from hypothesis import strategies as st
from webvtt.models import Timestamp

from voicenotes.transcript import Cue, Doubt, Transcript
from voicenotes.transcript.formats import read_transcript, write_vtt
from voicenotes.transcript.formats.captions import read_captions

WORDS = st.text(
    st.one_of(
        st.sampled_from(list("abz 0123456789<>&;:-\"'/.,!|[]{}#")),
        st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]),
    ),
    max_size=60,
).map(lambda text: " ".join(text.split()))


@st.composite
def transcripts(draw: st.DrawFn) -> Transcript:
    """Cues one after another, to the thousandth of a second, each with words; and doubts."""
    clock, cues, doubts = 0, [], []
    for words in draw(st.lists(WORDS.filter(bool), min_size=1, max_size=6)):
        start = clock + draw(st.integers(0, 4_000_000))
        clock = start + draw(st.integers(1, 20_000))
        cues.append(Cue(start=start / 1000, end=clock / 1000, text=words))
        if draw(st.booleans()):
            dropped = draw(WORDS)
            at = draw(st.sampled_from([start, clock])) / 1000
            doubts.append(Doubt(start=at, end=at, reason="filler", text=dropped))
    return Transcript(name="clip", cues=tuple(cues), duration=clock / 1000, doubts=tuple(doubts))


def times(caption: webvtt.Caption) -> tuple[float, float]:
    return in_seconds(caption.start_time), in_seconds(caption.end_time)


def in_seconds(time: Timestamp) -> float:
    return (
        float(((time.hours * 60 + time.minutes) * 60 + time.seconds) * 1000 + time.milliseconds)
        / 1000
    )


@given(transcripts())
def test_what_is_written_reads_the_same_elsewhere(transcript: Transcript) -> None:
    captions = webvtt.from_string(write_vtt(transcript), strict=True).captions
    assert [times(c) for c in captions] == [(c.start, c.end) for c in transcript.cues]
    assert [html.unescape(c.text) for c in captions] == [c.text for c in transcript.cues]


@given(transcripts())
def test_what_is_written_elsewhere_reads_the_same_here(transcript: Transcript) -> None:
    vtt = webvtt.WebVTT()
    for number, cue in enumerate(transcript.cues, start=1):
        start, end = (str(Timestamp.from_seconds(time)) for time in (cue.start, cue.end))
        text = html.escape(cue.text, quote=False)
        vtt.captions.append(webvtt.Caption(start, end, text, f"cue {number}"))
    out = io.StringIO()
    vtt.write(out)
    assert read_captions(out.getvalue(), "clip.vtt") == transcript.cues


@given(transcripts())
def test_what_is_written_here_reads_the_same_here(transcript: Transcript) -> None:
    assert read_captions(write_vtt(transcript), "clip.vtt") == transcript.cues


def test_a_file_with_everything_the_format_allows(tmp_path: Path) -> None:
    path = tmp_path / "all.vtt"
    path.write_text(
        "\ufeffWEBVTT - a clip\r\nKind: captions\r\n\r\n"
        "STYLE\r\n::cue { color: red }\r\n\r\n"
        "REGION\r\nid:a\r\n\r\n"
        "NOTE one line\r\n\r\n"
        "NOTE\r\nmore\r\nlines\r\n\r\n"
        "first\r\n00:01.500 --> 00:04.000 align:start position:10%\r\n"
        "<v.loud Ada Coach>The <b>left</b> elbow</v>\r\n"
        "<00:00:02.000><c.x>drops</c> &lt;90&deg; &amp; more\r\n\r\n"
        "2\r\n01:00:04.000 --> 01:00:09.250\r\n<i>Kick</i>&nbsp;on\r\n",
        encoding="utf-8",
        newline="",
    )
    here = read_transcript(path).cues
    elsewhere = webvtt.read(str(path)).captions
    assert [(c.start, c.end) for c in here] == [times(c) for c in elsewhere]
    assert [c.text for c in here] == [
        " ".join(html.unescape(c.text).split()) for c in elsewhere
    ]  # fmt: skip
    assert [c.text for c in here] == ["The left elbow drops <90° & more", "Kick on"]
