"""Reads DXF files with ezdxf, audits them, and says what is in them.

In: {"files": [text, ...]}. Out: for each, errors, fixes, units, layers, and its entities: closed polylines with
their corners, circles with centre and radius, lines, texts.
"""
import io
import json
import sys

import ezdxf

answer = []
for text in json.load(sys.stdin)["files"]:
    doc = ezdxf.read(io.StringIO(text.replace("\r\n", "\n")))
    audit = doc.audit()
    space = doc.modelspace()
    answer.append(
        {
            "version": doc.dxfversion,
            "errors": [str(e.message) for e in audit.errors],
            "fixes": [str(e.message) for e in audit.fixes],
            "units": doc.header.get("$INSUNITS"),
            "measurement": doc.header.get("$MEASUREMENT"),
            "layers": sorted(layer.dxf.name for layer in doc.layers),
            "polylines": [
                {
                    "layer": e.dxf.layer,
                    "closed": e.is_closed,
                    "points": [[p.x, p.y] for p in e.points()],
                }
                for e in space.query("POLYLINE")
            ],
            "circles": [
                {"layer": e.dxf.layer, "at": [e.dxf.center.x, e.dxf.center.y], "radius": e.dxf.radius}
                for e in space.query("CIRCLE")
            ],
            "lines": len(space.query("LINE")),
            "texts": [e.dxf.text for e in space.query("TEXT")],
        }
    )
json.dump(answer, sys.stdout)
