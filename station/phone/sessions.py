"""Sessions that need no right wall clock: a signed cookie without a time stamp.

A board without a battery clock may start days behind. A cookie signed with a time would then come from
the future and count for nothing, and one with an expiry date would be thrown away by the phone. So the
phone is told a span (Max-Age), and the station judges the age of a pairing by its own evidence of time.
"""

from __future__ import annotations

from flask import Flask, Request, Response
from flask.sessions import SecureCookieSession, SessionInterface
from itsdangerous import BadSignature, URLSafeSerializer

COOKIE = "tarebell"
LIVES_S = 30 * 86400


class ClocklessSessions(SessionInterface):
    """Opens and saves the cookie. One that was not signed here opens as an empty session."""

    def open_session(self, app: Flask, request: Request) -> SecureCookieSession:
        """The session of `request`."""
        try:
            said = self._signer(app).loads(request.cookies.get(COOKIE, ""))
        except BadSignature:
            said = None
        return SecureCookieSession(said if isinstance(said, dict) else None)

    def save_session(self, app: Flask, session: object, response: Response) -> None:
        """Send the cookie when something in it has changed."""
        assert isinstance(session, SecureCookieSession)
        if session.modified:
            value = self._signer(app).dumps(dict(session))
            text = value if isinstance(value, str) else value.decode()
            response.set_cookie(COOKIE, text, max_age=LIVES_S, httponly=True, samesite="Strict", path="/")

    def _signer(self, app: Flask) -> URLSafeSerializer:
        assert app.secret_key is not None
        return URLSafeSerializer(app.secret_key, salt="tarebell session")
