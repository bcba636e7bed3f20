"""How coaches ask for a set, turn one down, or go over to the next: words of general English.

Every pattern is looked for in words in lower case with single spaces between and around them, and
numbers in digits.
"""

import re


def said(*ways: str) -> re.Pattern[str]:
    """A pattern for any of some ways to say a thing, as whole words."""
    return re.compile(" (?:" + "|".join(ways) + ") ")


def starts(*ways: str) -> re.Pattern[str]:
    """The same, at the start and after small words ("so then ...")."""
    small = r"(?:so|and|then|ok|okay|right|now|well|,|\.|\||the|your|a|my|in)"
    return re.compile(rf"^ (?:{small} )*?(?:" + "|".join(ways) + ")")


OPENS = starts(
    r"(?:first|second|third|fourth|fifth|sixth|next|final|then|after|finally)\b",
    r"last\b(?! (?:block|week|month|year|time|session|season|night|summer|winter|spring))",
    r"number (?:\d|one)\b",
    r"(?:step|drill|exercise|part|stage|job|chore|task|week) (?:\d|one)\b",
    r"(?:start|begin|finish|end|homework|instead)",
    r"(?:one|\d) [,:.]",
)
"""The next item of a list starts."""

ASKS = said(
    r"i (?:would|'d|d|'ll) (?:like|have|get|go|put|give|do|start|begin|suggest)",
    r"i (?:would|'d|d) (?:prescribe|recommend)",
    r"i (?:want|need|ask|recommend|would|give)",
    r"(?:give|have|get) (?:me|you|him|her|them)",
    r"let (?:'s|us)|lets|try|put in|please|perhaps|homework|instead",
    r"(?:going to|gon na) (?:do|swim|have)|'s going to",
    r"you (?:do|swim|will|can|take|make|put|start|use|might|could)",
    r"we (?:do|take|will|use|'ll)",
    r"(?:he|she) (?:does|swims|kicks|can)",
    r"what helps|job is|would be|(?:will|would) do|is (?:plenty|enough|heaps)",
    r"(?<! to )do \d+",
)
"""The swimmer is asked to do something."""

PUTS = re.compile(
    r"^ (?:and |so |then )*(?:you|we) "
    r"(?:go|make|lie|stand|press|kick|hold|breathe|push|scull|float) "
)
"""A sentence that tells the steps of a drill ("you lie on your back ...")."""

TELLS = said(
    r"i (?:would|'d|d) (?:like|have|get|give) (?:you|him|her)",
    r"i (?:want|need) (?:you|him|her)",
    r"(?:give|giving) (?:you|him|her)",
    r"do (?:some|more)|a bit of|some more|put (?:in|some)|let 's (?:do|have)|add (?:in )?some",
    r"homework is|for homework",
)
"""Whatever drill is named beside it is prescribed, with or without an amount."""

HEDGES = said(r"\?|but|if|normally|usually|though|thought|until|till|once")
"""What takes the edge off a prescription."""

SUPPOSES = said(
    r"in another life|one day|in the new year|down the line|should the|were you",
    r"had you (?:been|had)",
    r"(?<!as )if (?:you|we|this|he|she|it) (?:was|were|had)",
    r"might have (?:given|set)",
)
"""A set belongs to what might be."""

REFUSED_BEFORE = said(r"nobody (?:'s|is) (?:asking|telling)", r"no need to")
MEANT_ONCE = said(r"(?:was|were) (?:going|about) to")
REFUSED_LATER = said(
    r"i (?:would|do|will|wo|am|'d|ca) ?(?:n't|not)(?! mind| care)|i never",
    r"not (?:for (?:you|him|her)|this|now|yet|what|on my)",
    r"so no [,.]|please no|leave (?:it|that|them)|skip it",
    r"(?:is|are|'s) banned|off the table|can wait|is n't for|do n't have to",
    r"decided against|better of it|changed my mind|cross(?:ed)? it out|on second thoughts",
    r"(?:scrap|forget|scratch) that|joking|kidding",
)
"""Words before or after a drill's name by which the speaker turns it down or takes it back."""

REFUSALS = frozenset(
    "no not n't nae never without instead rather leave leaving skip skipping forget ditch drop "
    "dropping avoid bin scrap against banned neither nor cannot zero dinnae".split()
)
"""Words that turn down what is named after them in the same breath."""
RESUMES = frozenset("but just only then so because instead apart except mean".split())
"""Words after which a refusal no longer holds."""
PULLS = frozenset("n't not wo would could should".split())
"""Words before "do" that make it part of a refusal."""
TILL = frozenset({"till", "until"})
"""Words that make of a refusal a condition ("don't pull till the other hand is there")."""
OFF = frozenset("off out away".split())

BACK = said(
    r"(?:of|for|like|on|with|do|in|after|by) (?:that|those|these|them|it|this|each|every)",
    r"each (?:of|one)|those|these",
)
"""Something named before is spoken of ("six of those")."""
SAME = said(r"same (?:again|set|dose|distance|number)")
"""The amount is that of the set before."""
CALLS = said(r"(?:drill|exercise)s?")
"""Something is called a drill, known or not."""
OF_BOTH = said(r"(?:those|these|the) 2", r"both of (?:those|these|them)")
FOR_THAT = said(r"(?:for|with|on|in|after) (?:that|those|these|them|it|this)")

GIVES_AID = re.compile(
    r"^ (?:and |then |better ){0,2}(?:use|wear|stick|pop|put|add)\b|^ \w+(?: buoy)? (?:on|in)\b"
    r"| (?:can|may|could) (?:use|wear|have|put)\b"
)
"""How a later sentence adds equipment to the set before it."""
KEEPS_AID_OUT = said(
    r"no|not|n't|never|nae|leave|without|rather|skip|used|same|toyed|considered|thought|one|will"
)
"""Words that keep equipment named after them from being added."""

JOINS = re.compile(
    r"\b(?:and then|then|after that|after which|followed by|and after|next|and last|finally)\b"
)
"""A sentence goes over to the next set."""
MENDS = frozenset("no not sorry mean scrap actually rather".split())
"""Words between a slip of the tongue and its correction."""

DONE = frozenset(
    "did swam got took held had used went made gave came tried was were counted watched looked "
    "stopped".split()
)
"""Verbs that tell what a swimmer did rather than what to do."""
HAVING = frozenset("had 'd have 've has".split())
MEASURES = frozenset("count see make get have measure".split())
"""Verbs by which a coach tells a figure ("I count 26")."""
LOOKS = frozenset("look watch see listen notice compare imagine think remember".split())
"""Verbs that ask for attention, not for a drill."""
FINITE = frozenset({"VBD", "VBZ", "VBP", "MD"})
"""Tags of verbs that make a clause."""
MARKS = frozenset(". , ; : ! ? | … – —".split())
"""Marks that end a breath."""
