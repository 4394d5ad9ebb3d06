"""Runs inside a root, with nothing but Python: a phone at the station's page. Its last line is JSON.

phone.py pair CODE     pair, and keep the cookie in /within/phone.cookies
phone.py begin         begin a cast of the invented materials and molds that come with the station
phone.py give-up       give the cast at the bench up
phone.py state         what is at the bench
phone.py await S       until the page answers, at most S seconds: since when, by the monotonic clock
phone.py watch S       look every 50 ms for S seconds, or until /within/enough is there: the longest time without
                       an answer, and when that began
"""

import http.cookiejar
import json
import os
import re
import sys
import time
import urllib.error
import urllib.parse
import urllib.request

PAGE = "http://127.0.0.1:8060/"
ENOUGH = "/within/enough"
jar = http.cookiejar.LWPCookieJar("/within/phone.cookies")
if os.path.exists(jar.filename):
    jar.load(ignore_discard=True)
browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))


def looked_at(path=""):
    with browser.open(PAGE + path, timeout=5) as answer:
        return answer.read().decode()


def sent(path, **fields):
    """A form, from the station's own page; the page that answers."""
    return _sent(path, urllib.parse.urlencode(fields).encode(), "application/x-www-form-urlencoded")


def sent_with_file(path, field, name, content):
    """A form with one file (multipart/form-data, RFC 7578); the page that answers."""
    head = f'--of-the-trial\r\nContent-Disposition: form-data; name="{field}"; filename="{name}"\r\n\r\n'
    body = head.encode() + content + b"\r\n--of-the-trial--\r\n"
    return _sent(path, body, "multipart/form-data; boundary=of-the-trial")


def _sent(path, body, kind):
    token = re.search(r'name="token" content="([^"]+)"', looked_at("pair"))[1]
    heads = {"Origin": PAGE.rstrip("/"), "Accept": "text/html", "X-Tarebell-Token": token, "Content-Type": kind}
    try:
        with browser.open(urllib.request.Request(PAGE + path, body, heads), timeout=60) as answer:
            said = answer.read().decode()
    except urllib.error.HTTPError as refused:
        words = re.sub(r"<[^>]+>|\s+", " ", refused.read().decode())
        sys.exit(f"{path}: {refused.code} {words}")
    jar.save(ignore_discard=True)
    return said


def at_bench():
    bench = json.loads(looked_at("api/state"))["bench"]
    return None if bench is None else bench["number"]


def answers():
    try:
        looked_at("api/state")
    except OSError:
        return False
    return True


def pair(code):
    sent("pair", code=code, device="phone of the trial")
    return {"paired": True}


def begin():
    sent("api/begin", material="example-silicone", mold="paddle-grip")
    return state()


def give_up():
    sent("api/abort", number=at_bench(), reason="the trial is over")
    return state()


def state():
    scale = json.loads(looked_at("api/state"))["scale"]
    return {"cast": at_bench(), "scale": scale["state"]}


def awaited(most_s):
    ends = time.monotonic() + float(most_s)
    while not answers():
        if time.monotonic() > ends:
            sys.exit(f"no answer within {most_s} s")
        time.sleep(0.02)
    return {"at": time.clock_gettime(time.CLOCK_MONOTONIC)}


def watched(most_s):
    last = began = time.clock_gettime(time.CLOCK_MONOTONIC)
    longest, since = 0.0, 0.0
    while last - began < float(most_s) and not os.path.exists(ENOUGH):
        time.sleep(0.05)
        if answers():
            now = time.clock_gettime(time.CLOCK_MONOTONIC)
            if now - last > longest:
                longest, since = now - last, last
            last = now
        elif time.clock_gettime(time.CLOCK_MONOTONIC) - last > float(most_s):
            break
    return {"longest_s": longest, "since": since}


DOES = {"pair": pair, "begin": begin, "give-up": give_up, "state": state, "await": awaited, "watch": watched}
if __name__ == "__main__":
    print(json.dumps(DOES[sys.argv[1]](*sys.argv[2:])))
