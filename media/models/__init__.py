from media.models.documents import Document
from media.models.photos import Photo

__all__ = ["Document", "Photo"]
