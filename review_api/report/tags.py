"""What the renderer leaves to do in a tagged PDF: row headers, and the field that the seal will fill."""

from __future__ import annotations

from io import BytesIO

import pikepdf
from pikepdf import Array, Dictionary, Name, String

FIELD = "Seal"
"""Name of the signature field; a sealed document has this one and no other."""


def finish(pdf: bytes, *, field_words: str | None) -> bytes:
    """The PDF with its row headers tagged, and with an empty signature field when it is to be sealed.

    `field_words` is what assistive technology says of the field; None: no field. The result depends on
    the input alone.
    """
    with pikepdf.open(BytesIO(pdf)) as document:
        _tag_row_headers(document.Root.StructTreeRoot)
        if field_words is not None:
            _add_field(document, field_words)
        out = BytesIO()
        document.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.preserve)
    return out.getvalue()


def _children(element: pikepdf.Object) -> list[pikepdf.Object]:
    inner = element.get("/K")
    if inner is None:
        return []
    parts = list(inner) if isinstance(inner, Array) else [inner]
    return [part for part in parts if isinstance(part, Dictionary) and "/S" in part]


def _is(element: pikepdf.Object, kind: str) -> bool:
    return bool(f"/{kind}" == element.S)


def _tag_row_headers(root: pikepdf.Object) -> None:
    waiting = _children(root)
    while waiting:
        element = waiting.pop()
        if _is(element, "Table"):
            for row in _rows(element):
                _make_header(row)
        waiting.extend(_children(element))


def _rows(table: pikepdf.Object) -> list[pikepdf.Object]:
    rows = []
    for part in _children(table):
        if _is(part, "TR"):
            rows.append(part)
        elif _is(part, "TBody"):
            rows.extend(row for row in _children(part) if _is(row, "TR"))
    return rows


def _make_header(row: pikepdf.Object) -> None:
    cells = _children(row)
    if not cells or not _is(cells[0], "TD"):
        return
    cell = cells[0]
    cell.S = Name.TH
    given = cell.get("/A")
    attributes = list(given) if isinstance(given, Array) else [given] if given is not None else []
    for attribute in attributes:
        if attribute.get("/O") == Name.Table:
            attribute.Scope = Name.Row
            break
    else:
        attributes.append(Dictionary(O=Name.Table, Scope=Name.Row))
    cell.A = Array(attributes)


def _add_field(document: pikepdf.Pdf, words: str) -> None:
    """An empty, invisible, tagged signature field on the last page: a rectangle of no size, printable."""
    page = document.pages[-1].obj
    tree = document.Root.StructTreeRoot
    key = int(tree.ParentTreeNextKey)
    field = document.make_indirect(
        Dictionary(
            Type=Name.Annot,
            Subtype=Name.Widget,
            FT=Name.Sig,
            T=String(FIELD),
            TU=String(words),
            Contents=String(words),
            Rect=Array([0, 0, 0, 0]),
            F=132,  # print, locked
            P=page,
            StructParent=key,
        )
    )
    top = _children(tree)[0]
    form = document.make_indirect(
        Dictionary(
            Type=Name.StructElem,
            S=Name.Form,
            P=top,
            Alt=String(words),
            Pg=page,
            K=Dictionary(Type=Name.OBJR, Obj=field, Pg=page),
        )
    )
    inner = top.K
    top.K = Array([*(list(inner) if isinstance(inner, Array) else [inner]), form])
    _file_under(tree, key, form)
    page.Annots = Array([*list(page.get("/Annots", Array())), field])
    page.Tabs = Name.S
    document.Root.AcroForm = document.make_indirect(Dictionary(Fields=Array([field]), SigFlags=0))


def _file_under(tree: pikepdf.Object, key: int, element: pikepdf.Object) -> None:
    """Puts `element` at `key` into the structure's parent tree; keys grow, so it goes last."""
    node = tree.ParentTree
    while "/Kids" in node:
        if "/Limits" in node:
            node.Limits[1] = key
        node = node.Kids[-1]
    if "/Limits" in node:
        node.Limits[1] = key
    node.Nums = Array([*list(node.get("/Nums", Array())), key, element])
    tree.ParentTreeNextKey = key + 1
