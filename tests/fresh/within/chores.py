"""Runs inside a root, with nothing but Python: what the unit's limits could hinder, asked of the page by a phone.

    chores.py photo NUMBER    a photo is added to that cast
    chores.py mesh            a mesh is measured
    chores.py message         a message is sent, to this computer itself
    chores.py backup          a backup is made

Each ends with JSON, and with an exit code other than 0 when the page refuses.
"""

import http.server
import json
import re
import struct
import sys
import threading
import zlib

from phone import looked_at, sent, sent_with_file

SIDE = 64


def picture():
    """A grey square, PNG (ISO/IEC 15948)."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", SIDE, SIDE, 8, 0, 0, 0, 0)
    rows = (b"\0" + bytes(range(0, 4 * SIDE, 4))) * SIDE
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def photo(number):
    sent_with_file(f"photos?number={number}", "photo", "square.png", picture())
    return {"photos": len(set(re.findall(r"/log/\d+/photos/(\w+)\.jpg", looked_at(f"log/{number}"))))}


def mesh():
    corners = {"o": "0 0 0", "x": "30 0 0", "y": "0 30 0", "z": "0 0 30"}
    faces = "".join(
        "facet normal 0 0 0\nouter loop\n"
        + "".join(f"vertex {corners[each]}\n" for each in face)
        + "endloop\nendfacet\n"
        for face in ("oyx", "oxz", "ozy", "xyz")
    )
    page = sent_with_file("positive", "mesh", "corner.stl", f"solid corner\n{faces}endsolid corner\n".encode())
    return {"facets": int(re.search(r"(\d+) facets", page)[1])}


def message():
    heard = []

    class Target(http.server.BaseHTTPRequestHandler):
        def do_POST(self):
            heard.append(self.rfile.read(int(self.headers["Content-Length"])))
            self.send_response(200)
            self.end_headers()

        def log_message(self, *_):
            pass

    with http.server.ThreadingHTTPServer(("127.0.0.1", 4002), Target) as target:
        threading.Thread(target=target.serve_forever, daemon=True).start()
        page = sent("push/add", address="json://127.0.0.1:4002/")
        key = re.search(r'name="key" value="([^"]+)"', page)[1]
        sent("push/test", key=key)
        sent("push/remove", key=key)
        target.shutdown()
    return {"heard": len(heard)}


def backup():
    sent("record/backup")
    return {"made": True}


DOES = {"photo": photo, "mesh": mesh, "message": message, "backup": backup}
print(json.dumps(DOES[sys.argv[1]](*sys.argv[2:])))
