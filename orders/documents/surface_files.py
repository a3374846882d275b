"""Triangles as files: STL (binary) and 3MF, in millimetres, every face looking out.

Axes as in orders/reckoning/surface.py: x forward of the pylon's axis, y to the person's left, z up from the apex.
"""

import io
import zipfile
from xml.sax.saxutils import escape

import numpy as np

from orders.documents.shell import MadeShell, no_such_surface
from orders.reckoning.errors import OutOfRange
from orders.reckoning.surface import Mesh, outside_surface, shell_mesh

_FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("unused", "<u2")])
_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_TYPES = """<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" \
ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" \
ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>"""
_START = """<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="model" \
Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel" Target="/3D/3dmodel.model"/></Relationships>"""


def outside_of(shell: MadeShell) -> Mesh:
    """The outside as a closed body, nothing cut."""
    return outside_surface(shell.ordered.outline)


def wall_of(shell: MadeShell) -> Mesh:
    """The shell with its wall, cut to its edges. Raises CannotBeMade."""
    try:
        return shell_mesh(shell.ordered.outline, shell.ordered.wall_mm, shell.ordered.cut)
    except OutOfRange as wrong:
        raise no_such_surface(wrong) from None


def stl_bytes(mesh: Mesh, name: str) -> bytes:
    """A binary STL file. The same mesh gives the same bytes.

    Parameters
    ----------
    mesh : Mesh
        [mm]
    name : str
        Written into the 80 bytes of the header, which has no unit of its own. ASCII.

    Notes
    -----
    80 bytes, the count, then 50 bytes a triangle: normal, three corners, two bytes unused. Corners that are one
    in the mesh are one in the file, to the bit, so that it closes.
    """
    facets = np.zeros(len(mesh.faces), _FACET)
    facets["corners"] = mesh.vertices[mesh.faces]
    a, b, c = (facets["corners"][:, corner].astype(float) for corner in range(3))
    normal = np.cross(b - a, c - a)
    size = np.linalg.norm(normal, axis=1, keepdims=True)
    facets["normal"] = np.divide(normal, size, out=np.zeros_like(normal), where=size > 0)
    # A header that begins with "solid" would be taken for the other, written-out kind of the format.
    header = f"Shankline, mm: {name}".encode("ascii")[:80].ljust(80, b"\0")
    return header + np.uint32(len(facets)).astype("<u4").tobytes() + facets.tobytes()


def three_mf_bytes(mesh: Mesh, name: str) -> bytes:
    """A 3MF file with one object, unit millimetre, by the 3MF core specification. The same mesh gives the same bytes.

    The object keeps its own axes; the build moves it to where no coordinate is negative, as the specification's
    section on the build asks (from memory).
    """
    low = -mesh.vertices.min(axis=0)
    corners = "".join(f'<vertex x="{x:.5f}" y="{y:.5f}" z="{z:.5f}"/>' for x, y, z in mesh.vertices.tolist())
    faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.faces.tolist())
    title = escape(name, {'"': "&quot;"})
    model = (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en" xmlns="{_CORE}">'
        f'<metadata name="Title">{title}</metadata><metadata name="Application">Shankline</metadata>'
        f'<resources><object id="1" type="model" name="{title}"><mesh><vertices>{corners}</vertices>'
        f"<triangles>{faces}</triangles></mesh></object></resources>"
        f'<build><item objectid="1" transform="1 0 0 0 1 0 0 0 1 {low[0]:.5f} {low[1]:.5f} {low[2]:.5f}"/></build>'
        "</model>"
    )
    return _packed({"[Content_Types].xml": _TYPES, "_rels/.rels": _START, "3D/3dmodel.model": model})


def _packed(parts: dict[str, str]) -> bytes:
    """A ZIP of these texts, all of one fixed date."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in parts.items():
            entry = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, text.encode("utf-8"), compresslevel=6)
    return packed.getvalue()
