"""Garden and shops: what can be cut for nothing, what the shops have, and their price lists."""

from __future__ import annotations

from urllib.parse import quote

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import price_lists
from nejime.web.answering import shelf_of
from nejime.web.keeping import all_of, routes

PLACE, KINDS = "places", ("garden", "shop")


async def bring_in(request: Request) -> Response:
    """The shops of a price list; what became of each, or everything that is wrong."""
    name, data = "", b""
    async with request.form() as form:
        upload = form.get("file")
        if isinstance(upload, UploadFile) and upload.filename:
            name, data = upload.filename, await upload.read()
    try:
        brought = price_lists.bring_in(shelf_of(request), name, data)
    except InputError as trouble:
        return all_of(request, PLACE, KINDS, 422, faults=trouble.faults, file_name=name)
    return all_of(request, PLACE, KINDS, brought=brought)


def prices(request: Request) -> Response:
    """The price list of all shops, or of one."""
    return _file(*price_lists.price_list(shelf_of(request), request.path_params.get("number")))


def empty(request: Request) -> Response:
    """A price list to fill in."""
    return _file(*price_lists.empty(shelf_of(request)))


def _file(name: str, text: bytes) -> Response:
    told = f"attachment; filename*=UTF-8''{quote(name)}"
    return Response(text, media_type="text/csv", headers={"Content-Disposition": told})


ROUTES = [
    Route("/places/prices", prices),
    Route("/places/prices", bring_in, methods=["POST"]),
    Route("/places/prices/empty", empty),
    Route("/places/prices/{number:int}", prices),
    *routes(PLACE, KINDS),
]
