"""Markup is escaped by construction: whatever text goes in, it comes out as text."""

import html.parser
import random
import xml.etree.ElementTree as ET

import pytest
from thickset.faces.words.markup import Markup, el, join, number, text

HOSTILE = (
    "<script>alert(1)</script>",
    "\"><img src=x onerror='alert(1)'>",
    "'; --></style><svg/onload=alert(1)>",
    "]]>&lt;b&gt;&#x3c;",
    "\x00\x08\x1b[31m\x7f\x85\ufffe\ud800",
    "\u202etxt.exe \u2028\u2029",
    "`${alert(1)}` {{1+1}} <!--",
    "Ωmega 板 \U0001f332",
)


class Seen(html.parser.HTMLParser):
    """What a browser would make of it: tags, attributes and the text."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.tags, self.attributes, self.data = [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs

    def handle_data(self, data):
        self.data.append(data)

    def handle_comment(self, data):
        self.tags.append("comment")


def seen(markup):
    parser = Seen()
    parser.feed(markup)
    parser.close()
    return parser


@pytest.mark.parametrize("hostile", HOSTILE)
def test_hostile_text_stays_text(hostile):
    found = seen(el("p", hostile, title=hostile))
    assert found.tags == ["p"]
    clean = "".join(found.data)
    assert clean == found.attributes[0][1]
    assert len(clean) == len(hostile)
    assert all(b in (a, "\ufffd") for a, b in zip(hostile, clean, strict=True))


def test_any_text_stays_text():
    chance = random.Random(7)
    signs = "<>&\"'`=/;!-#x [](){}\x00\x01\t\n\x1f\x7f\x9f" + "".join(HOSTILE)
    for _ in range(3000):
        given = "".join(chance.choice(signs) for _ in range(chance.randrange(1, 40)))
        made = el("li", given, el("b", given), data_at=given)
        assert seen(made).tags == ["li", "b"]
        root = ET.fromstring(made)
        assert [element.tag for element in root.iter()] == ["li", "b"]
        assert set(root.keys()) == {"data-at"}


def test_no_element_carries_style_script_or_handlers():
    for tag in ("script", "iframe", "object", "base", "p onclick", "p>", "Form", "form"):
        with pytest.raises(ValueError, match="allows no element"):
            el(tag)
    for name in ("style", "onclick", "onload", "on_click", "a b", 'x"', "Style"):
        with pytest.raises(ValueError, match="allows no attribute"):
            el("p", **{name: "x"})


def test_attributes_are_left_out_stand_alone_or_hold_a_value():
    assert el("input", type="checkbox", checked=True, disabled=False, id=None) == '<input type="checkbox" checked/>'
    assert el("rect", x=1.50001, stroke_width=2, viewBox="0 0 1 1") == (
        '<rect x="1.5" stroke-width="2" viewBox="0 0 1 1"></rect>'
    )


def test_only_markup_goes_in_as_it_is():
    assert el("p", "<i>") == "<p>&lt;i&gt;</p>"
    assert el("p", Markup("<i></i>")) == "<p><i></i></p>"
    assert join(["<", None, 2], "&") == "&lt;&amp;2"
    assert type(text("plain")) is Markup
    # A text made from markup by hand is plain text again.
    assert el("p", el("b", "x") + "") == "<p>&lt;b&gt;x&lt;/b&gt;</p>"


def test_numbers_are_short_and_never_minus_nothing():
    assert [number(value) for value in (0.0, -0.0, 10.0, 0.125, -2.5, 1e6)] == [
        "0",
        "0",
        "10",
        "0.12",
        "-2.5",
        "1000000",
    ]
