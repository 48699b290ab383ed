from __future__ import annotations

from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from layout.measures import BY_NAME
from media.models import Photo
from media.models.photos import PhotoQuerySet

MOST_AT_ONCE = 20


class ManyFiles(forms.ClearableFileInput):
    allow_multiple_selected = True


class Photos(forms.FileField):
    """One photo or several; each is judged on its own later."""

    widget = ManyFiles

    def clean(self, data: Any, initial: Any = None) -> list[UploadedFile]:
        sent = list(data) if isinstance(data, list | tuple) else [data]
        sent = [file for file in sent if file]
        if not sent:
            raise forms.ValidationError("Choose a photo, or take one.")
        if len(sent) > MOST_AT_ONCE:
            raise forms.ValidationError(
                f"{len(sent)} photos were chosen. Send at most {MOST_AT_ONCE} at once."
            )
        return sent


class PhotoForm(forms.Form):
    photos = Photos(
        label="Photos",
        widget=ManyFiles(attrs={"accept": "image/*,.heic,.heif", "multiple": True}),
    )
    measure = forms.ChoiceField(label="Of which measure", required=False)
    caption = forms.CharField(label="What it shows", max_length=200, required=False)
    key = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["measure"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = [("", "no measure of its own"), *measure_choices()]


def measure_choices() -> list[tuple[str, str]]:
    """Path in the site record -> what the sheet calls it."""
    return [(measure.name, measure.title_alone) for measure in BY_NAME.values()]


class PapersForm(forms.Form):
    paper = forms.ChoiceField(
        required=False, choices=[("", ""), ("letter", "Letter"), ("a4", "A4")]
    )
    key = forms.CharField(max_length=64, required=False)


class PhotoChoice(forms.ModelMultipleChoiceField):
    widget = forms.CheckboxSelectMultiple

    def label_from_instance(self, obj: Any) -> str:
        return str(obj.words())


class HandOverForm(forms.Form):
    """Which photos go on the hand-over paper, and what was done otherwise."""

    before = PhotoChoice(Photo.objects.none(), required=False, label="Before")
    after = PhotoChoice(Photo.objects.none(), required=False, label="After")
    differs = forms.CharField(
        label="Otherwise than quoted",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="In a sentence or two, if anything is.",
    )
    key = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, photos: PhotoQuerySet, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("before", "after"):
            field = self.fields[name]
            assert isinstance(field, PhotoChoice)
            field.queryset = photos

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        both = set(cleaned.get("before") or ()) & set(cleaned.get("after") or ())
        for photo in both:
            self.add_error(
                "after", f"“{photo.words()}” is chosen before and after. Choose one."
            )
        return cleaned
