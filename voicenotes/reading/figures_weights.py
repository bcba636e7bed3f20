"""How much each sign speaks for a number being a figure of a measure."""

Signs = dict[str, float]
"""Signs by name, each from 0 (not there) to 2."""

WEIGHTS: Signs = {
    # words that name the measure: in the sentence (sum, nearest, in the number's own stretch)
    "names": 0.6,
    "names_near": 1.4,
    "names_local": 0.3,
    "beside": 2.0,  # right beside the number: "rate's 124", "forty degrees of roll"
    "hints": 1.9,
    # words of the sentences before: one, two, three back; the last thing named at all
    "names_1": 0.2,
    "names_2": -0.3,
    "names_3": 0.2,
    "latest": 1.2,
    "intro": 0.5,  # named in the sentence before, which had no number of its own
    "hints_back": 0.4,
    # measured in this sentence already, or so many sentences back; beaten by another name
    "topic_0": 0.8,
    "topic_1": 0.4,
    "topic_2": -0.7,
    "topic_3": -1.5,
    "topic_beaten": 1.5,
    "like_last": 0.3,  # of the size of the last value of the measure
    "asked_like": 2.5,  # the same, and asked for: a target after its observation
    "sided_topic": 1.0,  # left or right beside it: the other side after the first
    # the unit: of this measure alone, of several, of several but only here of a usual size
    "unit_own": 4.0,
    "unit_shared": 2.3,
    "unit_alone": 0.8,
    "dim_deg": 0.6,
    "dim_cm": 0.6,
    "dim_s": 0.3,
    "dim_m": -0.1,
    "dim_count": -1.0,
    "dim_rate": 1.8,
    "scale_alone": -0.5,  # "ten out of ten" with nothing said of effort
    # no unit at all
    "bare": 2.2,
    "bare_cm": -1.6,
    "bare_m": -2.9,
    "bare_s": -1.0,
    "bare_small": -1.8,
    "small_framed": 0.7,
    "framed": 0.1,
    "loose_det": -2.0,  # "the two", "your four"
    "counted": -2.9,  # a noun follows that is no unit
    # size and form
    "usual": 1.8,
    "impossible": -3.8,
    "every": 0.8,
    "joined": 0.2,
    "range": 1.7,
    "limit": 0.9,
    "alone": 1.1,
    "asked": -0.8,
    "seen": -0.3,
    # times and distances
    "time_fits": 0.3,
    "time_odd": -1.0,
    "time_form": 2.1,
    "clock_fits": 1.0,
    "distance_known": 1.0,
    "distance_beside": 2.1,
    "none": -4.8,  # every number starts from here
}
"""Fitted by logistic regression on annotated narrations and rounded; the weights of "beside",
"unit_own", "usual", "asked_like" and "bare_small" were set by hand. Above 0 a number is a
figure."""


def weigh(signs: Signs) -> float:
    """The sum of all signs by their weights."""
    return sum(WEIGHTS[name] * value for name, value in signs.items())
