"""A process that makes nothing, for the desk of exports: it hangs, dies, or refuses, as its job says."""

import json
import os
import signal
import sys

WHAT = json.loads(sys.argv[1])["version"]
if WHAT == "dies":
    os._exit(7)
if WHAT == "refuses":
    sys.stderr.write(json.dumps({"refused": "The card is full.", "hint": "Make room.", "kind": "LedgerFault"}) + "\n")
    sys.exit(0)
sys.stderr.write(json.dumps({"casts": 42}) + "\nsomething that is no JSON\n")
sys.stderr.flush()
signal.pause()
