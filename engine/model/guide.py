"""What the shop says: questions, rigs, appliances, planning, priorities, cautions, wording."""

from dataclasses import dataclass, field, fields
from functools import cached_property
from typing import Literal, NamedTuple

from engine.model.brand import Brand
from engine.model.buses import Bus, bus_of_volts
from engine.model.edition import PastEdition
from engine.model.fields import (
    Amperes,
    Hours,
    Meters,
    MoneyPerHour,
    Seconds,
    Share,
    Watts,
)
from engine.model.products import Article, Catalogue
from engine.wording.sentences import Sentences
from engine.wording.tongue import Grammar


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """What the shop adds to an answer's parts so that they become an estimate.

    days: for so long it holds, counted from the date of the edition; 0 where the shop wants none
    rate: of labor, for the planning hours
    tax: share of what is taxed that is added to it; labor_taxed: whether labor is taxed, too
    item_link: address of an item in the shop's store, {item} in the place of its number
    form: address of the shop's own service to which a customer may send a request
    """

    days: int = 0
    rate: MoneyPerHour = 0.0
    tax: Share = 0.0
    labor_taxed: bool = False
    item_link: str = ""
    form: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """Who runs this guide and how to reach them.

    currency: code of the currency of every price, as USD
    language: the folder of words/ in which the pages speak, as en
    prices_as_of: day of prices and stock, as 2026-01-31; the date of the edition
    refuse_before: prices and stock from before this day are a fault; "" accepts all
    site: host of the site, with its folder where it has one, as shop.example/rig-guide
    estimate: what makes an estimate of an answer, where the shop wants that
    """

    name: str
    place: str
    phone: str
    email: str
    site: str
    brand: Brand = field(default_factory=Brand)
    invented: bool
    note: str
    currency: str
    prices_as_of: str
    refuse_before: str = ""
    language: str = "en"
    estimate: Estimate = Estimate()


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One fixed answer to a question.

    means: other answers that it stands for, unless the visitor gives those themselves
    (a plug names its rig; a kind of space names its compartment).
    also: other words by which callers name it; the staff page finds it by them.
    brief: what a text message calls it, without its question; "" where the label says enough.
    """

    id: str
    label: str
    hint: str = ""
    picture: str = ""
    also: tuple[str, ...] = ()
    brief: str = ""
    means: dict[str, str] = field(default_factory=dict)

    @property
    def called(self) -> str:
        """What it is called where its question is not seen."""
        return self.brief or self.label


QuestionKind = Literal[
    "choice",
    "quantity",
    "count",
    "latitude",
    "month",
    "loads",
    "bay",
    "existing-bank",
    "unit",
    "aim",
    "money",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question: its words, where it is asked, what it accepts and what is assumed without it.

    only_with: the question has a meaning only together with one of these answers.
    unsure: what to look at to find out.
    usual: the choice that "not sure" stands for on the short path; usual_by_rig: where a kind of
    rig has another one.
    topic: what it is about, in two or three words, where it is named among those still to come, or
        before its value where its group is closed.
    also: other words by which callers name it; the staff page finds it by them.
    """

    id: str
    where: Literal["path", "answer", "detail"]
    ask: str
    why: str
    kind: QuestionKind
    unsure: str = ""
    usual: str = ""
    usual_by_rig: dict[str, str] = field(default_factory=dict)
    choices: tuple[Choice, ...] = ()
    only_with: dict[str, tuple[str, ...]] = field(default_factory=dict)
    default: str = ""
    unit: str = ""
    bare: str = ""
    low: str = ""
    high: str = ""
    accepts: str = ""
    group: str = ""
    page: str = ""
    topic: str = ""
    also: tuple[str, ...] = ()

    def choice(self, choice_id: str) -> Choice:
        """The choice with this id; KeyError when there is none."""
        for choice in self.choices:
            if choice.id == choice_id:
                return choice
        raise KeyError(choice_id)

    def usual_in(self, rig_id: str) -> str:
        """The choice that "not sure" stands for in this kind of rig."""
        return self.usual_by_rig.get(rig_id, self.usual)


@dataclass(frozen=True, slots=True, kw_only=True)
class Appliance:
    """Something that draws power in a rig.

    also: other words that people use for it; one that several share means the one that the rig has.
    moving: whether it may be used while the rig moves.
    volts: of the bus that it hangs on, see engine.model.buses.
    at_once: it is taken to run together with whatever else runs.
    follows: what the weather does to it, see engine.weather; "" for nothing.
    locked_rotor: start current of its motor, with what of it runs already; 0 where there is none.
    fan: what of it runs before the compressor starts, beside the locked rotor of its nameplate.
    """

    id: str
    name: str
    plain: str
    volts: Literal[12, 48, 120, 240]
    running: Watts
    power_factor: Share
    hours: Hours
    duty: Share
    heavy: bool
    hour_of_day: int
    source: str

    @property
    def bus(self) -> Bus:
        """The bus that it hangs on."""
        return bus_of_volts(self.volts)

    at_once: bool = False
    locked_rotor: Amperes = 0.0
    start_time: Seconds = 0.0
    soft_startable: bool = False
    caution: str = ""
    fan: Amperes = 0.0
    also: tuple[str, ...] = ()
    moving: bool = True
    follows: Literal["", "air-conditioner", "refrigerator", "furnace"] = ""


RigShape = Literal["van", "trailer", "coach"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """What a kind of rig looks like from its side, to draw it to scale.

    length, height: outside, hitch and roof included
    floor: the lowest floor that parts stand on, above the ground
    tire: outside diameter of a tire
    """

    shape: RigShape
    length: Meters
    height: Meters
    floor: Meters
    tire: Meters


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rig:
    """A kind of vehicle: its service, what is always on board, and its usual heavy loads.

    outline: how it is drawn
    cords: the service of each answer to what cord it has, where the kind has more than one
    heavy: for each choice of the hardest load, the appliances in the order in which
    "how many at the same time" counts them.
    taken: what is taken for a detail that is not answered, where this kind has a default of its own
    hangs: what hangs on its 12 V system, see engine.advice.plan.house_side, with what each draws,
    carries or charges with
    """

    id: str
    name: str
    service: str
    carries: dict[str, int]
    heavy: dict[str, tuple[str, ...]]
    outline: Outline
    cords: dict[str, str] = field(default_factory=dict)
    taken: dict[str, str] = field(default_factory=dict)
    hangs: dict[str, Amperes] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Planning:
    """Margins and limits that the shop plans with; `source` says where each comes from.

    idle_share: share of the hours with the engine on in which it idles
    water_circuits: circuits of a new panel with outlets near water, each behind one GFCI
    kept_strings: most batteries in parallel where those that are there say nothing of it
    kept_join_years: age up to which equal new batteries may join those that are there
    give_up_from: share of the price from which on what one thing less would save is said
    """

    load_margin: float
    heavy_from: Watts
    soft_start_reduction: Share
    lead_acid_depth: Share
    fuse_factor: float
    drop_limit: Share
    cable_insulation_c: int
    ac_insulation_c: int
    ac_terminal_c: int
    most_cable_runs: int
    ageing: Share
    allowed_rise_k: float
    fan_factor: float
    fan_pressure_pa: float
    ac_run_m: float
    bond_run_m: float
    link_m: float
    branch_run_m: float
    starter_run_m: float
    starter_drop: Share
    starter_cranking: Amperes
    house_feed: Amperes
    spare_ends: Share
    idle_share: Share
    vehicle_load: Amperes
    generator_hours: Hours
    appliance_240: str
    price_allowance: Share
    water_circuits: int
    kept_strings: int
    kept_join_years: float
    give_up_from: Share
    source: dict[str, str]


Measure = Literal[
    "parts-price",
    "labor",
    "units",
    "terminal-misfit",
    "wall-area",
    "mass",
    "idle",
    "waiting",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Priority:
    """How much one unit of a measure counts, in money, when two setups both pass every check."""

    measure: Measure
    counts: float
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AimMeasure:
    """How much one unit of a measure counts for an aim; the least in all wins."""

    measure: Measure
    counts: float


BankBy = Literal["price", "mass"]
"""By what the bank of a setup is chosen among those that will do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Aim:
    """What a setup may be asked to be in place of the shop's own choice, and how it is found.

    lasts: how many times as long a full bank must last as that of the shop's own choice; 0 for as
        long as was asked
    bank: whether each unit gets the cheapest bank that will do, or the lightest
    shown_from: how much better by its own measures it must be than the shop's own choice, as a
        share, to be shown beside it
    list: its measures; without any, the shop's own order holds
    """

    id: str
    lasts: float = 0.0
    bank: BankBy = "price"
    shown_from: Share = 0.0
    list: tuple[AimMeasure, ...] = ()


OWN_CHOICE = Aim(id="")
"""The aim of an answer that was asked for none: the shop's own order of preference."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Labor:
    """Planning hours for the fitting: they rank and plan, and are never quoted."""

    rate: MoneyPerHour
    base: Hours
    each_unit: Hours
    each_push_in_end: Hours
    each_battery: Hours
    sub_panel: Hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Priorities:
    """The shop's order of preference, and what else an answer may be asked to be."""

    labor: Labor
    list: tuple[Priority, ...]
    aims: tuple[Aim, ...] = ()

    def counts_of(self, measure: str) -> float:
        """What one unit of a measure counts; 0 where the shop does not count it."""
        return next((each.counts for each in self.list if each.measure == measure), 0.0)

    def aim(self, aim_id: str) -> Aim:
        """The aim with this id, or the shop's own choice, which has no id; KeyError for none."""
        if not aim_id:
            return OWN_CHOICE
        found = next((each for each in self.aims if each.id == aim_id), None)
        if found is None:
            raise KeyError(aim_id)
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A warning, named beside the part of the answer that it qualifies when its rule is met.

    rank: its place among what the first look of an answer warns of, the most harm first (common
        practice, no source); 0 where it stands among the safety warnings only
    card: what to do in one line, beside its title in the first look
    """

    id: str
    rule: str
    beside: Literal["top", "service", "unit", "battery", "cable", "terminals", "space", "charging"]
    title: str
    text: str
    do: str
    who: str
    source: str
    rank: int = 0
    card: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """A line of a printed list: what to measure, how to fit it, or what to do before switching on.

    planned: what the answer rests on, or what the meter should find; {facts} are filled in
    caution: id of the caution whose title stands beside it
    """

    id: str
    sheet: Literal["measure", "fit", "commission"]
    rule: str
    do: str
    who: str
    part: str = ""
    planned: str = ""
    caution: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """A page that explains one subject, and the parts of an answer that link to it."""

    id: str
    title: str
    beside: tuple[
        Literal["service", "unit", "battery", "cable", "terminals", "space", "charging"], ...
    ] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckWords:
    """What a check is called and what is said of its result; {value}, {limit} are filled in.

    accepted: of a check that may miss its limit where practice accepts that
    """

    id: str
    name: str
    passes: str
    fails: str
    source: str
    accepted: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutWords:
    """What a layout is called and what it does, in plain words.

    says : the verdict in a few words, as one would say it across the counter
    """

    id: str
    says: str
    name: str
    plain: str
    shore: str
    battery: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """Sentences, by the thing that they are about."""

    layouts: tuple[LayoutWords, ...]
    checks: tuple[CheckWords, ...]
    parts: Sentences
    page: Sentences
    numbers: Sentences
    pieces: Sentences
    faults: Sentences
    steps: Sentences
    grammar: Grammar


class TradeWord(NamedTuple):
    """A word of the glossary: the id of its entry, and the forms that lead there from a text."""

    id: str
    linked: tuple[str, ...]


class Symbol(NamedTuple):
    """A symbol of an equation: the parameter that it stands for, its unit and its meaning.

    place: the parameter's name, with that of its field where it has fields; one that ends in _i
        stands for every member of a list
    """

    sign: str
    place: str
    unit: str
    meaning: str


class Formula(NamedTuple):
    """One formula of the sizing as it is shown; the unit is that of what comes out."""

    equation: str
    symbols: tuple[Symbol, ...]
    unit: str
    source: str


@dataclass(frozen=True, eq=False, kw_only=True)
class Guide:
    """One edition of the guide; compared and hashed by identity, being large and constant.

    catalogue: what is sold, in stock or not; discontinued: what was sold, kept for old links
    editions: older editions, kept for links that were made from them
    formulas: what a reader may open, by name, as the docstrings of the sizing have it
    trade_words: those of the glossary; none where the guide has no glossary in its language
    """

    edition: str
    shop: Shop
    questions: tuple[Question, ...]
    rigs: tuple[Rig, ...]
    appliances: tuple[Appliance, ...]
    planning: Planning
    priorities: Priorities
    catalogue: Catalogue
    cautions: tuple[Caution, ...]
    sheets: tuple[SheetLine, ...]
    explanations: tuple[Explanation, ...]
    wording: Wording
    formulas: dict[str, Formula]
    trade_words: tuple[TradeWord, ...] = ()
    discontinued: tuple[Article, ...] = ()
    editions: tuple[PastEdition, ...] = ()

    @cached_property
    def _articles(self) -> dict[str, Article]:
        shelves = (getattr(self.catalogue, each.name) for each in fields(Catalogue))
        return {each.id: each for shelf in (*shelves, self.discontinued) for each in shelf}

    @cached_property
    def absent(self) -> frozenset[str]:
        """Ids of what is sold and not in stock."""
        return frozenset(
            each.id for each in self._articles.values() if each.stock == "out-of-stock"
        )

    @cached_property
    def _questions(self) -> dict[str, Question]:
        return {question.id: question for question in self.questions}

    @cached_property
    def conditional(self) -> tuple[Question, ...]:
        """The questions that have a meaning only together with another answer."""
        return tuple(question for question in self.questions if question.only_with)

    @cached_property
    def _rigs(self) -> dict[str, Rig]:
        return {rig.id: rig for rig in self.rigs}

    @cached_property
    def _appliances(self) -> dict[str, Appliance]:
        return {appliance.id: appliance for appliance in self.appliances}

    @cached_property
    def _explanations(self) -> dict[str, Explanation]:
        return {page.id: page for page in self.explanations}

    @cached_property
    def _layout_words(self) -> dict[str, LayoutWords]:
        return {words.id: words for words in self.wording.layouts}

    @cached_property
    def _check_words(self) -> dict[str, CheckWords]:
        return {words.id: words for words in self.wording.checks}

    def question(self, question_id: str) -> Question:
        """The question with this id; KeyError when there is none."""
        return self._questions[question_id]

    def article(self, article_id: str) -> Article | None:
        """The article with this id, discontinued ones too; None when there is none."""
        return self._articles.get(article_id)

    def in_its_place(self, article_id: str) -> Article | None:
        """The article with this id where it is sold, else its successor or the successor's.

        None where there is none. The content's check lets no successors go round in a circle.
        """
        article = self.article(article_id)
        while article and not article.sold:
            article = self.article(article.successor)
        return article

    def price_of(self, article_id: str) -> float | None:
        """Price of one, or of a meter; None when there is no such article."""
        price: float | None = getattr(self._articles.get(article_id), "price", None)
        return price

    def rig(self, rig_id: str) -> Rig:
        """The rig with this id; KeyError when there is none."""
        return self._rigs[rig_id]

    def appliance(self, appliance_id: str) -> Appliance:
        """The appliance with this id; KeyError when there is none."""
        return self._appliances[appliance_id]

    def explanation(self, page_id: str) -> Explanation:
        """The explanatory page with this id; KeyError when there is none."""
        return self._explanations[page_id]

    def layout_words(self, layout_id: str) -> LayoutWords:
        """What the layout with this id is called; KeyError when there is none."""
        return self._layout_words[layout_id]

    def check_words(self, check_id: str) -> CheckWords:
        """What the check with this id is called; KeyError when there is none."""
        return self._check_words[check_id]
