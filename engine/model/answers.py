"""What the visitor said: values keyed by question id, and what of it could not be read."""

from dataclasses import dataclass, field

UNSURE = "unsure"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number in the question's unit, and the short text that stands for it in links."""

    value: float
    text: str


@dataclass(frozen=True, slots=True)
class LoadItem:
    """One load in the visitor's list; `appliance` is empty for one that the guide does not know.

    at_once: whether it runs together with the others that do; None where that was not said
    """

    appliance: str
    name: str
    count: int
    watts: Quantity | None
    hours: Quantity | None
    bus: str = ""
    at_once: bool | None = None


@dataclass(frozen=True, slots=True)
class LoadList:
    """The visitor's own list of loads.

    beside: what was given beside the usual things, where it was given so
    """

    items: tuple[LoadItem, ...]
    text: str
    beside: str = ""


@dataclass(frozen=True, slots=True)
class Bay:
    """Inside measures of the compartment [m]."""

    height_m: float
    width_m: float
    depth_m: float
    text: str


@dataclass(frozen=True, slots=True)
class ExistingBank:
    """A bank that is in the rig already; `assumed` names the fields that were not said."""

    count: int
    capacity_ah: float
    nominal_v: float
    chemistry: str
    age_years: float
    text: str
    assumed: tuple[str, ...] = ()


Value = str | Quantity | LoadList | Bay | ExistingBank


@dataclass(frozen=True, slots=True)
class Fault:
    """An answer that could not be used: which question, what was typed, what would be accepted.

    name: what stood in the place of a question where there is none of that name
    in_form: it was typed into the form of the page, and no link brought it
    """

    question: str
    typed: str
    message: str
    name: str = ""
    in_form: bool = False

    @property
    def given_as(self) -> str:
        """The name under which a link gave it; "" for what is no answer, such as a long note."""
        return self.question or self.name


@dataclass(frozen=True)
class Answers:
    """Answers in the guide's order of questions, with the faults of those left out.

    edition: the edition that the link was made from, where it names one
    was: what was recommended then, as engine.past reads it, where the link says so
    note: what somebody wrote to the reader of the link, where it carries something
    """

    values: dict[str, Value] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()
    edition: str = ""
    note: str = ""
    was: str = ""

    def choice(self, question_id: str) -> str:
        """The chosen id, "unsure", or "" where nothing was answered."""
        value = self.values.get(question_id, "")
        return value if isinstance(value, str) else ""

    def text(self, question_id: str) -> str:
        """The answer as it stands in links; "" where nothing was answered."""
        value = self.values.get(question_id, "")
        return value if isinstance(value, str) else value.text

    @property
    def unread(self) -> tuple[Fault, ...]:
        """The faults because of which an answer that was given does not count."""
        return tuple(fault for fault in self.faults if fault.given_as)

    def key(self) -> tuple[tuple[str, str], ...]:
        """Question ids and texts: equal for equal answers, whatever was mistyped beside them."""
        return tuple(sorted((name, self.text(name)) for name in self.values))
