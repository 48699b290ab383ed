"""Photos as phones send them, made here: nobody's house, nobody's camera."""

from __future__ import annotations

import io
import struct
import zlib

import pillow_heif
from PIL import ExifTags, Image

pillow_heif.register_heif_opener()

WIDE = (480, 320)
RED, BLUE = (200, 30, 30), (30, 30, 200)


def picture(size=WIDE):
    """Red on top, blue below: which way is up can be seen."""
    image = Image.new("RGB", size, BLUE)
    image.paste(RED, (0, 0, size[0], size[1] // 2))
    return image


def exif(orientation=1, gps=True):
    """Orientation, moment, camera and place, as a phone writes them."""
    marks = Image.Exif()
    marks[ExifTags.Base.Orientation] = orientation
    marks[ExifTags.Base.Make] = "INVENTED PHONE"
    marks[ExifTags.Base.DateTime] = "2026:11:25 08:15:30"
    details = marks.get_ifd(ExifTags.IFD.Exif)
    details[ExifTags.Base.DateTimeOriginal] = "2026:11:24 16:05:10"
    details[ExifTags.Base.OffsetTimeOriginal] = "+02:00"
    if gps:
        place = marks.get_ifd(ExifTags.IFD.GPSInfo)
        place[ExifTags.GPS.GPSLatitudeRef] = "N"
        place[ExifTags.GPS.GPSLatitude] = (12.0, 34.0, 56.0)
    return marks


def sent(image=None, kind="JPEG", **given):
    stream = io.BytesIO()
    (image or picture()).save(stream, kind, **given)
    return stream.getvalue()


def turned(orientation):
    """A picture stored as a phone held that way stores it (EXIF 2.32, tag 274)."""
    back = {
        1: None,
        3: Image.Transpose.ROTATE_180,
        6: Image.Transpose.ROTATE_90,
        8: Image.Transpose.ROTATE_270,
    }[orientation]
    image = picture()
    stored = image.transpose(back) if back is not None else image
    return sent(stored, exif=exif(orientation))


def private():
    """A JPEG with all that must not be kept: place, camera, comment, XMP."""
    return sent(
        exif=exif(),
        comment=b"SECRET COMMENT",
        xmp=b"<x:xmpmeta xmlns:x='adobe:ns:meta/'>SECRET XMP</x:xmpmeta>",
    )


def bomb(width=20000, height=20000):
    """A PNG of a few kB that says it is enormous."""

    def chunk(kind, body):
        whole = kind + body
        return (
            struct.pack(">I", len(body)) + whole + struct.pack(">I", zlib.crc32(whole))
        )

    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    rows = zlib.compress((b"\0" * (width // 8 + 1)) * 64, 9)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", rows)
        + chunk(b"IEND", b"")
    )


def opened(data):
    image = Image.open(io.BytesIO(data))
    image.load()
    return image


def is_upright(image):
    """Red on top and blue below."""
    top = image.getpixel((image.width // 2, image.height // 6))
    low = image.getpixel((image.width // 2, image.height * 5 // 6))
    return top[0] > 150 > top[2] and low[2] > 150 > low[0]
