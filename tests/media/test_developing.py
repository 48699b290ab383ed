"""What a phone sends becomes a clean, upright JPEG, or is refused in words."""

from datetime import UTC, datetime

import pytest
from PIL import Image

from media import photos
from media.photos import PhotoRefused, develop
from tests.media import pictures


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_every_kind_a_phone_sends_is_kept(kind):
    developed = develop(pictures.sent(kind=kind))
    large, small = pictures.opened(developed.large), pictures.opened(developed.small)
    assert large.format == small.format == "JPEG"
    assert (developed.width, developed.height) == large.size == pictures.WIDE
    assert max(small.size) == photos.SMALL
    assert pictures.is_upright(large)


def test_a_photo_with_a_second_picture_behind_it_is_kept():
    raw = pictures.sent(
        kind="MPO", save_all=True, append_images=[pictures.picture((40, 30))]
    )
    assert pictures.is_upright(pictures.opened(develop(raw).large))


@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_photos_are_turned_upright(orientation):
    developed = develop(pictures.turned(orientation))
    assert pictures.is_upright(pictures.opened(developed.large))
    assert pictures.is_upright(pictures.opened(developed.small))


@pytest.mark.parametrize("orientation", [3, 6, 8])
def test_heic_photos_are_turned_upright(orientation):
    stored = pictures.opened(pictures.turned(orientation))
    # As bytes the encoder writes them as the file's own rotation (irot) as well,
    # which is what phones do and what readers go by (ISO 23008-12).
    marks = pictures.exif(orientation).tobytes()
    sent = pictures.sent(stored, "HEIF", exif=marks)
    assert b"irot" in sent
    assert pictures.is_upright(pictures.opened(develop(sent).large))


def test_place_camera_comments_and_other_private_marks_are_gone():
    raw = pictures.private()
    for secret in (b"SECRET COMMENT", b"SECRET XMP", b"INVENTED PHONE"):
        assert secret in raw
    developed = develop(raw)
    for data in (developed.large, developed.small):
        image = pictures.opened(data)
        assert not image.getexif()
        assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        for secret in (b"SECRET", b"INVENTED", b"Exif", b"adobe"):
            assert secret not in data


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "HEIF"])
def test_private_marks_of_other_kinds_are_gone_too(kind):
    developed = develop(pictures.sent(kind=kind, exif=pictures.exif()))
    assert not pictures.opened(developed.large).getexif()
    assert b"INVENTED" not in developed.large


def test_the_moment_of_capture_is_kept_with_its_offset():
    taken = develop(pictures.sent(exif=pictures.exif())).taken_at
    assert taken == datetime(2026, 11, 24, 14, 5, 10, tzinfo=UTC)


def test_a_senseless_moment_is_no_fault():
    marks = pictures.exif()
    marks.get_ifd(0x8769)[0x9003] = "yesterday"
    marks[0x0132] = "0000:00:00 00:00:00"
    assert develop(pictures.sent(exif=marks)).taken_at is None


def test_large_photos_are_made_smaller_and_small_ones_left():
    large = develop(pictures.sent(pictures.picture((4000, 3000))))
    assert (large.width, large.height) == (1600, 1200)
    assert develop(pictures.sent(pictures.picture((40, 30)))).width == 40


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P", "1", "L", "CMYK", "I;16"])
def test_every_colour_mode_is_kept(mode):
    if mode == "I;16":
        image = Image.new(mode, (60, 40), 40000)
    else:
        image = pictures.picture((60, 40)).convert(mode)
    kind = "TIFF" if mode == "I;16" else "JPEG" if mode == "CMYK" else "PNG"
    kind = "PNG" if mode == "I;16" else kind
    assert pictures.opened(develop(pictures.sent(image, kind)).large).mode == "RGB"


def test_what_can_be_seen_through_becomes_white():
    image = Image.new("RGBA", (60, 40), (0, 0, 0, 0))
    large = pictures.opened(develop(pictures.sent(image, "PNG")).large)
    assert min(large.getpixel((30, 20))) > 250


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "HEIF"])
def test_a_truncated_photo_is_refused_in_words(kind):
    raw = pictures.sent(pictures.picture((900, 700)), kind)
    with pytest.raises(PhotoRefused, match="damaged"):
        develop(raw[: len(raw) // 2])


def test_a_bomb_is_refused_in_words_without_being_opened():
    raw = pictures.bomb()
    assert len(raw) < 100_000
    with pytest.raises(PhotoRefused, match="more than 60 million pixels"):
        develop(raw)


def test_just_too_many_pixels_are_refused():
    with pytest.raises(PhotoRefused, match="60 million"):
        develop(pictures.bomb(8000, 8000))


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"", "empty"),
        (b"%PDF-1.7 not a photo", "JPEG, PNG, WEBP or HEIC"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "JPEG, PNG, WEBP or HEIC"),
        (b"GIF89a" + b"\0" * 40, "JPEG, PNG, WEBP or HEIC"),
        (b"\xff" * 50, "JPEG, PNG, WEBP or HEIC"),
    ],
)
def test_what_is_no_photo_is_refused_in_words(raw, words):
    with pytest.raises(PhotoRefused, match=words):
        develop(raw)


def test_an_enormous_file_is_refused_unread():
    with pytest.raises(PhotoRefused, match="at most 42 MB"):
        develop(b"\0" * (photos.MOST_BYTES + 1))


def test_a_broken_colour_profile_is_no_fault():
    raw = pictures.sent(icc_profile=b"no profile at all")
    assert pictures.is_upright(pictures.opened(develop(raw).large))
