"""Photos of a recipe: rewritten without metadata, within limits, and the owner's alone."""

from __future__ import annotations

import io
import re
import struct
import time
import zipfile
import zlib
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image, ImageFile, PngImagePlugin

from recipes.models import Photo
from recipes.photos import images as photos
from recipes.photos.services import MOST_PHOTOS, add_photo
from tests.factories import RevisionFactory
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
PAGE = "/recipes/bread/photos/"
CANARY = b"CANARY-ORCHARD-LANE-7"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


def encoded(size=(64, 48), kind="JPEG", mode="RGB", color=None, **options) -> bytes:
    written = io.BytesIO()
    Image.new(mode, size, color or 0).save(written, kind, **options)
    return written.getvalue()


def with_metadata() -> bytes:
    """A JPEG that tells maker, place and time in EXIF, and more in a comment and in XMP."""
    exif = Image.Exif()
    exif[0x010F] = CANARY.decode()
    exif[0x0132] = "2026:01:01 12:00:00"
    exif.get_ifd(0x8825).update({1: "N", 2: (52.0, 30.0, 0.0), 29: CANARY.decode()})
    xmp = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'>" + CANARY + b"</x:xmpmeta>"
    return encoded(exif=exif, comment=CANARY, xmp=xmp, icc_profile=CANARY)


def uploaded(data: bytes, name="loaf.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, content_type="image/jpeg")


def add(client, data: bytes, alt="A cut loaf", name="loaf.jpg"):
    return client.post(PAGE, {"picture": uploaded(data, name), "alt": alt})


def body(answer) -> bytes:
    data = answer.getvalue()
    answer.close()
    return data


# Adding one


def test_a_photo_is_added_shown_and_described(instructor_client, bread):
    assert add(instructor_client, encoded()).headers["Location"] == PAGE
    photo = Photo.objects.get()
    assert photo.recipe == bread.recipe
    content = instructor_client.get(PAGE).content.decode()
    assert f'<img src="{PAGE}{photo.pk}/" alt="A cut loaf"' in content
    assert f'src="{PAGE}{photo.pk}/"' in instructor_client.get("/recipes/bread/").content.decode()


def test_the_picture_comes_as_a_jpeg_that_nobody_may_sniff(instructor_client, bread):
    add(instructor_client, encoded(kind="PNG"), name="loaf.png")
    answer = instructor_client.get(f"{PAGE}{Photo.objects.get().pk}/")
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert "private" in answer.headers["Cache-Control"]
    assert Image.open(io.BytesIO(body(answer))).format == "JPEG"


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(encoded(), id="jpeg"),
        pytest.param(encoded(progressive=True), id="progressive"),
        pytest.param(encoded(mode="CMYK"), id="cmyk"),
        pytest.param(encoded(kind="PNG", mode="P"), id="palette"),
        pytest.param(encoded(kind="PNG", mode="RGBA"), id="transparent"),
        pytest.param(encoded(kind="PNG", mode="I;16"), id="16 bit"),
        pytest.param(encoded(kind="PNG", mode="1"), id="black and white"),
        pytest.param(encoded(kind="PNG", mode="LA"), id="gray with alpha"),
        pytest.param(encoded(kind="WEBP"), id="webp"),
    ],
)
def test_the_usual_pictures_are_taken(data):
    with Image.open(io.BytesIO(photos.rewritten(data))) as written:
        assert (written.format, written.mode, written.size) == ("JPEG", "RGB", (64, 48))


def test_what_is_clear_becomes_white():
    data = encoded(kind="PNG", mode="RGBA", color=(255, 0, 0, 0))
    with Image.open(io.BytesIO(photos.rewritten(data))) as written:
        assert min(written.getpixel((5, 5))) > 250


def test_16_bit_grays_keep_their_tone():
    data = encoded(kind="PNG", mode="I;16", color=32768)
    with Image.open(io.BytesIO(photos.rewritten(data))) as written:
        assert abs(written.getpixel((5, 5))[0] - 128) < 4


@pytest.mark.parametrize(
    ("size", "expected"),
    [((4000, 1000), (1600, 400)), ((900, 3200), (450, 1600)), ((300, 200), (300, 200))],
)
def test_the_longer_side_is_at_most_1600_pixels(size, expected):
    with Image.open(io.BytesIO(photos.rewritten(encoded(size)))) as written:
        assert written.size == expected


def test_a_picture_taken_on_its_side_stands_upright():
    exif = Image.Exif()
    exif[0x0112] = 6  # turn by 90 degrees
    with Image.open(io.BytesIO(photos.rewritten(encoded((64, 32), exif=exif)))) as written:
        assert written.size == (32, 64)


# What the camera noted


def test_the_canary_is_in_the_picture_to_begin_with():
    data = with_metadata()
    assert data.count(CANARY) >= 4
    assert Image.open(io.BytesIO(data)).getexif().get_ifd(0x8825)


def test_place_maker_comment_and_profile_are_gone(instructor_client, bread, media):
    add(instructor_client, with_metadata())
    picture = body(instructor_client.get(f"{PAGE}{Photo.objects.get().pk}/"))
    with Image.open(io.BytesIO(picture)) as written:
        assert not written.getexif()
        assert written.info.keys() <= {
            "jfif", "jfif_version", "jfif_unit", "jfif_density", "progressive", "progression",
        }  # fmt: skip
    stored = [path.read_bytes() for path in media.rglob("*") if path.is_file()]
    assert stored == [picture]
    assert CANARY not in picture


def test_text_in_a_png_is_gone():
    told = PngImagePlugin.PngInfo()
    told.add_text("Comment", CANARY.decode())
    told.add_itxt("XML:com.adobe.xmp", CANARY.decode(), zip=True)
    assert CANARY not in photos.rewritten(encoded(kind="PNG", pnginfo=told))


def test_the_name_of_the_file_is_ours(instructor_client, bread, media):
    add(instructor_client, encoded(), name="../../etc/My kitchen at home.JPG")
    [path] = [one for one in media.rglob("*") if one.is_file()]
    assert path.parent == media / "photos"
    assert "kitchen" not in path.name
    assert path.suffix == ".jpg"


# What is refused


def png_of(width: int, height: int, rows: bytes = b"") -> bytes:
    """A PNG that claims a size; its rows compress to nearly nothing."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        crc = zlib.crc32(kind + data)
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", crc)

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )  # fmt: skip


def jpeg_claiming(width: int, height: int) -> bytes:
    data = encoded()
    at = data.index(b"\xff\xc0") + 5
    return data[:at] + struct.pack(">HH", height, width) + data[at + 4 :]


def many_scans() -> bytes:
    """A progressive JPEG whose last scan comes a thousand times over."""
    data = encoded((512, 512), progressive=True)
    last = data.rindex(b"\xff\xda")
    return data[:last] + data[last:-2] * 1000 + data[-2:]


def archive() -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w") as packed:
        packed.writestr("a.txt", "hidden")
    return written.getvalue()


SVG = b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>"
REFUSED = [
    pytest.param(b"", "The file is empty", id="empty"),
    pytest.param(b"no picture at all", "not a photo we can read", id="text"),
    pytest.param(b"\x00" * 100_000, "not a photo we can read", id="zeros"),
    pytest.param(SVG, "more than a picture", id="svg with script"),
    pytest.param(b"<svg xmlns='x'/>", "not a photo we can read", id="svg"),
    pytest.param(encoded(kind="GIF", mode="P"), "not a photo we can read", id="gif"),
    pytest.param(encoded(kind="BMP"), "not a photo we can read", id="bmp"),
    pytest.param(encoded(kind="TIFF"), "not a photo we can read", id="tiff"),
    pytest.param(encoded(kind="PDF"), "more than a picture", id="pdf"),
    pytest.param(encoded((400, 400))[:300], "not a photo we can read", id="cut short"),
    pytest.param(encoded() + b"\x00" * 8_000_000, "at most 8 MB", id="too many bytes"),
    pytest.param(encoded((5, 5)), "too small", id="too small"),
    pytest.param(png_of(60_000, 60_000, b"\0" * 1000), "25 million pixels", id="png bomb"),
    pytest.param(png_of(5001, 5000, b"\0" * 1000), "25 million pixels", id="one column over"),
    pytest.param(png_of(2**31 - 1, 2**31 - 1), "million pixels", id="png beyond measure"),
    pytest.param(jpeg_claiming(65_000, 65_000), "million pixels", id="jpeg bomb"),
    pytest.param(jpeg_claiming(10_000, 5001), "50 million pixels", id="jpeg one row over"),
    pytest.param(many_scans(), "takes too long to read", id="jpeg of many scans"),
    pytest.param(encoded() + archive(), "more than a picture", id="jpeg and archive"),
    pytest.param(encoded(comment=b"<HTML><body>"), "more than a picture", id="jpeg and page"),
    pytest.param(encoded() + b"<?php echo 1;", "more than a picture", id="jpeg and program"),
    pytest.param(b"GIF89a/*" + SVG, "more than a picture", id="gif and script"),
]


@pytest.mark.parametrize(("data", "message"), REFUSED)
def test_what_is_no_plain_photo_is_refused_at_once(instructor_client, bread, media, data, message):
    began = time.process_time()
    answer = add(instructor_client, data, alt="Kept words")
    assert time.process_time() - began < 1
    assert answer.status_code == 200
    assert message in " ".join(answer.context["form"].errors["picture"])
    assert answer.context["form"]["alt"].value() == "Kept words"
    assert (Photo.objects.count(), list(media.rglob("*.*"))) == (0, [])


def noisy(kind: str, **options) -> bytes:
    """A picture whose data take up nearly all of its file."""
    written = io.BytesIO()
    Image.effect_noise((400, 400), 90).convert("RGB").save(written, kind, **options)
    return written.getvalue()


def with_a_flipped_byte(data: bytes) -> bytes:
    middle = len(data) // 2
    return data[:middle] + bytes([data[middle] ^ 0xFF]) + data[middle + 1 :]


@pytest.fixture
def press_has_begun(monkeypatch):
    """What the library of the press sets for the whole process when it is imported."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)


@pytest.mark.parametrize("kept", [0.3, 0.9])
@pytest.mark.parametrize(
    ("kind", "options"),
    [("JPEG", {}), ("JPEG", {"progressive": True}), ("PNG", {}), ("WEBP", {})],
    ids=["jpeg", "progressive", "png", "webp"],
)
def test_a_photo_cut_short_is_refused_after_the_press_has_begun(
    press_has_begun, kind, options, kept
):
    whole = noisy(kind, **options)
    assert photos.rewritten(whole)
    with pytest.raises(photos.NotAPhoto):
        photos.rewritten(whole[: int(len(whole) * kept)])


def test_a_png_whose_sums_do_not_agree_is_refused_after_the_press_has_begun(press_has_begun):
    with pytest.raises(photos.NotAPhoto):
        photos.rewritten(with_a_flipped_byte(noisy("PNG")))


def test_the_press_is_left_as_lenient_as_it_was(press_has_begun):
    photos.rewritten(encoded())
    with pytest.raises(photos.NotAPhoto):
        photos.rewritten(encoded()[:300])
    assert ImageFile.LOAD_TRUNCATED_IMAGES is True


def test_a_body_beyond_all_measure_is_refused_unread(instructor_client, bread):
    answer = add(instructor_client, b"x" * 8_200_000)
    assert answer.status_code == 413
    assert "at most 8 MB" in text_of(answer)


def peak_mb() -> int:
    """The most memory that this process has held since the peak was last reset."""
    status = Path("/proc/self/status").read_text()
    return int(re.search(r"VmHWM:\s+(\d+) kB", status)[1]) // 1024


@pytest.mark.skipif(not Path("/proc/self/clear_refs").exists(), reason="asks Linux for the peak")
def test_a_small_file_that_swells_is_not_held_in_memory():
    data = png_of(5001, 5000, b"\0" * (5001 * 3 + 1) * 5000)
    assert len(data) < 100_000
    Path("/proc/self/clear_refs").write_text("5")
    before = peak_mb()
    with pytest.raises(photos.TooLarge):
        photos.rewritten(data)
    assert peak_mb() - before < 20  # decoded it would be 75 MB


@pytest.mark.parametrize(
    ("alt", "message"),
    [("", "Say what the picture shows."), (" ", "Say what"), ("x" * 161, "at most 160 characters")],
)
def test_a_photo_needs_words(instructor_client, bread, alt, message):
    answer = add(instructor_client, encoded(), alt=alt)
    assert message in " ".join(answer.context["form"].errors["alt"])
    assert Photo.objects.count() == 0


def test_markup_in_the_words_stays_text(instructor_client, bread):
    add(instructor_client, encoded(), alt='"><script>alert(1)</script>')
    for address in (PAGE, "/recipes/bread/"):
        assert b"<script>alert" not in instructor_client.get(address).content


def test_a_recipe_has_at_most_twelve(instructor_client, bread):
    for n in range(MOST_PHOTOS):
        add_photo(recipe=bread.recipe, picture=b"x", alt=f"Loaf {n}")
    answer = add(instructor_client, encoded())
    assert "at most 12 photos" in text_of(answer)
    assert Photo.objects.count() == MOST_PHOTOS


# Removing one


def test_a_removed_photo_goes_with_its_file(
    instructor_client, bread, media, django_capture_on_commit_callbacks
):
    add(instructor_client, encoded())
    photo = Photo.objects.get()
    with django_capture_on_commit_callbacks(execute=True):
        answer = instructor_client.post(PAGE, {"remove": str(photo.pk)})
    assert answer.headers["Location"] == PAGE
    assert (Photo.objects.count(), list(media.rglob("*.jpg"))) == (0, [])
    assert instructor_client.get(f"{PAGE}{photo.pk}/").status_code == 404


@pytest.mark.parametrize("which", ["", "0", "-1", "x", "9" * 30, "²"])
def test_a_photo_that_is_not_there_cannot_be_removed(instructor_client, bread, which):
    assert instructor_client.post(PAGE, {"remove": which}).status_code == 404


def test_a_photo_whose_file_is_lost_is_missing(instructor_client, bread, media):
    photo = add_photo(recipe=bread.recipe, picture=b"x", alt="Lost")
    (media / photo.image.name).unlink()
    assert instructor_client.get(f"{PAGE}{photo.pk}/").status_code == 404


# Whose they are


@pytest.fixture
def photo(bread) -> Photo:
    return add_photo(recipe=bread.recipe, picture=encoded(), alt="A loaf")


def test_others_neither_see_nor_change_them(other_client, assistant_client, stranger, photo):
    for client in (other_client, assistant_client):
        assert client.get(f"{PAGE}{photo.pk}/").status_code == 404
        assert client.get(PAGE).status_code == 404
        assert client.post(PAGE, {"remove": str(photo.pk)}).status_code == 404
        assert add(client, encoded()).status_code == 404
    assert stranger.get(f"{PAGE}{photo.pk}/").headers["Location"].startswith("/sign-in/")
    assert Photo.objects.count() == 1


def test_a_photo_opens_only_under_its_own_recipe(instructor_client, instructor, photo):
    RevisionFactory(recipe__owner=instructor, recipe__slug="other")
    assert instructor_client.get(f"/recipes/other/photos/{photo.pk}/").status_code == 404
    answer = instructor_client.post("/recipes/other/photos/", {"remove": str(photo.pk)})
    assert answer.status_code == 404
    assert Photo.objects.count() == 1


def test_a_picture_has_no_address_but_this_one(instructor_client, photo):
    assert instructor_client.get(f"/media/{photo.image.name}").status_code == 404


def test_a_post_from_elsewhere_is_refused(instructor, photo):
    client = Client(enforce_csrf_checks=True)
    client.force_login(instructor)
    assert client.post(PAGE, {"remove": str(photo.pk)}).status_code == 403


def test_the_number_of_queries_does_not_grow(
    instructor_client, bread, django_assert_max_num_queries
):
    for _ in range(3):
        add_photo(recipe=bread.recipe, picture=b"x", alt="A loaf")
        with django_assert_max_num_queries(5):
            instructor_client.get(PAGE)
