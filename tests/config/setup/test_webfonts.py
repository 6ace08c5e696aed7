import pytest

from tools import webfonts

INSTALLED = webfonts._installed()


def test_without_installed_fonts_nothing_is_made(tmp_path, monkeypatch):
    monkeypatch.setattr(webfonts, "FOLDERS", (tmp_path / "nowhere",))

    assert webfonts.build(tmp_path / "fonts") == []
    assert not (tmp_path / "fonts").exists()


@pytest.fixture(scope="module")
def fonts(tmp_path_factory):
    from fontTools.ttLib import TTFont

    assert set(INSTALLED) == set(webfonts.SOURCES.values()), "make setup installs both fonts"
    folder = tmp_path_factory.mktemp("fonts")
    made = webfonts.build(folder)
    assert made == list(webfonts.SOURCES)
    return {name: TTFont(folder / name) for name in made} | {"folder": folder}


@pytest.mark.parametrize("name", webfonts.SOURCES)
def test_a_web_font_is_small_and_keeps_its_figures(fonts, name):
    font = fonts[name]
    features = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}

    assert (fonts["folder"] / name).stat().st_size < 100_000
    assert {"tnum", "lnum", "frac"} <= features
    assert {ord(sign) for sign in "0123456789gé°½¼×–’→"} <= set(font.getBestCmap())


@pytest.mark.parametrize("name", webfonts.SOURCES)
def test_a_cut_font_bears_a_neutral_name_and_its_license(fonts, name):
    names = fonts[name]["name"]

    for name_id in (1, 3, 4, 6, 16):
        assert "Vollkorn" not in (names.getDebugName(name_id) or "")
        assert "Lato" not in (names.getDebugName(name_id) or "")
    assert "Open Font License" in names.getDebugName(13)


def test_fonts_already_there_are_left_alone(fonts):
    assert webfonts.build(fonts["folder"]) == []
