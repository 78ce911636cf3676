"""The conversation in a terminal."""

from collections.abc import Iterator

from guide.trial import converse
from tests.guide.shops import demo


def conversation(*typed: str) -> str:
    """What is said when somebody types these lines and then leaves."""
    lines: Iterator[str] = iter(typed)
    said: list[str] = []

    def ask(prompt: str) -> str:
        said.append(prompt)
        try:
            return next(lines)
        except StopIteration:
            raise EOFError from None

    converse(demo(), ask, said.append)
    return "\n".join(said)


def ask_of(name: str) -> str:
    return demo().question(name).ask


def test_numbers_and_ids_lead_to_the_same_answer() -> None:
    by_id = conversation("van", "whole", "1")
    assert conversation("1", "1", "1") == by_id
    assert demo().wording.page["recommended"] in by_id


def test_why_is_told_and_the_question_stays() -> None:
    said = conversation("?", "van")
    assert demo().question("rig").why in said
    assert demo().question("rig").unsure in said
    assert ask_of("scope") in said


def test_back_asks_the_question_before_again() -> None:
    said = conversation("van", "b", "coach-50")
    assert said.count(ask_of("rig")) == 2
    assert said.count(ask_of("scope")) == 2


def test_back_from_the_first_question_leaves() -> None:
    assert conversation("b", "van").count(ask_of("scope")) == 0


def test_what_is_no_choice_is_told_and_asked_again() -> None:
    said = conversation("boat", "9", "van")
    assert "“boat” is none of 1 to 4" in said
    assert "“9” is none of 1 to 4" in said
    assert ask_of("scope") in said


def test_not_sure_is_a_choice() -> None:
    assert ask_of("plug") in conversation("unsure")
    assert ask_of("plug") in conversation("4")


def test_details_change_the_answer_and_faults_are_told() -> None:
    said = conversation("van", "whole", "1", "cable=tall", "cable=20ft")
    assert "cable" in said
    assert said.count(demo().wording.page["recommended"]) == 2
    assert "20 ft (6.1 m)" in said


def test_leaving_ends_it() -> None:
    assert conversation("q", "van").count(ask_of("scope")) == 0
