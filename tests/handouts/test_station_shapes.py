"""The shapes of stations stay apart in black and white, whichever way they are turned."""

from __future__ import annotations

import io
import subprocess
from itertools import combinations

import pytest
from django.template.loader import render_to_string
from PIL import Image, ImageChops

from handouts.press.render import PageSize, print_html
from handouts.station_shapes import Shape, shapes_of

EDGE = 34  # Room to turn 8 mm at 72 dots an inch, a poor copy.
APART = 0.2


@pytest.fixture(scope="module")
def drawn():
    """Each shape as it is printed, black or white dot by dot."""
    markup = render_to_string("handouts/_shapes.html", {"shapes": list(Shape)})
    pages = [
        f"<html lang='en'><title>Shape</title><body>{one}</svg></body></html>"
        for one in markup.split("</svg>")[:-1]
    ]
    pdf = print_html(pages, "labels", PageSize.A4)
    made = subprocess.run(
        ["pdftoppm", "-r", "72", "-gray", "-"], input=pdf, capture_output=True, check=True
    )
    found = [Image.open(io.BytesIO(b"P5\n" + one)) for one in made.stdout.split(b"P5\n")[1:]]
    return dict(zip(Shape, (_squared(page) for page in found), strict=True))


def _squared(page):
    """The shape alone, without the lines of the page's head and foot."""
    corner = page.crop((50, 100, 100, 150))
    black = corner.point(lambda dot: 255 if dot < 128 else 0)
    box = black.getbbox()
    square = Image.new("L", (EDGE, EDGE))
    square.paste(black.crop(box), ((EDGE - box[2] + box[0]) // 2, (EDGE - box[3] + box[1]) // 2))
    return square


def share_apart(one, other):
    """What only one of them has, as a share of what either has."""
    either, both = ImageChops.lighter(one, other), ImageChops.darker(one, other)
    black, common = (sum(image.histogram()[128:]) for image in (either, both))
    return 1 - common / black


@pytest.mark.parametrize(
    ("one", "other"), list(combinations(Shape, 2)), ids=lambda shape: shape.words
)
def test_no_shape_is_another_one_turned(drawn, one, other):
    turned = [drawn[other].rotate(angle) for angle in (0, 45, 90, 135, 180, 225, 270, 315)]
    assert min(share_apart(drawn[one], shape) for shape in turned) >= APART


def test_stations_have_a_shape_each_in_the_order_of_the_kitchen():
    shapes = shapes_of([f"Bench {n}" for n in range(40)])
    assert shapes["Bench 0"] == (Shape.DISC,)
    assert shapes["Bench 11"] == (Shape.BALLS,)
    assert shapes["Bench 12"] == (Shape.DISC, Shape.DISC)
    assert len(set(shapes.values())) == 40
