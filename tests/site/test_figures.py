"""The explanatory pages: their figures are the engine's, their links and pictures are there."""

import re
from dataclasses import replace

import pytest

from engine.model.guide import Guide
from engine.respond import respond_to
from engine.sizing import cooling, inverter, shore, terminals
from engine.standards.services import SERVICES
from engine.units import show
from engine.wording.tongue import money, plain
from guide.check_pages import DOCS
from site_src.build.explained import Filler, PageError
from tests.guide.shops import demo
from tests.site.conftest import words_of

PAGES = sorted(path.relative_to(DOCS).as_posix() for path in (DOCS / "explained").glob("*.md"))
EXPLAINED = [page for page in PAGES if page != "explained/index.md"]
THEME = DOCS.parent / "theme" / "assets"


@pytest.fixture(scope="module")
def guide() -> Guide:
    return demo()


@pytest.fixture(scope="module")
def filler(guide: Guide) -> Filler:
    return Filler(guide)


def filled(filler: Filler, page: str) -> str:
    file = f"explained/{page}.md"
    return words_of(filler.fill((DOCS / file).read_text(encoding="utf-8"), file))


@pytest.mark.parametrize("service", SERVICES)
def test_the_plug_page_shows_what_each_service_gives(filler: Filler, service: str) -> None:
    found = SERVICES[service]
    given_va = shore.pass_through_va(found.amps, found.volts, found.legs)
    planned_a = shore.planning_current_a(found.amps)
    row = f"| {show(given_va, 'VA')} | {plain(planned_a)} A on each |"
    assert row in filled(filler, "plug-and-service")


def test_the_plug_page_shows_what_an_adapter_leaves(filler: Filler) -> None:
    left_va = shore.pass_through_va(30.0, 120.0, 1)
    assert f"you have {show(left_va, 'VA')}" in filled(filler, "plug-and-service")


def test_the_page_on_two_units_shows_both_neutral_currents(filler: Filler) -> None:
    text = filled(filler, "one-or-two-units")
    added_a = shore.neutral_current_in_phase_a(15.0, 12.0)
    cancelled_a = shore.neutral_current_split_a(15.0, 12.0)
    assert f"15 A and 12 A make {plain(added_a)} A in one wire" in text
    assert f"15 A and 12 A leave {plain(cancelled_a)} A" in text


@pytest.mark.parametrize(
    ("page", "path"),
    [
        ("whole-or-some", "rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=no/"),
        ("whole-or-some", "rig=coach-50/scope=some/heavy=1/biggest=cooking/v240=no/"),
        (
            "one-or-two-units",
            "rig=coach-50/scope=whole/heavy=1/biggest=aircon-13k5/softstart=no/v240=no/",
        ),
        (
            "one-or-two-units",
            "rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=no/",
        ),
    ],
)
def test_an_example_is_the_answer_of_its_own_page(
    filler: Filler, guide: Guide, page: str, path: str
) -> None:
    advice = respond_to(guide, path).answer.advice
    assert advice is not None
    assert advice.best.design is not None
    design, text = advice.best.design, filled(filler, page)
    assert money(round(design.parts_price, -1)) in text
    assert show(design.mass_kg, "kg") in text
    assert f"{design.candidate.units} × {design.candidate.inverter.maker}" in text
    source = filler.fill((DOCS / f"explained/{page}.md").read_text("utf-8"), f"explained/{page}.md")
    assert f'href="../guide/{path}index.html"' in source


def test_the_page_on_terminals_shows_the_ferrules_of_the_standard(filler: Filler) -> None:
    text = filled(filler, "terminals")
    for awg in ("14", "12", "10", "8", "6"):
        bare = ", ".join(plain(m * 1000) for m in terminals.ferrule_barrels_m(awg, insulated=False))
        area = plain(terminals.ferrule_area_mm2(awg), 2)
        assert f"| {awg} AWG | {area} mm² | {bare} mm |" in text
    strip_m = terminals.strip_length_m(terminals.PUSH_IN_BARREL_M, insulated=False)
    assert f"Strip {show(strip_m, 'm')}" in text


def test_the_page_on_mounting_shows_heat_and_air_of_its_unit(filler: Filler, guide: Guide) -> None:
    text = filled(filler, "mounting")
    unit = next(each for each in guide.catalogue.inverters if each.id == "tall-24v-3200va")
    curve = inverter.fit_losses(unit.efficiency, unit.idle)
    for load_w in (500.0, 1000.0, 1500.0, 2500.0):
        heat_w = inverter.heat_w(curve, load_w)
        air = cooling.airflow_m3_per_h(heat_w, guide.planning.allowed_rise_k, 0.0, 35.0)
        assert f"| {show(round(heat_w), 'W')} | {show(air, 'm^3/h')} |" in text
    for ambient_c, given_w in unit.continuous:
        assert f"| {show(ambient_c, 'degC')} | {show(given_w, 'W')} |" in text


def test_a_page_with_a_typed_figure_stops_the_build(filler: Filler) -> None:
    with pytest.raises(PageError, match=r"12\.5 A"):
        filler.fill("It draws 12.5 A.", "explained/one.md")


def test_a_link_to_a_state_that_the_guide_has_not_stops_the_build(filler: Filler) -> None:
    with pytest.raises(PageError, match="rig=boat"):
        filler.fill('{{ go("rig=boat/", "On a boat") }}', "explained/one.md")


def meta(page: str, name: str) -> str:
    """What a page's head says of it."""
    found = re.search(rf"^{name}: (.+)$", (DOCS / page).read_text("utf-8"), re.MULTILINE)
    assert found, f"{page} has no {name}"
    return found[1]


@pytest.mark.parametrize("page", EXPLAINED)
def test_a_page_has_a_picture_of_our_own_that_is_told_in_words(filler: Filler, page: str) -> None:
    html = filler.fill((DOCS / page).read_text("utf-8"), page)
    figures = re.findall(r'<figure class="rig-figure">.*?</figure>', html, re.DOTALL)
    assert figures
    for figure in figures:
        pictures = re.findall(r"<svg[^>]*>", figure)
        assert pictures
        for picture in pictures:
            assert 'role="img"' in picture
            assert re.search(r'aria-label="[^"]{12,}"', picture), picture
        assert re.search(r"<figcaption>[^<]+</figcaption>", figure)


@pytest.mark.parametrize("page", EXPLAINED)
def test_a_page_leads_into_the_guide(filler: Filler, page: str) -> None:
    html = filler.fill((DOCS / page).read_text("utf-8"), page)
    assert re.search(r'<a class="rig-go" href="\.\./guide/[^"]*index\.html', html)


@pytest.mark.parametrize("page", EXPLAINED)
def test_a_search_result_of_a_page_is_whole(page: str) -> None:
    assert len(meta(page, "title")) <= 60
    assert 50 <= len(meta(page, "description")) <= 160


def test_no_two_pages_look_alike_in_a_search() -> None:
    for name in ("title", "description"):
        assert len({meta(page, name) for page in EXPLAINED}) == len(EXPLAINED)


def test_every_page_is_in_the_navigation_and_linked_from_another(filler: Filler) -> None:
    navigation = (DOCS.parent.parent / "mkdocs.yml").read_text("utf-8")
    texts = {page: filler.fill((DOCS / page).read_text("utf-8"), page) for page in EXPLAINED}
    for page in EXPLAINED:
        assert f": {page}\n" in navigation
        link = f"({page.rpartition('/')[2]})"
        assert [other for other, text in texts.items() if other != page and link in text], page


def test_a_shop_that_shows_few_pages_links_to_no_other(guide: Guide) -> None:
    few = tuple(page for page in guide.explanations if page.id in ("cable", "fuses"))
    filler = Filler(replace(guide, explanations=few))
    text = filler.fill((DOCS / "explained/cable.md").read_text("utf-8"), "explained/cable.md")
    assert set(re.findall(r"\(([a-z-]+)\.md\)", text)) == {"fuses"}


def test_a_detail_that_the_guide_does_not_know_stops_the_build(filler: Filler) -> None:
    path = "rig=van/scope=whole/heavy=0/"
    assert "#nights=2" in filler.address("../", path, "nights=2")
    with pytest.raises(PageError, match="nights"):
        filler.address("../", path, "nights=many")


def test_a_piece_that_cannot_work_stops_the_build(filler: Filler) -> None:
    with pytest.raises(PageError, match="drop"):
        filler.piece("drop", length="far")


def test_every_explanatory_page_is_listed_and_every_listed_one_is_there(guide: Guide) -> None:
    listed = {f"explained/{page.id}.md" for page in guide.explanations}
    assert listed == set(PAGES) - {"explained/index.md"}


def test_an_answer_links_to_its_explanatory_pages_beside_the_numbers(guide: Guide) -> None:
    path = "rig=van/scope=whole/heavy=0/"
    html = respond_to(guide, path).html
    for page in guide.explanations:
        if page.beside:
            assert f'<a href="{"../" * 4}explained/{page.id}.html">{page.title}</a>' in html


def test_a_question_links_to_the_page_that_explains_it(guide: Guide) -> None:
    assert '<a href="../explained/plug-and-service.html">' in respond_to(guide, "").html


def test_every_choice_with_a_picture_has_it_drawn(guide: Guide) -> None:
    names = {choice.picture for question in guide.questions for choice in question.choices}
    missing = {
        name for name in names if name and not (THEME / "pictures" / f"{name}.svg").is_file()
    }
    assert missing == set()


def test_pictures_are_drawn_here_and_load_nothing() -> None:
    for file in (THEME / "pictures").glob("*.svg"):
        text = file.read_text(encoding="utf-8")
        assert not re.search(r"<image|<script|href=|url\(", text), file.name


def test_the_list_of_pages_by_subject_leaves_none_out(filler: Filler) -> None:
    html = filler.fill((DOCS / "explained/index.md").read_text("utf-8"), "explained/index.md")
    linked = re.findall(r'href="\.\./explained/([a-z-]+)\.html"', html)
    assert sorted(linked) == sorted(
        page.removesuffix(".md")[len("explained/") :] for page in EXPLAINED
    )
