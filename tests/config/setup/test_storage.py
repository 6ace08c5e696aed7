import pytest

from config.setup.static_files import StaticStorage


@pytest.fixture
def storage(tmp_path):
    (tmp_path / "fonts").mkdir()
    (tmp_path / "fonts" / "there.woff2").write_bytes(b"font")
    return StaticStorage(location=tmp_path, base_url="/static/")


def test_a_font_that_was_made_gets_a_hashed_name(storage):
    name = storage.hashed_name("fonts/there.woff2")

    assert name.startswith("fonts/there.")
    assert name != "fonts/there.woff2"


def test_a_font_that_was_never_made_keeps_its_name(storage):
    assert storage.hashed_name("fonts/missing.woff2") == "fonts/missing.woff2"


def test_any_other_missing_file_is_an_error(storage):
    with pytest.raises(ValueError, match="could not be found"):
        storage.hashed_name("css/missing.css")
