from __future__ import annotations

import json

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from layout import drawn, stored
from layout.access import laid_for, laid_of_piece, layout_for
from layout.folding.fold_file import fold_file
from layout.models import LaidPiece

SVG = "image/svg+xml"
kept_by_the_browser = cache_control(private=True, max_age=3600)


@require_safe
@kept_by_the_browser
def laid_svg(request: HttpRequest, pk: int, view: str) -> HttpResponse:
    """A laid piece never changes, so its drawings may be kept."""
    laid = laid_for(request.user, pk)
    return HttpResponse(drawn.piece_view(laid, view), content_type=SVG)


@require_safe
@kept_by_the_browser
def laid_fold(request: HttpRequest, pk: int) -> HttpResponse:
    return _fold(laid_for(request.user, pk))


@require_safe
@kept_by_the_browser
def laid_dxf(request: HttpRequest, pk: int) -> HttpResponse:
    # The drawing library is heavy; it is fetched only where asked for.
    from layout.drawing.piece_files import piece_dxf

    laid = laid_for(request.user, pk)
    made = piece_dxf(stored.laid_piece(laid))
    return _named(HttpResponse(made, content_type="image/vnd.dxf"), laid, "dxf")


@require_safe
def piece_drawing(request: HttpRequest, pk: int) -> HttpResponse:
    """What a piece is made from now; a new layout changes it."""
    view = request.GET.get("view", "flat")
    laid = laid_of_piece(request.user, pk)
    return HttpResponse(drawn.piece_view(laid, view), content_type=SVG)


@require_safe
def piece_fold(request: HttpRequest, pk: int) -> HttpResponse:
    return _fold(laid_of_piece(request.user, pk))


@require_safe
@kept_by_the_browser
def key_plan(request: HttpRequest, pk: int) -> HttpResponse:
    layout = layout_for(request.user, pk)
    if not layout.frame:
        raise Http404("This layout holds no set.")
    return HttpResponse(drawn.key_plan(layout), content_type=SVG)


def _fold(laid: LaidPiece) -> HttpResponse:
    made = json.dumps(fold_file(stored.laid_piece(laid)), ensure_ascii=False)
    return _named(HttpResponse(made, content_type="application/json"), laid, "fold")


def _named(response: HttpResponse, laid: LaidPiece, ending: str) -> HttpResponse:
    """A name that says which job and layout it belongs to, for who saves it."""
    layout = laid.layout
    name = f"job-{layout.job.number}-layout-{layout.number}-{laid.mark}.{ending}"
    response["Content-Disposition"] = f'inline; filename="{name}"'
    return response
