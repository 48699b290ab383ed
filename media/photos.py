"""Photos as they come from phones: made upright, sized, stripped of what is private.

Takes the raw bytes of an upload, gives two clean JPEGs and the moment of capture.
"""

from __future__ import annotations

import hashlib
import io
import warnings
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from typing import Any

import pillow_heif
from django.core.files.base import ContentFile
from django.db import IntegrityError, transaction
from django.utils import timezone as clock
from PIL import ExifTags, Image, ImageCms, ImageOps

from jobs import log
from jobs.models import Cost, Job
from media import naming
from media.models import Photo
from shop.models import Person

FORMATS = ("JPEG", "PNG", "WEBP", "HEIF")  # JPEG opens MPO too, which phones send
FORMAT_WORDS = "JPEG, PNG, WEBP or HEIC"
MOST_BYTES = 40 * 1024 * 1024
MOST_PIXELS = 60_000_000  # a 50 megapixel phone fits; what is larger is no site photo
LARGE, SMALL = 1600, 320  # longest side, pixels

pillow_heif.register_heif_opener()


class PhotoRefused(ValueError):
    """What was sent can't be kept as a photo; the words say why and what to do."""


@dataclass(frozen=True, slots=True)
class Developed:
    """large, small: JPEG bytes; width, height: of the large one, pixels
    taken_at: when the camera says it was taken, or None
    """

    large: bytes
    small: bytes
    width: int
    height: int
    taken_at: datetime | None


def develop(raw: bytes) -> Developed:
    """The photo upright, in two sizes, with nothing but its pixels.

    Raises PhotoRefused for what is no photo, damaged or enormous.
    """
    if not raw:
        raise PhotoRefused("The file is empty. Take the photo again.")
    if len(raw) > MOST_BYTES:
        raise PhotoRefused(
            f"The file is {len(raw) / 1e6:.0f} MB. Send one of at most"
            f" {MOST_BYTES / 1e6:.0f} MB."
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            return _developed(raw)
    except PhotoRefused:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as fault:
        raise PhotoRefused(_TOO_LARGE) from fault
    except Image.UnidentifiedImageError as fault:
        raise PhotoRefused(
            f"This is not a photo we can read. Send it as {FORMAT_WORDS}."
        ) from fault
    except Exception as fault:  # decoders raise whatever their bytes drive them to
        raise PhotoRefused(
            "The photo is damaged: it stops or makes no sense inside. Send it again,"
            " or take it again."
        ) from fault


_TOO_LARGE = (
    f"The photo has more than {MOST_PIXELS // 1_000_000} million pixels."
    " Send a smaller one."
)


def _developed(raw: bytes) -> Developed:
    with Image.open(io.BytesIO(raw), formats=FORMATS) as opened:
        if opened.width * opened.height > MOST_PIXELS:
            raise PhotoRefused(_TOO_LARGE)
        taken_at = _taken_at(opened)
        profile = opened.info.get("icc_profile")
        # A JPEG is decoded no larger than it is kept.
        opened.draft("RGB", (LARGE, LARGE))
        upright = ImageOps.exif_transpose(opened)
        upright.thumbnail((LARGE, LARGE), Image.Resampling.LANCZOS)
        clean = _pixels_only(upright, profile)
    small = clean.copy()
    small.thumbnail((SMALL, SMALL), Image.Resampling.LANCZOS)
    return Developed(_jpeg(clean), _jpeg(small), clean.width, clean.height, taken_at)


def _pixels_only(image: Image.Image, profile: bytes | None) -> Image.Image:
    """The same pixels in sRGB on white, in an image that knows nothing else.

    Saving the opened image would carry comments and XMP along.
    """
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        image = image.convert("RGBA")
        ground = Image.new("RGBA", image.size, "white")
        ground.alpha_composite(image)
        image = ground
    if image.mode.startswith("I;16"):
        image = image.point(lambda value: value / 256).convert("L")
    if profile and image.mode in ("RGB", "CMYK"):
        image = _in_srgb(image, profile)
    clean = Image.new("RGB", image.size)
    clean.paste(image.convert("RGB"))
    return clean


def _in_srgb(image: Image.Image, profile: bytes) -> Image.Image:
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        target = ImageCms.createProfile("sRGB")
        return ImageCms.profileToProfile(image, source, target, outputMode="RGB") or (
            image
        )
    except (ImageCms.PyCMSError, OSError):
        return image  # a broken profile costs some colour, not the photo


def _jpeg(image: Image.Image) -> bytes:
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=85, optimize=True)
    return stream.getvalue()


def _taken_at(image: Image.Image) -> datetime | None:
    """The moment of capture: the one private mark that is kept."""
    try:
        exif = image.getexif()
        details = exif.get_ifd(ExifTags.IFD.Exif)
        told = details.get(ExifTags.Base.DateTimeOriginal) or exif.get(
            ExifTags.Base.DateTime
        )
        moment = datetime.strptime(_plain(told), "%Y:%m:%d %H:%M:%S")
        return moment.replace(tzinfo=_zone(details))
    except Exception:  # a camera's notes may hold anything; the photo counts
        return None


def _zone(details: Any) -> Any:
    """The camera's offset from UTC where it says one, else the shop's time zone."""
    said = _plain(details.get(ExifTags.Base.OffsetTimeOriginal) or "")
    if len(said) == 6 and said[0] in "+-" and said[3] == ":":
        away = timedelta(hours=int(said[1:3]), minutes=int(said[4:6]))
        return timezone(away if said[0] == "+" else -away)
    return clock.get_current_timezone()


def _plain(told: Any) -> str:
    return told.strip("\0 ") if isinstance(told, str) else ""


def keep(
    job: Job,
    by: Person,
    raw: bytes,
    *,
    measure: str = "",
    caption: str = "",
    cost: Cost | None = None,
    key: str | None = None,
) -> Photo:
    """Keeps one photo with its event. The same key again gives the one kept first.

    Raises PhotoRefused.
    """
    if key and (earlier := Photo.objects.filter(key=key).first()):
        return earlier
    developed = develop(raw)
    digest = hashlib.sha256(raw).hexdigest()
    photo = Photo(
        job=job,
        measure=measure,
        cost=cost,
        caption=" ".join(caption.split())[:200],
        uploaded_by=by,
        taken_at=developed.taken_at,
        width=developed.width,
        height=developed.height,
        digest=digest,
        key=key,
    )
    large, small = naming.photo_name(digest), naming.photo_name(digest, "-small")
    photo.file.save(large, ContentFile(developed.large), save=False)
    photo.small.save(small, ContentFile(developed.small), save=False)
    try:
        with transaction.atomic():
            photo.save()
            log.write(job, "photo added", by, about=photo.caption or measure)
    except IntegrityError:
        # Sent twice at once: the other one was kept.
        _throw_away(photo)
        earlier = Photo.objects.filter(key=key).first() if key else None
        if earlier is None:
            raise
        return earlier
    except BaseException:
        _throw_away(photo)
        raise
    return photo


def _throw_away(photo: Photo) -> None:
    photo.file.delete(save=False)
    photo.small.delete(save=False)
