"""The drawings of how to set up and measure: each says in words what it shows, and carries no color of its own."""

import xml.etree.ElementTree as ET

import pytest
from thickset.faces.picture.how_to import DRAWINGS, WIDTH, how_to


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_says_what_it_shows_and_leaves_colors_to_the_palette(name):
    drawing = ET.fromstring(how_to(name))
    svg = drawing.find("svg")
    assert svg is not None
    title = svg.findtext("title")
    assert title
    assert len(title) > 60
    for element in drawing.iter():
        assert not {"fill", "stroke", "style", "font-size"} & set(element.attrib)


@pytest.mark.parametrize("name", DRAWINGS)
def test_no_lettering_leaves_the_drawing(name):
    """Letters of 14 px are at most 8 px wide on average."""
    drawing = ET.fromstring(how_to(name))
    for text in drawing.iter("text"):
        wide, x = len(text.text or "") * 7.2, float(text.get("x", 0))
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.get("text-anchor", "start")]
        assert left >= -2
        assert left + wide <= WIDTH + 2
