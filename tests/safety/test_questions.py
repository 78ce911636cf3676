"""What a question says that must not be misread."""

from engine.respond import respond_to
from tests.guide.shops import demo


def test_a_plug_is_told_by_size_and_blades_and_never_by_the_number_of_prongs() -> None:
    """A household plug and a TT-30 have three prongs each: NEMA WD 6, from memory."""
    for path in ("", "rig=unsure/"):
        html = respond_to(demo(), path).html
        assert "(TT-30)" in html and "(14-50)" in html, path
        assert "with three prongs" not in html and "with four prongs" not in html, path
    assert "the number of prongs alone does not tell" in respond_to(demo(), "rig=unsure/").html
