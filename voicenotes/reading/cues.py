"""Words of general English that say whom, when and how seriously a sentence speaks.

Each list holds what speakers of any sport would say; swim terms belong in the vocabulary.
"""

NEGATIONS = frozenset(
    "not n't no never none nothing neither nor without hardly barely nobody nowhere cannot "
    "nae cannae rarely".split()
)
"""Words that deny what follows them."""

NO_NEGATIONS = (
    "not only", "not just", "no doubt", "no question", "no wonder", "no more than", "no less than",
    "why not", "not bad", "no later", "no , sorry", "no sorry", "no hang on", "no wait", "no rush",
    "not sure", "no problem sorting", "whether or not", "not to mention", "if not", "not a lot of",
    "not dramatic", "nothing dramatic", "nothing major", "nothing serious",
    "nothing terrible", "not terrible", "not massive", "not huge", "not massively", "not by much",
    "not loads", "not hugely", "not badly", "not terribly", "not dreadful",
    "no wait", "no sorry", "no hang on", "not the worst",
)  # fmt: skip
"""Groups in which a word of NEGATIONS denies nothing."""

WISHES = frozenset(
    "want need try aim let should must ought think imagine work focus fix sort stop get make "
    "concentrate remember watch mind avoid quit bring push press lift lower drop relax soften "
    "point turn reach send feel keep drive swing slide finish start hold leave put give look "
    "bend tip extend stretch straighten tuck squeeze open close lengthen shorten pull kick "
    "breathe rotate roll slow speed".split()
)
"""Verbs that, told to the swimmer, ask for something."""

DESIRES = frozenset("want need like love prefer rather ought should must gotta supposed".split())
"""Verbs by which a speaker asks, whoever the subject is."""

STOPS = frozenset("stop avoid quit rid lose ditch fix cure less without".split())
"""Words that ask for the end of what follows."""

CROWDS = frozenset(
    "people swimmers everyone everybody folk folks beginners kids most many some lots anyone "
    "anybody somebody someone triathletes sprinters adults masters learners lads juniors coaches "
    "novices athletes youngsters newcomers others plenty girls boys blokes men women guys pupils "
    "learners children group".split()
)
"""Subjects that make a sentence general."""

NO_DOERS = frozenset(
    "fingers shoulders numbers markers flippers corners others centimeters meters "
    "quarters papers trousers layers centers parameters hers yours ours theirs rollers "
    "levers hammers flowers feathers drawers pointers zippers covers".split()
)
"""Plurals that end like swimmers and rowers but are no people."""

HABIT = (
    "tends to", "tend to", "as a rule", "in general", "generally", "usually", "normally",
    "often see", "always tell", "you see a lot", "you often see", "half of you",
    "very often", "the general rule", "the usual", "a lot of people", "common mistake", "for most",
)  # fmt: skip
"""Groups that make a sentence general."""

OTHERS = frozenset(
    "bloke chap lad lass girl boy fella guy teammate squadmate neighbour swimmer woman man "
    "gentleman lady lifeguard pupil student colleague partner triathlete kid fellow gal captain "
    "squad masters beginner".split()
)
"""People who, brought up with "a" or "my", are not the swimmer."""

NEARBY = (
    "lane one", "lane two", "lane three", "lane four", "lane five", "lane six", "lane seven",
    "lane eight", "next lane", "beside you", "next to you", "behind you", "in the background",
    "overtaking you", "training partner", "in front of you there", "the other kid", "the other lad",
)  # fmt: skip
"""Groups that place a person beside the swimmer."""

RELATIVES = frozenset(
    "brother sister son daughter husband wife nephew niece cousin dad mum mom friend grandson "
    "granddaughter uncle aunt father mother mate coach".split()
)
"""People who are not the swimmer even as "your"."""

EARLIER = (
    "last time", "last month", "last year", "last week", "last season", "last autumn",
    "last winter", "last summer", "last spring", "last fall", "last clip", "first clip",
    "last video",
    "used to", "any more", "anymore", "no longer", "back then", "previous", "previously", "ago",
    "gone now", "is gone", "'s gone", "has gone", "are gone", "in the spring", "in the autumn",
    "cured", "sorted now", "before christmas", "old clip", "earlier clip", "back in",
    "at first you",
    "finished with", "put right", "sorted out", "been sorted", "been fixed", "not any more",
    "last term", "last semester", "at easter", "at first i", "once upon a time", "history",
    "was always",
)  # fmt: skip
"""Groups that put a sentence into an earlier time."""

DATES = frozenset(
    "january february march april may june july august september october november december "
    "spring summer autumn winter fall christmas easter".split()
)
"""Dates that put a clause in the past tense into an earlier clip."""

SUPPOSED = frozenset("if unless would 'd might could otherwise suppose imagine".split())
"""Words that put a clause into the realm of the possible."""

REPORTS = frozenset("wrote asked thought worried claimed reckoned feared suspected".split())
"""Past-tense verbs that tell what somebody believed, not what is seen."""

KEEPS = (
    "keep", "keep that", "stay", "do n't change", "do n't touch", "do n't lose", "hold on to",
    "hold onto", "carry on", "leave that alone", "leave it alone", "leave well alone", "hang on to",
    "never change", "do n't let go of",
)  # fmt: skip
"""Groups that advise going on as before."""

EXPLAINS = (
    "the point of", "the idea of", "the idea is", "the point is", "the drill teaches",

    "the aim of", "the whole point", "this drill", "that drill",
    "it teaches", "teaches you", "the purpose", "you start with", "the trick is", "the rule",
)  # fmt: skip
"""Groups that explain a drill or a rule."""

WARNS = (
    "be careful", "careful not", "careful there", "watch out", "keep an eye out", "mind you do n't",
    "watch you do n't", "do n't go", "do n't then go", "in principle", "the textbooks",
    "was going to say", "on my list",
)  # fmt: skip
"""Groups that warn of what may come, or tell a principle."""

SET_DISTANCES = frozenset(
    "25 50 75 100 200 400 25s 50s 75s 100s 200s fives fifties twenties hundreds lengths length "
    "fifty hundred metres".split()
)
"""Distances by which a set of repetitions is known."""

TAKES_BACK = (
    "scratch that", "forget that", "forget i said", "i take that back", "take that back",
    "ignore that", "ignore me", "strike that", "my mistake", "i was wrong", "no it is n't",
    "no it 's not", "actually no", "on second thoughts", "i tell a lie", "not so fast",
    "i misspoke",
)  # fmt: skip
"""Groups by which a speaker takes back what was just said."""
