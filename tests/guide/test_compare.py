"""What an edit changes, counted and grouped by the edit that changes it."""

import json
import subprocess
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from engine.conversation import Conversation
from engine.links import path_of
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.wording.sentences import Sentences
from guide import reports
from guide.compare import WHAT, Comparison, compare
from guide.compare_edits import MOST_BY_THEMSELVES, edits_between, tried_of
from guide.compare_source import SourceError, content_of
from guide.load import load_guide
from tests.guide.shops import demo, edited, small


@pytest.fixture(scope="module")
def base() -> Guide:
    return small(demo())


def with_shelf(guide: Guide, shelf: str, change: Any) -> Guide:
    """The guide with every article of a shelf put through `change`."""
    articles = tuple(change(each) for each in getattr(guide.catalogue, shelf))
    return replace(guide, catalogue=replace(guide.catalogue, **{shelf: articles}))


def recommended(guide: Guide) -> dict[str, str]:
    """The unit of each way through the short path."""
    found = {}
    for branch in Conversation(guide).branches(Answers({})):
        best = branch.outcome.best
        found[path_of(guide, branch.answers)] = best.candidate.inverter.id if best else ""
    return found


def dearer(guide: Guide, unit: str, more: float) -> Guide:
    return with_shelf(
        guide,
        "inverters",
        lambda each: replace(each, price=each.price + more) if each.id == unit else each,
    )


def cause(found: Comparison, name: str) -> int:
    """How many answers the edits of one cause move."""
    return sum(each.count for each in found.causes if each.edit and each.edit.cause == name)


def test_the_same_edition_changes_nothing(base: Guide) -> None:
    found = compare(base, base)
    assert (found.changed, found.causes, found.still, found.added, found.gone) == (
        0,
        (),
        (),
        (),
        (),
    )
    assert found.answers > 0


def test_a_price_that_changes_by_less_than_a_dollar_and_one_of_a_cable_are_told_exactly(
    base: Guide,
) -> None:
    lug, cable = base.catalogue.lugs[0], base.catalogue.cables[0]
    dearer_lugs = with_shelf(base, "lugs", lambda each: replace(each, price=14.5))
    before = with_shelf(base, "lugs", lambda each: replace(each, price=14.0))
    now = with_shelf(dearer_lugs, "cables", lambda each: replace(each, price=each.price + 0.25))
    said = [edit.what for edit in edits_between(before, now)]
    assert f"{lug.name}: $14 → $14 (14 → 14.5)" in said
    first, second = f"{cable.price:.2f}", f"{cable.price + 0.25:.2f}"
    assert f"{cable.name}: {first.rstrip('0')} → {second.rstrip('0')} a meter" in said


def test_a_price_moves_answers_from_one_set_up_to_another(base: Guide) -> None:
    before = recommended(base)
    unit = max(set(before.values()), key=lambda each: list(before.values()).count(each))
    edit = dearer(base, unit, 3000)
    after = recommended(edit)
    found = compare(base, edit)
    names = {each.id: each.name for each in base.catalogue.inverters}
    moved = [move for each in found.causes for move in each.moves if move.what == WHAT[0]]
    assert cause(found, "price") == found.changed > 0
    assert moved
    assert all(names[unit] in move.before for move in moved)
    assert all(names[unit] not in move.now for move in moved)
    for move in moved:  # the example is one that moved
        said = {pair for pair in move.example.split("/") if not pair.endswith("=unsure")}
        ways = [way for way in before if said <= set(way.split("/"))]
        assert any(before[way] == unit != after[way] for way in ways)
    title = found.causes[0].title
    assert names[unit] in title
    assert "→" in title


def test_each_edit_is_told_by_itself_and_what_only_both_do_together(base: Guide) -> None:
    before = recommended(base)
    unit = max(set(before.values()), key=lambda each: list(before.values()).count(each))
    edit = dearer(base, unit, 3000)
    lists = tuple(
        replace(each, counts=0.0) if each.measure == "parts-price" else each
        for each in edit.priorities.list
    )
    edit = replace(edit, priorities=replace(edit.priorities, list=lists))
    found = compare(base, edit)
    assert {each.edit.cause for each in found.causes if each.edit} <= {"price", "priority"}
    assert cause(found, "price") > 0
    assert cause(found, "priority") > 0


def test_stock_limits_planning_loads_and_cautions_have_their_own_causes(base: Guide) -> None:
    edit = with_shelf(
        base, "batteries", lambda each: replace(each, stock="out-of-stock", usable=each.usable / 2)
    )
    hungry = tuple(
        replace(each, running=each.running * 1.3) if each.id == "lights" else each
        for each in edit.appliances
    )
    edit = replace(
        edit,
        planning=replace(edit.planning, load_margin=1.4),
        appliances=hungry,
        cautions=edit.cautions[1:],
    )
    found = compare(base, edit)
    told = {each.edit.cause for each in found.causes if each.edit}
    told |= {each.cause for each in found.still}
    assert told == {"stock", "limit", "planning figure", "load", "caution"}
    assert found.changed == found.answers


def test_wording_changes_no_answer_and_is_told(base: Guide) -> None:
    words = replace(base.wording, page=Sentences({**base.wording.page, "why-this": "Because"}))
    found = compare(base, replace(base, wording=words))
    assert found.changed == 0
    assert [(each.cause, each.acts) for each in found.still] == [("wording", False)]
    assert "why-this" in found.still[0].what


def test_a_question_that_goes_makes_pages_go(base: Guide) -> None:
    fewer = tuple(each for each in base.questions if each.id != "softstart")
    asked = next(each for each in base.questions if each.id == "softstart")
    found = compare(base, replace(base, questions=fewer))
    assert found.gone
    assert all(f"{asked.id}=" in path for path in found.gone)


def test_an_article_that_is_new_or_gone_is_an_edit(base: Guide) -> None:
    units = base.catalogue.inverters
    gone = replace(base, catalogue=replace(base.catalogue, inverters=units[1:]))
    assert [edit.cause for edit in edits_between(base, gone)] == ["item gone"]
    assert [edit.cause for edit in edits_between(gone, base)] == ["new item"]
    back = edits_between(gone, base)[0].applied(gone)
    assert {each.id for each in back.catalogue.inverters} == {each.id for each in units}


def test_a_discontinued_article_leaves_the_shelf_in_its_edit(base: Guide) -> None:
    unit = base.catalogue.inverters[0]
    old = replace(unit, stock="discontinued")
    new = replace(
        base,
        catalogue=replace(base.catalogue, inverters=base.catalogue.inverters[1:]),
        discontinued=(*base.discontinued, old),
    )
    (edit,) = edits_between(base, new)
    assert edit.cause == "stock"
    assert unit.id not in {each.id for each in edit.applied(base).catalogue.inverters}


def test_very_many_new_prices_are_one_edit_a_shelf(base: Guide) -> None:
    many = with_shelf(base, "cables", lambda each: replace(each, price=each.price * 1.1))
    many = replace(
        many,
        catalogue=replace(
            many.catalogue,
            lugs=tuple(replace(each, price=each.price * 1.1) for each in many.catalogue.lugs),
        ),
    )
    assert len(edits_between(base, many)) == len(base.catalogue.cables) + len(base.catalogue.lugs)
    lugs = tuple(
        replace(each, id=f"{each.id}-{at}") for each in base.catalogue.lugs for at in range(3)
    )
    wide = replace(base, catalogue=replace(base.catalogue, lugs=lugs))
    assert len(lugs) > MOST_BY_THEMSELVES
    (edit,) = edits_between(
        wide, with_shelf(wide, "lugs", lambda each: replace(each, price=each.price * 2))
    )
    assert str(len(lugs)) in edit.what
    assert edit.applied(wide).catalogue.lugs[0].price == lugs[0].price * 2


def test_text_data_and_page_say_the_same(base: Guide) -> None:
    found = compare(base, dearer(base, base.catalogue.inverters[0].id, 1))
    data = json.loads(reports.as_json(found))
    counted = f"{found.changed} of {found.answers} answers change"
    assert counted in reports.compare_text(found)
    assert counted in reports.compare_html(found)
    assert (data["changed"], data["answers"]) == (found.changed, found.answers)
    assert len(data["without_effect"]) == len(found.still)


def test_a_zip_and_a_folder_hold_the_same_content(tmp_path: Path) -> None:
    folder = edited(tmp_path / "content")
    packed = tmp_path / "old.zip"
    with zipfile.ZipFile(packed, "w") as archive:
        for file in folder.rglob("*.yaml"):
            archive.write(file, Path("shop") / file.relative_to(folder))
    with content_of(str(packed)) as unpacked, content_of(str(folder)) as found:
        assert load_guide(unpacked).edition == load_guide(found).edition == demo().edition


def test_a_zip_that_would_write_elsewhere_is_refused(tmp_path: Path) -> None:
    packed = tmp_path / "bad.zip"
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("../outside/shop.yaml", "")
    with pytest.raises(SourceError, match="outside"), content_of(str(packed)):
        pass


def test_what_holds_no_content_is_refused(tmp_path: Path) -> None:
    for named in (str(tmp_path), "no-such-revision", "--output=x"):
        with pytest.raises(SourceError), content_of(named):
            pass


def committed(folder: Path) -> None:
    """Put a folder under git as it is."""
    run = ["git", "-c", "user.name=shop", "-c", "user.email=shop@shop.example"]
    for command in (["init", "-q"], ["add", "."], ["commit", "-q", "-m", "content"]):
        subprocess.run([*run, *command], cwd=folder, check=True, capture_output=True)


@pytest.mark.parametrize("inside", [".", "guide/content"])
def test_a_revision_is_that_of_the_content_that_is_meant(tmp_path: Path, inside: str) -> None:
    """Not of the repository in which this guide lies."""
    folder = edited(tmp_path / inside, ("shop.yaml", "invented: true", "invented: false"))
    committed(tmp_path)
    kept = load_guide(folder).edition
    (folder / "shop.yaml").write_text("broken")
    with content_of("HEAD", folder) as found:
        assert load_guide(found).edition == kept
    assert kept != demo().edition


def test_a_revision_of_what_is_in_no_repository_is_refused(tmp_path: Path) -> None:
    folder = edited(tmp_path / "content")
    with (
        pytest.raises(SourceError, match=r"“HEAD” is no folder.*content"),
        content_of("HEAD", folder),
    ):
        pass


def test_very_many_edits_are_tried_by_their_cause(base: Guide) -> None:
    other = base
    for shelf in ("inverters", "batteries", "fuses", "lugs"):
        other = with_shelf(other, shelf, lambda each: replace(each, price=each.price * 2 + 1))
        other = with_shelf(other, shelf, lambda each: replace(each, stock="out-of-stock"))
    acting = [each for each in edits_between(base, other) if each.acts]
    assert len(acting) > MOST_BY_THEMSELVES
    tried = tried_of(acting)
    assert [each.cause for each in tried] == list(dict.fromkeys(each.cause for each in acting))
    assert tried_of(acting[:MOST_BY_THEMSELVES]) == tuple(acting[:MOST_BY_THEMSELVES])
    changed = base
    for each in tried:
        changed = each.applied(changed)
    assert changed.catalogue == other.catalogue
