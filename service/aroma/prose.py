"""The small words of tasting notes: what negates, strengthens, joins, ends or merely fills.

All words are written as `vocabulary.plain` leaves them: lower case, no accents, no apostrophes.
The lists are our own; usage is common practice, no source.
"""

from __future__ import annotations

FAINT = 0.5
STRONG = 1.3

_NEGATORS = """
no | not | without | none | never | neither | nor | non | zero | lacks | lacking | lack of | devoid
| absence of | minus | free of | free from | hardly | hardly any | barely | barely any | scarcely
| scarcely any | almost no | little to no | little or no | next to no | nothing | anything but
| far from | instead of | rather than | isnt | arent | wasnt | doesnt | dont | didnt | wont | cant
| cannot | aint | hasnt | havent | shouldnt | avoids | avoiding | except | except for | excluding
| sans | ohne | kein | keine | keinen | nicht | senza | sin | sem | pas de
"""
# Negators that take a noun list: "without smoke and ash" denies both.
_PREPOSITIONS = """
without | lacks | lacking | lack of | devoid | absence of | minus | free of | free from | neither
| instead of | rather than | excluding | sans | ohne | senza | sin | sem
"""
# Phrases that hold a negator or a note word and mean neither.
_ASIDES = """
not only | not just | not merely | not simply | not solely | not to mention | no doubt
| without doubt | without a doubt | without question | no question | no shortage of | no lack of
| no wonder | no surprise | no less than | no ordinary | no stranger to | nothing but | no end of
| not your | not unlike | not without | never short of | never lacks | never without
| no nonsense | no fuss | cannot help | cant help | cant go wrong | nothing less than | non stop
| leaves a | leaves the | leaves you | leaves us | leaves behind | sake of | port of | rose to
| to date | date of | never had | no added sugar | no sugar added | up to date | green coffee
| drop by | in a nutshell
"""
_FAINT = """
a bit | bit | bit of | hint | hint of | touch | touch of | trace | trace of | whisper
| whisper of | suggestion of | undertone | undertone of | dash of | pinch of | splash of
| drop of | lick of | kiss of | wisp of | whiff | whiff of | tinge | tinge of | echo of | nuance
| nuance of | accent | accent of | a little | little | slight | slightly | subtle | subtly | faint
| faintly | delicate | delicately | gentle | gently | mild | mildly | lightly | softly | somewhat
| vaguely | vague | less | fleeting | background | in the background | barely perceptible
| barely noticeable | hardly noticeable | soupcon of | glimmer of | un peu de | etwas
| ein hauch von | hauch von | un toque de | un tocco di | pointe de
"""
_STRONG = """
intense | intensely | very | strong | strongly | lots | lots of | a lot of | loads | loads of
| plenty | plenty of | heaps of | tons of | heavy | heavily | bursting | bursting with | bold
| boldly | big | huge | massive | pronounced | dominant | dominated by | powerful | packed with
| full of | loaded with | laden with | extremely | super | really | incredibly | explosive
| explosion of | prominent | overwhelming | lashings of | mouthful of | concentrated | too
| overly | highly | deeply | intensity of | exploding with | brimming with | dripping with | so much
| muy | sehr | tres | molto | stark | kraftig | reich an
"""
# After a note rather than before it: "cherry undertones", "smoke in the background".
_FOLLOWING = "undertone | hint | accent | nuance | trace | whisper | in the background | background"


def _words(block: str) -> frozenset[str]:
    return frozenset(block.split())


def _phrases(block: str) -> frozenset[str]:
    return frozenset(" ".join(part.split()) for part in block.split("|"))


NEGATORS = _phrases(_NEGATORS)
PREPOSITIONS = _phrases(_PREPOSITIONS)
ASIDES = _phrases(_ASIDES)
INTENSITIES = {**dict.fromkeys(_phrases(_FAINT), FAINT), **dict.fromkeys(_phrases(_STRONG), STRONG)}
FOLLOWING = _phrases(_FOLLOWING)
LONGEST_CUE = max(len(cue.split()) for cue in NEGATORS | ASIDES | INTENSITIES.keys())

# Misspellings of these are understood, since missing them would turn a note round.
NEGATIONS_CORRECTED = _words("without hardly barely scarcely lacking devoid")

# A colon after these does not part what follows: "Process: honey".
LABELS = _words("process roast variety varietal")

AND = _words("and und et y e n plus")
OR = _words("or nor oder ou o")
# Words that begin a new thought, where a negation ends.
BREAKERS = _words(
    """
    but yet just only though although however with while whereas because then instead rather
    which who when where until still simply followed giving gives leads leading becomes mostly
    mainly aber sondern mais pero ma mit avec con
    """
)

FILLERS = _words(
    """
    a an the this that these those it its itself is are was were be been being am i we you he
    she they them their our your my his her us me of in on at to into onto from for by as if so
    than through throughout over under above below between among around across after before
    during upon within along toward towards up down out off about against per via until there
    here free whatsoever what how why all any both each every few more most much many other
    others another such same own very also too again once ever always often sometimes usually
    almost nearly quite rather fairly pretty even well can could will would shall should may
    might must do does did has have had having get gets got make makes made like likes
    reminiscent similar kind sort let lets em etc ie eg vs de du des la le les un une der die
    das ein eine im zu von del el los las al il lo gli di da della dello nel d l s t st nd rd th
    note notes tone tones flavour flavours flavor flavors taste tastes tasting tasted aroma
    aromas aromatics finish finishes nose palate cup cups cupping aftertaste afternote
    undertones overtones overtone hints hint profile character characteristics characteristic
    impression impressions quality qualities sense expect expecting expected think thinking find
    finding found enjoy enjoying enjoyed drink drinks drinking sip sips sipping smell smells
    smelling scent scents scented feel feels feeling reminds remind reminded evoke evokes
    evoking suggests suggesting flavoured flavored flavourful flavorful infused tinged laced
    noten nach geschmack notas sabor sabores nota sentori gusto gout aromes aromen abgang arome
    """
)

PROSE = _words(
    """
    coffee coffees caffeine decaf vibes vibe cafe kaffee caffe bean beans espresso espressos
    filter filters pourover brew brews brewed brewing brewer roaster roasters roastery roasts
    blend blends blended origin origins single estate farm farms farmer farmers farming producer
    producers produced produce producing production grower growers grow grows growing grown
    smallholder smallholders family families cooperative coop community communities station
    stations mill mills washing wash lot lots microlot harvest harvested harvesting crop crops
    season seasons picked picking handpicked hand sorted sorting selected selection select
    altitude elevation metres meters masl above sea level region regions regional country
    countries valley mountain mountains highland highlands volcanic volcano soils hill hills
    slope slopes district province zone area areas village north south east west northern
    southern eastern western central process processed processes processing natural naturals
    washed anaerobic aerobic carbonic maceration semi pulped hulled wet variety varieties
    varietal varietals cultivar caturra catuai catimor castillo typica geisha gesha pacamara
    maragogype maragogipe heirloom landrace ruiru batian mundo novo pacas villa sarchi tabi
    sidra wush marsellesa obata icatu arabica robusta canephora liberica species ethiopia
    ethiopian yirgacheffe sidama sidamo guji harrar limu kenya kenyan nyeri kirinyaga colombia
    colombian huila narino tolima cauca brazil brazilian cerrado minas gerais guatemala
    guatemalan huehuetenango antigua costa rica rican tarrazu panama panamanian boquete honduras
    honduran nicaragua nicaraguan salvador salvadoran salvadorian mexico mexican chiapas oaxaca
    peru peruvian bolivia bolivian ecuador ecuadorian rwanda rwandan burundi burundian uganda
    ugandan tanzania tanzanian congo congolese malawi zambia yemen yemeni india indian indonesia
    indonesian sumatra sumatran java javanese sulawesi bali papua guinea timor vietnam
    vietnamese thailand laos myanmar china chinese japan japanese jamaica jamaican hawaii
    hawaiian kona africa african america american americas asia asian europe european caribbean
    kaffe bag bags pack packed package gram grams kilo ounce weight size price shop store online
    order orders ship shipped shipping week weeks day days month months year years time times
    today freshly new old first second third last next final end ends ending start starts
    starting open opens opening begin begins beginning middle top base front back side mid good
    great best better nice lovely beautiful beautifully wonderful wonderfully amazing awesome
    excellent fantastic delightful perfect perfectly ideal superb incredible favourite favorite
    special specialty speciality premium exceptional outstanding remarkable distinctive distinct
    distinctly typical traditional modern simple everyday daily morning evening breakfast
    dessert comfort crowd pleaser pleasing people everyone anyone someone who whole thing things
    way ways one two three four five six seven eight nine ten many half part parts range combine
    combines combined combining offer offers offering show shows showing showcase showcases
    display displays deliver delivers bring brings bringing give gave given take takes taken
    come comes coming carry carries carried meet meets pair pairs paired pairing match matched
    complement complements complemented support supported supports surrounded wrapped backed
    underpinned accompanied highlight highlights highlighted enhance enhanced enhances develop
    develops developed developing evolve evolves evolving transition transitions turn turns
    turning cools cooling linger lingers remain remains stay stays leave keep keeps hold holds
    create creates created add adds added adding include includes including included contains
    contain present presents perceived noticeable detectable found work works working love loved
    loves want wants need needs know known see seen say says said call called use used using
    look looking try tried latte lattes flat americano moka cold iced ice hot
    water grind grinder grinding ground ratio dose temperature degrees minutes seconds machine
    style type types version edition limited release score scores points cupping graded grade
    grades certified certification organic fairtrade fair trade direct sustainable sustainably
    women woman men man sourced source sourcing imported importer partner partners project lover
    lovers name named story history world tree trees plant plants shade plantation garden
    gardens house bar signature guest menu staff customer customers team long short medium high
    low higher lower large small tiny overall generally really slowly carefully specially
    gradually almost towards finally together throughout especially particularly truly purely
    absolutely definitely certainly maybe perhaps probably average usual ordinary unpleasant
    unwanted nasty overpowering excessive offputting obvious real actual true pure
    """
)

# English words one letter away from a note word: never taken for its misspelling.
LOOK_ALIKES = _words(
    """
    anchor anchors astray barren battered beacon bondage brand branded brands brunt butler
    camper candid carton cartons charged charmed charted cheery chill chills chloride collar
    collars compete competes compose composite compute confer coronation creep creeps current
    currents diary diaries enable enables especial fervent figure figures flagrant flares flora
    fragile frugal funnel gains glassy grins healthier heater heaters hoarse hospice kitsch
    larger lather leader leaders leases ledger lender linen locking longing malice mallet mantel
    margarine marina matted mature matures minimally mineralogy mystic oblong padding panda
    panel panels pantry parley pasty patrol performed pleated poster posters potter preferred
    presented recurrent resign retina scorch shallow shallows shores shortcuts skewed smokeless
    sores spaced spewed splice spiked spores squish staple staples stoked stolen stores stowed
    swollen tango timer topical vanish versus violent whisk winery wineries
    """
)

ORDINARY = FILLERS | PROSE | LOOK_ALIKES | BREAKERS | AND | OR
