"""The word lists of lint, as data: change a list here, and every rule that reads it follows.

They are English, of the trade, and short on purpose: a rule about wording that is often wrong is switched off. A word that
is as often a noun as an act stands in ACTS and not in SECOND_ACTS. Where no source is named, a list is common practice.
"""


def listed(text: str) -> frozenset[str]:
    """The words of a text."""
    return frozenset(text.split())


EMPTY_ANSWERS = listed(
    "ok okay yes no all everything is are been has have it checked check done set good fine ready right correct verified "
    "confirmed complete completed as required in order"
)
"""Words that say nothing about what is seen."""

SECOND_ACTS = listed(
    "adjust attach bleed close connect deflate detach disconnect engage fasten hang hoist inflate insert install isolate "
    "loosen lower open pull push put raise remove replace secure slide tighten unhook unlock unscrew wipe withdraw"
)
"""Words that begin an order and are hardly ever a noun, so that one after `and` is a second act."""

ACTS = SECOND_ACTS | listed(
    "add align announce apply ask balance bring build call carry centre center change check choose clamp clean clear clip "
    "compare cool count cover cut cycle discharge drain drive empty enter feed fetch fill find finish fit follow free give "
    "go grip hand heat hold hook inch join keep label lay leave let level lift line load lock look make mark measure mix "
    "mount move note oil pass pin place point position pour press purge raise read record release report reset return rinse "
    "roll rotate run say scan search seat see select send set show shut sign slit slow splice spray stand start stay stop "
    "store strip switch tag take tape tear tell test thread tie tip transfer trim try turn unlatch unload unroll unwind "
    "vent wait walk warn wash watch wear wedge weigh wind work wrap write"
)
"""Words that begin an order to do something."""

ACTS_BEFORE_A_THING = listed(
    "align apply balance bring carry centre center check clamp clean clear cover cut empty feed fetch fill find fit free "
    "hold hook join label lay level lift load lock mark measure mount move pin place press read release reset return rinse "
    "rotate scan seat select send shut slit splice start stop strip switch tag take tape tell test thread tie trim turn "
    "vent wash watch weigh write"
)
"""Words that are an act where `the`, `a`, `each` or the like follows, and may be a noun otherwise."""

THING_FOLLOWS = listed("the a an it its each every both all your their them this that these those")

NOT_FIRST = listed(
    "the a an you it there this that these those please operator operators we he she they somebody someone nobody everybody "
    "everyone each every any some no all both one new old its his her their your"
)
"""Words that no order begins with."""

THINGS = listed(
    "bearing beam blade chuck core counter crane cylinder drum gauge hoist idler knife motor nip pressure pump roller sensor "
    "shaft speed spindle substrate tension ticket valve"
)
"""Things of the trade whose name is no act."""

CLAUSE_STARTS = listed("if when once after before with while as for at in on by from until unless during where")
"""Words that begin a clause before the act; the act then stands after its comma."""

SAYS_HOW_IT_IS = listed("is are was were has have must should shall will can may needs need cannot")

ASKS_WHAT = listed("who what which that whether where how why when if")

VAGUE = (
    *sorted(
        listed("adequate adequately appropriate appropriately approximately carefully etc frequently properly quickly")
    ),
    *sorted(listed("regularly roughly slightly slowly sufficient sufficiently suitable suitably")),
    *sorted(listed("correctly enough firmly gently immediately moderate moderately normal normally occasionally")),
    *sorted(listed("periodically promptly reasonable reasonably safely several soon tightly")),
    *("a couple of", "a few", "as applicable", "as far as possible", "as soon as possible", "if applicable"),
    *("if possible", "where applicable", "where necessary"),
    *("as appropriate", "as necessary", "as needed", "as required", "if necessary", "if needed", "if required"),
    *("from time to time", "and so on", "a bit", "a little", "a while", "some time"),
)
"""Words that two people understand otherwise."""

LEFT_OPEN = ("make sure", "be sure", "ensure", "see to it", "assure", "take care that", "verify and correct")
"""Words that leave open whether to look or to act."""

LEFT_TO_CHOICE = (
    *("should", "may", "might", "could", "ideally", "preferably", "recommended", "optionally"),
    *("try to", "attempt to", "if you like", "if you want", "where you can"),
)
"""Words that leave open whether an act is to be done."""

PASSIVE = ("is to be", "are to be", "has to be", "have to be", "must be", "needs to be", "need to be", "shall be")

BY_EXCEPTION = ("all except", "all but", "everything except", "everything but", "each except", "every one except")
"""Words that name things by those that are left."""

EVERY = listed("all any each every everything everybody")

BY_POSITION = (
    *(
        "previous step",
        "previous steps",
        "preceding step",
        "preceding steps",
        "step above",
        "steps above",
        "step below",
    ),
    *("steps below", "next step", "next steps", "following step", "following steps", "last step", "earlier step"),
    *("as above", "see above", "see below", "as before", "same as above", "the above", "as described above"),
)
"""Words that name a step by where it stands."""

UNIT_SLIPS = {
    **dict.fromkeys(("kgs", "kilo", "kilos", "kilogram", "kilograms", "kg's"), "kg"),
    **dict.fromkeys(("grams", "gr", "gms", "gm"), "g"),
    **dict.fromkeys(("mtr", "mtrs", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("mms", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("micron", "microns"), "um"),
    **dict.fromkeys(("sec", "secs", "second", "seconds"), "s"),
    **dict.fromkeys(("mins", "minute", "minutes"), "min"),
    **dict.fromkeys(("hr", "hrs", "hour", "hours"), "h"),
    **dict.fromkeys(("lbs", "pounds", "pound"), "lb"),
    **dict.fromkeys(("mpm", "m/m"), "m/min"),
    **dict.fromkeys(("bars",), "bar"),
}
"""After a number: what is written, and the symbol that the language knows. Symbols: SI Brochure, 9th edition."""

UNIT_SYMBOLS = listed("mm cm m km um kg g lb n kn nm bar mbar kpa mpa pa psi s min h rpm deg mm² m² l ml")
"""Symbols, in small letters, that stand glued to a number only by a slip."""

OTHER_UNITS = listed("psi kpa mpa mbar mm cm km um kg lb lbs kgf lbf rpm")
"""Symbols, in small letters, that a question does not hold for another reason; `bar`, `m` or `in` are words too."""

QUANTITIES = listed(
    "pressure temperature length width height mass weight force tension thickness diameter torque speed distance angle gap "
    "depth gauge"
)
"""Words of a question that asks for a number with a unit."""

MEASURED_BY = listed("to by at of than below above under over within")
"""Words between an act and the number that it goes to."""

NAMED_BY_NUMBER = listed(
    "line step steps unit units station stations position switch selector dial gear number mark marker notch roller bar gate "
    "phase side drawing page form job zone slot hole gap level stage set programme program recipe no scale counter deck box"
)
"""Things that a number without unit names or counts."""

UNITLESS_AFTER = listed("times turns notches pieces rolls cores people persons wraps layers samples teeth")

KNOWN_CAPITALS = listed("OK LED UV IR PVC PE PP PET BOPP CPP USB PIN ID OD A4 AC DC EU UK US I II III IV V VI X")
"""Capitals that need no explanation beside a press."""

TOOLS = listed(
    "wrench spanner key knife hook pen pliers hammer screwdriver gauge ruler tape brush torch lamp lens strap pry mallet "
    "scraper card crowbar multimeter micrometer calliper ladder jack mirror square cloth cutter scissors punch stick"
)
"""What is carried to the press and has to come back from it."""

KINDS_OF_THING = tuple(
    listed(words)
    for words in (
        "roller idler drum cylinder",
        "guard cover hood gate shield",
        "bar arm dancer",
        "chuck mandrel spindle",
        "brake clutch",
        "crane hoist",
        "rack shelf cradle",
        "lock padlock",
        "beam traverse",
        "nip gap",
    )
)
"""Words that are used for one another; two of a set before the same word are one thing with two names."""

GRAVE_HARMS = listed(
    "amputated amputation asphyxiation blind blinded blindness death deadly die dies dead drowned electrocution fatal killed "
    "kill kills lethal maimed paralysed paralysis severed suffocation unconscious unconsciousness"
)
"""Harm that lasts or kills: serious injury or death."""

SLIGHT_HARMS = listed(
    "abrasion bruise bruised bruises chafed discomfort graze grazed irritation pinch pinched scratch scratched"
)
"""Harm that heals without a doctor."""

OTHER_HARMS = listed(
    "blow break broken burn burned burns burnt crush crushed crushing cut cuts deep drawn entangled eye fall fracture fractured "
    "injured injuries injury shock struck trapped wound wounds"
)

INJURIES = listed("injury injuries injure injures injured wound wounds amputation death burns")
"""Words by which a hazard names harm to people."""

GONE_AFTERWARDS = listed(
    "hear heard sound feel felt smell answer answered said say call called repeat repeated click shout did"
)
"""Words of a question about what is over when a second person comes."""

NO_PHYSICAL_PROTECTION = listed(
    "sign signs label training procedure instruction instructions care attention caution experience agreement promise "
    "radio shout whistle screen display message list checklist briefing supervision"
)

PHYSICAL_PROTECTION = listed(
    "guard guards latch latches lock locks pin pins brake valve switch key bolt gate cover fence chain stop block chock strut "
    "hood clamp isolation disconnector isolator interlock curtain mat bar prop clip barrier rope chucks arms stand"
)

TELLS = listed("tell call announce say warn report inform hand sign write ask read")
"""Acts that a crew hears or reads."""

HANDS_AT_WORK = listed("clean clear cut lay pull push reach remove tape thread touch unjam wash wipe wrap")
"""Acts that bring a hand to a roller."""

HELD = ("hold-to-run", "hold to run", "inch", "held", "hold the button", "two-hand")
"""Words by which a text says that motion goes on only while somebody holds it."""

CLAIMS_SAFE = (
    *("is safe", "are safe", "safe to", "it is safe", "machine safe", "press safe", "safe for work", "no danger"),
    *("safe state", "safe condition"),
)
"""Words by which a text vouches for what nobody can know from a list."""

PEOPLE = listed(
    "anybody anyone body bystander crew everybody everyone hands helper lead nobody person persons people zone"
)
"""Words by which a confirmation says where people stand."""
