"""The form that adds a photo."""

from __future__ import annotations

from django import forms

from recipes.photos import images as photos


def photo_in_words(error: photos.PhotoError) -> str:
    """Why a file is not taken, for the person who chose it."""
    match error:
        case photos.TooLarge():
            if error.counted == "bytes":
                return f"The file is too large: at most {error.most // 1_000_000} MB."
            if error.counted == "pixels":
                return (
                    f"The picture is too large: at most {error.most // 1_000_000} million pixels."
                )
            return (
                "The picture is stored in a way that takes too long to read. "
                "Save it again as a JPEG."
            )
        case photos.TooSmall():
            return f"The picture is too small: each side needs at least {error.least_px} pixels."
        case photos.CarriesMore():
            return "This file contains more than a picture, so it is not accepted."
    return "This is not a photo we can read. Choose a JPEG, PNG or WebP picture."


class PhotoForm(forms.Form):
    """A picture and what it shows. If valid, `picture` is a new JPEG as bytes."""

    use_required_attribute = False
    picture = forms.FileField(
        label="Picture",
        widget=forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
        help_text="JPEG, PNG or WebP, at most 8 MB. It is saved again at up to 1600 pixels, "
        "without the place, time and other data from the camera.",
        error_messages={
            "required": "Choose a picture.",
            "empty": "The file is empty. Choose another.",
        },
    )
    alt = forms.CharField(
        max_length=160,
        label="What it shows",
        help_text="For people who cannot see it: “A cut loaf with an open crumb”.",
        error_messages={"required": "Say what the picture shows."},
    )

    def clean_picture(self) -> bytes:
        file = self.cleaned_data["picture"]
        try:
            if file.size > photos.MOST_BYTES:
                raise photos.TooLarge("bytes", photos.MOST_BYTES)
            return photos.rewritten(file.read())
        except photos.PhotoError as error:
            raise forms.ValidationError(photo_in_words(error), code="photo") from error
