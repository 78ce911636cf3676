"""Every sentence that a person reads, by its key, in the words of one language."""

from collections.abc import Callable, Collection, Mapping

from engine.wording.tongue import plain, plural_form


class Sentences(dict[str, str]):
    """The sentences of one file of words: page, numbers, parts, pieces, faults.

    Who says a sentence declares it, by its key and the facts that it may have filled in:
    `page["start-over"]`, `page.say("left-out", ask=…)`, `numbers.count("hours", 2.5, 1)`.
    `guide/sentences.py` collects these declarations from code and templates, and `check` holds
    the words of every language against them. Therefore a key is written out where it is said;
    where it is one of several, `page.one_of("chart-is-", verdict, VERDICTS)` names them all.

    forms: for what is counted, its other forms ("one", "few" …) by key
    """

    def __init__(
        self, texts: Mapping[str, str], forms: Mapping[str, Mapping[str, str]] | None = None
    ) -> None:
        super().__init__(texts)
        self.forms = dict(forms or {})

    def __repr__(self) -> str:
        return f"Sentences({dict(self)!r}, {self.forms!r})"

    def say(self, key: str, /, **facts: object) -> str:
        """The sentence with its facts."""
        return self[key].format_map(facts)

    def count(self, key: str, value: float, digits: int = 0, /, **facts: object) -> str:
        """The sentence about so many of a thing, in the form that its language has for it."""
        forms = self.forms.get(key, {})
        text = forms.get(plural_form(value, digits), self[key])
        return text.format_map({"count": plain(value, digits), **facts})

    def one_of(self, start: str, end: str, ends: Collection[str], /, **facts: object) -> str:
        """The sentence whose key is `start` and one of these ends."""
        if end not in ends:
            raise KeyError(f"{start}{end} is declared nowhere")
        text = self[start + end]
        return text.format_map(facts) if facts else text

    def pattern(self, key: str, /, *_facts: str) -> str:
        """The sentence as a pattern whose facts, named here, the page's script puts in."""
        return self[key]


Fact = str | int | float | Callable[[Sentences], str]
"""What is filled in; a function gets the sentences, where the fact has words of its own."""


class Untold(ValueError):  # noqa: N818  # it is not told yet: words are put to it where it is shown
    """Something that cannot be used: which sentence of the faults says so, and its facts."""

    def __init__(self, key: str, /, **facts: Fact) -> None:
        super().__init__(key, facts)
        self.key = key
        self.facts = facts

    def told(self, faults: Sentences) -> str:
        """The fault in words."""
        facts = {
            name: each(faults) if callable(each) else each for name, each in self.facts.items()
        }
        return faults.say(self.key, **facts)
