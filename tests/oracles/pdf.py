"""Reads a PDF with pypdf and says what is in it.

In: {"hex": the file}. Out: page sizes in mm, each page's text, bookmarks with their pages, number of links, and the
names of fonts with whether they are embedded.
"""
import io
import json
import sys

from pypdf import PdfReader

reader = PdfReader(io.BytesIO(bytes.fromhex(json.load(sys.stdin)["hex"])), strict=True)


def flat(nodes):
    for node in nodes:
        if isinstance(node, list):
            yield from flat(node)
        else:
            yield [node.title, reader.get_destination_page_number(node)]


fonts = {}
links = 0
for page in reader.pages:
    links += len(page.get("/Annots", []) or [])
    for font in page["/Resources"].get("/Font", {}).values():
        font = font.get_object()
        for below in font.get("/DescendantFonts", []):
            descriptor = below.get_object()["/FontDescriptor"]
            fonts[str(font["/BaseFont"])] = any(k in descriptor for k in ("/FontFile", "/FontFile2", "/FontFile3"))
json.dump(
    {
        "title": reader.metadata.title,
        "sizes": [[float(p.mediabox.width) * 25.4 / 72, float(p.mediabox.height) * 25.4 / 72] for p in reader.pages],
        "texts": [p.extract_text() for p in reader.pages],
        "bookmarks": list(flat(reader.outline)),
        "links": links,
        "fonts": fonts,
        "dates": [str(k) for k in (reader.metadata or {}) if "Date" in str(k)],
    },
    sys.stdout,
)
